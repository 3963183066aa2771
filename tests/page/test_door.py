"""Nobody is let in but this machine's own browser, by the address the command shows."""

import re

import pytest

from tests.page.browsing import HERE, PORT

PLACES = ("/", "/plan", "/mat", "/drawer", "/orders", "/quote", "/diary", "/plan/now")


@pytest.mark.parametrize("path", PLACES)
def test_without_the_address_no_place_opens(strange, path):
    client, _ = strange
    answer = client.get(path, base_url=HERE)
    assert answer.status_code == 403
    assert "Tern Point" not in answer.get_data(as_text=True)


def test_a_wrong_token_is_refused_and_hands_out_nothing(strange):
    client, door = strange
    answer = client.get(f"/enter/{door.token[:-1]}x", base_url=HERE)
    assert answer.status_code == 403
    assert "Set-Cookie" not in answer.headers


def test_the_token_hands_out_a_cookie_that_scripts_and_other_sites_cannot_use(strange):
    client, door = strange
    answer = client.get(f"/enter/{door.token}", base_url=HERE)
    cookie = answer.headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert door.token not in cookie


@pytest.mark.parametrize("host", ["studio.example", f"evil.example:{PORT}", "127.0.0.1:1", "[::1]"])
def test_a_foreign_host_is_refused_even_with_the_token(strange, host):
    """A name that was pointed at this machine must not read the page: DNS rebinding."""
    client, door = strange
    answer = client.get(f"/enter/{door.token}", base_url=f"http://{host}")
    assert answer.status_code == 403
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:1", ""])
def test_a_form_from_another_page_changes_nothing(browsing, origin):
    before = browsing.get("/diary").get_data(as_text=True).count("<li>")
    answer = browsing.client.post(
        "/orders/remove", base_url=HERE, data={"line": "D01"}, headers={"Origin": origin}
    )
    assert answer.status_code == 403
    assert browsing.get("/diary").get_data(as_text=True).count("<li>") == before


def test_a_form_without_an_origin_changes_nothing(browsing):
    answer = browsing.client.post("/diary/undo", base_url=HERE, data={"entry": "1"})
    assert answer.status_code == 403


def test_a_form_said_to_be_cross_site_changes_nothing(browsing):
    headers = {"Origin": HERE, "Sec-Fetch-Site": "cross-site"}
    answer = browsing.client.post("/plan/start", base_url=HERE, headers=headers)
    assert answer.status_code == 403


def test_changes_are_no_addresses(browsing):
    for path in ("/orders/add", "/orders/remove", "/diary/undo", "/plan/start", "/begin"):
        assert browsing.get(path).status_code == 405


@pytest.mark.parametrize("path", PLACES[1:-1])
def test_scripts_run_only_with_a_nonce_that_is_new_each_time(browsing, path):
    policies = [browsing.get(path).headers["Content-Security-Policy"] for _ in range(2)]
    nonces = [re.search(r"script-src 'nonce-([^']+)'", one)[1] for one in policies]
    assert nonces[0] != nonces[1]
    assert "unsafe" not in policies[0]
    assert "default-src 'none'" in policies[0]
    page = browsing.get(path).get_data(as_text=True)
    assert not re.search(r"\son\w+=|\sstyle=|javascript:", page)
    assert all("nonce=" in tag for tag in re.findall(r"<(?:script|style)[^>]*>", page))


@pytest.mark.parametrize(
    "path", ["/static/../app.py", "/static/%2e%2e/app.py", "/static/%2fetc/passwd"]
)
def test_no_file_outside_is_served(browsing, path):
    answer = browsing.client.get(path, base_url=HERE, follow_redirects=True)
    assert answer.status_code == 404


def test_what_is_far_too_large_is_not_read(browsing):
    answer = browsing.post("/orders/add", order="x" * (13 * 1024 * 1024))
    assert answer.status_code == 413
