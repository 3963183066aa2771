"""What holds of every address of the page, of tomorrow's too: the page is asked for them.

A new place is tested here without a line; only a new kind of word in an address needs one.
"""

import hashlib
import re
from pathlib import Path
from urllib.parse import quote

import pytest

from sheetcut.page.app import create_app
from sheetcut.page.door import LARGEST_UPLOAD, Door
from tests.page.browsing import HERE, PORT, forms_of

RULES = tuple(create_app(Path("nowhere"), Door(PORT)).url_map.iter_rules())
GETS = sorted({rule.rule for rule in RULES if "GET" in rule.methods})
POSTS = sorted({rule.rule for rule in RULES if "POST" in rule.methods})
OPEN = ("/enter/<token>", "/static/<path:filename>")  # asked before anybody is let in
ENDS = ("/close", "/plan/start", "/plan/will-do", "/plan/further")  # begin or end a process
WORDS = {"pages": "pin-up", "filename": "page.css", "token": "x"}
ANY_WORDS = {"client", "piece", "note", "name", "order", "sheet", "batch"}
EVIL = "\"'><script>alert(1)</script><img src=x onerror=alert(2)>{{7*7}}"
OUTSIDE = (
    "../../../../etc/passwd",
    "..%2f..%2f..%2f..%2fetc%2fpasswd",
    "%2e%2e/%2e%2e/%2e%2e/etc/passwd",
    "/etc/passwd",
    "%2fetc%2fpasswd",
    "..\\..\\windows\\win.ini",
    "studio.sqlite",
    "page.css%00.svg",
)


def address(rule, plan):
    """Return a rule as an address that is really there."""

    def filled(match):
        kind, name = match[1] or "string", match[2]
        if kind.startswith("any("):
            return kind.removeprefix("any(").split(",")[0].rstrip(")")
        if kind.startswith("int"):
            return "1"
        return {"code": plan.code, **WORDS}[name]

    return re.sub(r"<(?:([^:<>]+):)?([^<>]+)>", filled, rule)


