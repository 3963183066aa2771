"""A tablet is let in by a code, once, at one address; without the option nothing answers there."""

import re
import socket
from threading import Thread
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from sheetcut.page import serving
from sheetcut.page.app import create_app
from sheetcut.page.door import Door
from sheetcut.page.pairing import MOST_TRIES, Pairing
from sheetcut.page.serving import NoNetwork, network_address
from tests.page.browsing import HERE, PORT

AWAY = "192.168.7.20"  # RFC 1918: private, and never asked in these tests
HOST = f"{AWAY}:{PORT}"
THERE = f"http://{HOST}"
TABLET = {"REMOTE_ADDR": "192.168.7.31"}


@pytest.fixture
def door():
    """Return a door that lets tablets in."""
    return Door(PORT, pairing=Pairing(HOST))


@pytest.fixture
def app(studio, door):
    """Return a page that is served to a tablet, too."""
    return create_app(studio, door)


@pytest.fixture
def computer(app, door):
    """Return the browser of the computer itself."""
    client = app.test_client()
    assert client.get(f"/enter/{door.token}", base_url=HERE).status_code == 303
    return client


@pytest.fixture
def tablet(app):
    """Return the browser of a tablet that was not let in."""
    return app.test_client()


def asked(client, path, **options):
    """Ask from the tablet's place in the network."""
    return client.get(path, base_url=THERE, environ_base=TABLET, **options)


def typed(client, code, origin=THERE):
    """Type a code on the tablet."""
    return client.post(
        "/pair", base_url=THERE, environ_base=TABLET, data={"code": code},
        headers={"Origin": origin},
    )  # fmt: skip


def shown(computer):
    """Return the code that the computer shows."""
    page = computer.get("/tablet", base_url=HERE).get_data(as_text=True)
    return re.search(r">(\d{3} \d{3})<", page)[1]


def test_a_tablet_types_the_code_and_is_in(computer, tablet):
    first = asked(tablet, "/plan")
    assert first.status_code == 403
    assert "Which code" in first.get_data(as_text=True)
    assert "Tern Point" not in first.get_data(as_text=True)
    answer = typed(tablet, shown(computer))
    assert answer.status_code == 303
    assert "HttpOnly" in answer.headers["Set-Cookie"]
    assert "SameSite=Strict" in answer.headers["Set-Cookie"]
    assert "Tern Point" in asked(tablet, "/mat").get_data(as_text=True)


def test_a_code_lets_one_in_and_no_more(computer, tablet, app):
    code = shown(computer)
    typed(tablet, code)
    second = app.test_client()
    assert typed(second, code).status_code == 403
    assert asked(second, "/plan").status_code == 403
    computer.post("/tablet/new", base_url=HERE, headers={"Origin": HERE})
    assert typed(second, shown(computer)).status_code == 303


def test_five_wrong_codes_and_the_code_is_gone(computer, tablet, door):
    code = shown(computer)
    wrong = "000000" if code != "000 000" else "111111"
    for _ in range(MOST_TRIES):
        answer = typed(tablet, wrong)
        assert answer.status_code == 403
    assert answer.get_data(as_text=True).count("That code is used up") == 1
    assert typed(tablet, code).status_code == 403
    assert "computer show a new one" in typed(tablet, code).get_data(as_text=True)
    assert "Five wrong codes" in computer.get("/tablet", base_url=HERE).get_data(as_text=True)
    assert door.pairing.let_in == 0


@pytest.mark.parametrize("code", ["", " ", "x" * 10_000, "４８２９１３", "\x00"])
def test_what_is_no_code_lets_nobody_in(tablet, code):
    assert typed(tablet, code).status_code == 403


def test_no_used_or_empty_code_is_a_code(computer, tablet, app):
    typed(tablet, shown(computer))
    assert typed(app.test_client(), "").status_code == 403


def test_another_page_cannot_type_the_code(computer, tablet):
    assert typed(tablet, shown(computer), origin="http://evil.example").status_code == 403
    assert typed(tablet, shown(computer), origin="null").status_code == 403


def test_a_tablet_sees_neither_the_code_nor_the_end(computer, tablet):
    typed(tablet, shown(computer))
    assert asked(tablet, "/tablet").status_code == 404
    for path in ("/tablet/new", "/tablet/forget", "/close"):
        answer = tablet.post(path, base_url=THERE, environ_base=TABLET, headers={"Origin": THERE})
        assert answer.status_code == 404, path
    assert "Close</button>" not in asked(tablet, "/plan").get_data(as_text=True)


def test_the_computer_can_let_no_tablet_in_any_more(computer, tablet):
    typed(tablet, shown(computer))
    computer.post("/tablet/forget", base_url=HERE, headers={"Origin": HERE})
    assert asked(tablet, "/plan").status_code == 403
    assert computer.get("/plan", base_url=HERE).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        f"evil.example:{PORT}",
        AWAY,
        f"{AWAY}:1",
        f"192.168.7.21:{PORT}",
        f"{AWAY}.evil.example:{PORT}",
    ],
)
def test_a_tablet_may_name_that_one_address_only(computer, tablet, host):
    typed(tablet, shown(computer))
    answer = tablet.get("/plan", base_url=f"http://{host}", environ_base=TABLET)
    assert answer.status_code == 403


def test_a_tablet_cannot_claim_to_be_this_machine(app, door):
    """The host is only a word in the request; where it came from is not."""
    stranger = app.test_client()
    answer = stranger.get(f"/enter/{door.token}", base_url=HERE, environ_base=TABLET)
    assert answer.status_code == 403
    assert "Set-Cookie" not in answer.headers


def test_the_launch_address_does_not_work_in_the_network(tablet, door):
    answer = asked(tablet, f"/enter/{door.token}")
    assert answer.status_code == 403
    assert "Set-Cookie" not in answer.headers


def test_the_computers_pass_word_is_no_good_in_the_network(tablet, door):
    tablet.set_cookie(door.cookie, door.pass_word, domain=AWAY)
    assert asked(tablet, "/plan").status_code == 403


def test_without_the_option_there_is_no_pairing(strange, browsing):
    client, _ = strange
    assert asked(client, "/plan").status_code == 403
    assert typed(client, "000000").status_code == 403
    assert browsing.get("/tablet").status_code == 404
    assert "/tablet" not in browsing.get("/plan").get_data(as_text=True)


def test_a_stranger_is_told_nothing_that_was_meant_for_the_next_page(browsing, strange):
    """What was done stood on whatever page was asked for next, let in or not."""
    browsing.post("/diary/undo", **browsing.form("/diary", "/diary/undo"))
    stranger = browsing.client.application.test_client()
    page = stranger.get("/plan", base_url=HERE).get_data(as_text=True)
    assert "Took back" not in page
    assert "Took back" in browsing.said()[0]


@pytest.mark.skipif(not hasattr(socket, "AF_UNIX"), reason="only Unix answers at all of 127/8")
def test_it_is_really_served_at_both_addresses(studio):
    """127.0.0.2 is this machine again, by another address: as a network has it, without one."""
    with serving(studio, network="127.0.0.2") as page:
        Thread(target=page.run, daemon=True).start()
        host = page.pairing.host
        with pytest.raises(HTTPError) as not_yet:
            urlopen(f"http://{host}/plan", timeout=10)
        assert "Which code" in not_yet.value.read().decode()
        form = Request(
            f"http://{host}/pair", f"code={page.pairing.code}".encode(),
            {"Origin": f"http://{host}"},
        )  # fmt: skip
        with pytest.raises(HTTPError):  # let in and sent on, but urlopen keeps no cookie
            urlopen(form, timeout=10)
        assert page.pairing.let_in == 1


def test_by_default_only_this_machine_can_connect(studio):
    with serving(studio) as page:
        port = int(page.address.split(":")[2].split("/")[0])
        (listener,) = page.server.socket.getsockname()[:1]
        assert (listener, page.pairing) == ("127.0.0.1", None)
        with pytest.raises(OSError):
            socket.create_connection(("127.0.0.2", port), 2).close()


@pytest.mark.parametrize(("own", "words"), [("8.8.4.4", "8.8.4.4"), ("127.0.0.1", "no address")])
def test_an_address_of_everybodys_is_not_served(monkeypatch, own, words):
    """Nothing is sent to any of these: the probe is a stand-in that only names its own address."""

    class Probe:
        def __init__(self, *_words) -> None:
            pass

        def __enter__(self):
            return self

        def __exit__(self, *_words):
            pass

        def connect(self, _there):
            pass

        def getsockname(self):
            return own, 0

    monkeypatch.setattr(socket, "socket", Probe)
    with pytest.raises(NoNetwork, match=words):
        network_address()


def test_codes_are_not_alike():
    codes = {Pairing(HOST).code for _ in range(50)}
    assert len(codes) > 40
    assert all(re.fullmatch(r"\d{6}", code) for code in codes)