def print_of(folder):
    """Return what tells a studio's files from the same files changed."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.fixture
def unchanged(browsing):
    """Hold that whatever a test sends, no file of the studio is another afterwards."""
    before = print_of(browsing.folder)
    yield
    assert print_of(browsing.folder) == before
    assert not browsing.client.application.extensions["planner"].progress.is_running
    assert not browsing.client.application.extensions["closed"].is_set()


def test_there_are_as_many_routes_as_ever():
    assert len(GETS) > 20
    assert len(POSTS) > 20


def test_no_address_opens_to_who_was_not_let_in(strange, demo_plan, studio):
    client, _ = strange
    before = print_of(studio)
    for rule in GETS:
        if rule in OPEN:
            continue
        answer = client.get(address(rule, demo_plan), base_url=HERE)
        assert answer.status_code == 403, rule
        assert "Tern Point" not in answer.get_data(as_text=True), rule
    for rule in POSTS:
        path = address(rule, demo_plan)
        answer = client.post(path, base_url=HERE, headers={"Origin": HERE})
        assert answer.status_code == 403, rule
    assert print_of(studio) == before


def test_no_foreign_host_is_answered(browsing, demo_plan, unchanged):
    """With the cookie, too: a name pointed at this machine would carry its own, not ours."""
    client = browsing.client
    cookie = client.get_cookie(f"sheetcut-{PORT}", domain="127.0.0.1").value
    for host in (f"evil.example:{PORT}", f"127.0.0.1.evil.example:{PORT}", "127.0.0.1", "[::1]"):
        headers = {"Cookie": f"sheetcut-{PORT}={cookie}", "Origin": f"http://{host}"}
        for rule in (*GETS, *POSTS):
            ask = client.get if rule in GETS else client.post
            answer = ask(address(rule, demo_plan), base_url=f"http://{host}", headers=headers)
            assert answer.status_code == 403, (rule, host)


def test_nothing_is_done_that_another_page_sent(browsing, demo_plan, unchanged):
    other = (
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": f"http://localhost:{PORT}"},
        {"Origin": f"https://127.0.0.1:{PORT}"},
        {"Origin": HERE, "Sec-Fetch-Site": "cross-site"},
        {},
    )
    for rule in POSTS:
        for headers in other:
            path = address(rule, demo_plan)
            answer = browsing.client.post(path, base_url=HERE, headers=headers)
            assert answer.status_code == 403, (rule, headers)


def test_to_look_changes_nothing(browsing, demo_plan, unchanged):
    for rule in GETS:
        for ask in (browsing.client.get, browsing.client.head, browsing.client.options):
            with ask(address(rule, demo_plan), base_url=HERE) as answer:
                assert answer.status_code < 500, rule
    for rule in set(POSTS) - set(GETS):
        assert browsing.get(address(rule, demo_plan)).status_code in (404, 405), rule
    for rule in POSTS:
        path = address(rule, demo_plan)
        for ask in (browsing.client.put, browsing.client.delete, browsing.client.patch):
            assert ask(path, base_url=HERE, headers={"Origin": HERE}).status_code in (404, 405)


def test_every_answer_is_sealed(browsing, demo_plan):
    for rule in (*GETS, "/nothing/here"):
        answer = browsing.get(address(rule, demo_plan))
        policy = answer.headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy, rule
        assert "unsafe" not in policy, rule
        assert answer.headers["X-Content-Type-Options"] == "nosniff", rule
        assert answer.headers["Cache-Control"] == "no-store", rule
        if answer.mimetype == "text/html":
            page = answer.get_data(as_text=True)
            assert not re.search(r"<[^>]*\s(?:on\w+|style)=|javascript:", page), rule
            tags = re.findall(r"<(?:script|style|link rel=\"stylesheet\")[^>]*>", page)
            assert all("nonce=" in tag for tag in tags), rule
            assert not re.search(r'(?:src|href|action)="(?:https?:)?//', page), rule
        answer.close()


def test_no_word_in_an_address_leads_outside(browsing, demo_plan, unchanged):
    for rule in GETS:
        for word in OUTSIDE:
            path = re.sub(r"<(?!int)[^<>]+>", word.replace("\\", r"\\"), rule)
            if "<" not in rule or path == rule:
                continue
            asked = address(path, demo_plan)
            answer = browsing.client.get(asked, base_url=HERE, follow_redirects=True)
            assert answer.status_code in (400, 403, 404), (rule, word)
            assert b"root:" not in answer.data


def test_what_is_far_too_large_is_not_read_anywhere(browsing, demo_plan, unchanged):
    large = b"x" * (LARGEST_UPLOAD + 1)
    for rule in POSTS:
        if rule in ENDS:
            continue
        answer = browsing.client.post(
            address(rule, demo_plan), base_url=HERE, headers={"Origin": HERE}, data=large,
            content_type="application/x-www-form-urlencoded",
        )  # fmt: skip
        # 303: a place that has nothing in hand looks at no form.
        assert answer.status_code in (303, 403, 404, 409, 413), rule


def test_a_form_of_very_many_parts_is_not_read(browsing, unchanged):
    parts = "".join(
        f'--b\r\nContent-Disposition: form-data; name="f{n}"\r\n\r\nx\r\n' for n in range(5000)
    )
    answer = browsing.client.post(
        "/exchange/choose", base_url=HERE, headers={"Origin": HERE}, data=f"{parts}--b--",
        content_type="multipart/form-data; boundary=b",
    )  # fmt: skip
    assert answer.status_code == 413


def test_script_in_any_field_of_any_form_stays_text(browsing, demo_plan):
    """All that somebody types in, refused together; and what may be any words, taken."""
    pages = [address(rule, demo_plan) for rule in GETS if rule not in OPEN]
    pages += ["/orders?order=D02", "/drawer?sheet=HP-IMP", "/quote?size=A4&paper=Marram+Rag"]
    seen, tried = set(), 0
    for page in pages:
        answer = browsing.get(page)
        if answer.mimetype != "text/html":
            continue
        for form in forms_of(answer):
            action = form.action or page
            if action in ENDS or (action, *sorted(form.typed)) in seen:
                continue
            seen.add((action, *sorted(form.typed)))
            for names in filter(None, (form.typed & ANY_WORDS, form.typed)):
                said = _sent(browsing, form, action, dict.fromkeys(names, EVIL))
                assert "<script>alert" not in said, (page, action, names)
                assert "<img src=x" not in said, (page, action, names)
                tried += 1
    assert tried > 12
    for page in pages:
        answer = browsing.get(page)
        if answer.mimetype == "text/html":
            assert "<script>alert" not in answer.get_data(as_text=True), page


def _sent(browsing, form, action, typed):
    if form.method.lower() == "get":
        asked = "&".join(f"{quote(n)}={quote(v)}" for n, v in (form.fields | typed).items())
        answer = browsing.get(f"{action.split('?')[0]}?{asked}")
    else:
        answer = browsing.post(action, **(form.fields | typed))
    assert answer.status_code < 500, (action, typed)
    if answer.status_code == 303:
        answer = browsing.get(answer.location)
    return answer.get_data(as_text=True)


def test_script_in_a_file_that_is_chosen_stays_text(browsing):
    for table in ("orders", "drawer"):
        copy = browsing.get(f"/exchange/{table}.csv").data
        word = b"Pascoe-Vane" if table == "orders" else b"Imperial"
        evil = b"<script>alert(1)</script>"
        browsing.choose(table, "<script>alert(1)<.csv", copy.replace(word, evil))
        page = browsing.get("/exchange/chosen").get_data(as_text=True)
        assert "&lt;script&gt;alert(1)" in page
        assert "<script>alert" not in page
