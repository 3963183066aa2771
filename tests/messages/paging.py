"""What the page answers where it cannot do what is asked of it, in a small planned studio."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

import atexit
import contextlib
import io
import json
import re
import shutil
import socket
import tempfile
from collections.abc import Callable
from functools import cache
from html import unescape
from pathlib import Path

import pytest

from sheetcut.drawer import Store
from sheetcut.page import exchange, settings, worker
from sheetcut.page.app import create_app
from sheetcut.page.bringing_in import bring_in
from sheetcut.page.desktop import put_on_desktop
from sheetcut.page.door import Door
from sheetcut.page.pairing import Pairing
from sheetcut.page.serving import network_address, serving
from sheetcut.page.studio import Desk, present_in
from sheetcut.plan import make_plan
from sheetcut.printout.files import write_plan
from tests.messages.cases import Case
from tests.messages.reading_cells import ORDER, SHEET, studio_of, table_text
from tests.page.browsing import HERE, PORT, Browsing

Asks = Callable[[Browsing], object]
ONE = {**ORDER, "size": "280 x 380", "margin": "0"}
FILES = {
    "orders_csv": table_text(ONE, {**ONE, "order": "D2", "count": "1"}),
    "drawer_csv": table_text({**SHEET, "size": "300 x 400", "on hand": "9"}),
}
"""Three sheets with a blank on each: two of D1, one of D2, all three cut alike."""


@cache
def _made() -> tuple[Path, str]:
    """Return a kept and planned studio, not to be changed, and its plan's code."""
    folder = Path(tempfile.mkdtemp(prefix="sheetcut-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    studio_of(folder, **FILES)
    bring_in(Desk(folder))
    present = present_in(folder)
    plan = make_plan(
        present.job, rounds=10, made="2026-11-25T09:00:00", input_hash=present.input_hash
    )
    write_plan(plan, folder)
    return folder, plan.code


def let_in(folder: Path) -> Browsing:
    door = Door(PORT)
    browsing = Browsing(create_app(folder, door).test_client(), folder)
    browsing.get(f"/enter/{door.token}")
    return browsing


def said_by(answer) -> str:
    """Return what a page says, a line for each of its paragraphs."""
    text = answer.get_data(as_text=True)
    lines = re.split(r"</(?:p|li|h1|h2|label|td|div)>|<br>", text)
    return "\n".join(" ".join(unescape(re.sub(r"<[^>]*>", " ", line)).split()) for line in lines)


def studio_on(folder: Path, studio: str) -> Path:
    """Write a studio: "planned" and kept, "filed" only, or "none"."""
    if studio == "planned":
        shutil.copytree(_made()[0], folder, dirs_exist_ok=True)
    elif studio == "filed":
        studio_of(folder, **FILES)
    return folder


def _page(name: str, says: str, ask: Asks, *, studio: str = "planned") -> Case:
    """Return a case of a browser that asks something of a studio's page in vain."""

    def provoke(folder: Path) -> str:
        return said_by(ask(let_in(studio_on(folder, studio))))

    return Case(f"page: {name}", provoke, says)


def filled(path: str, action: str, **typed: str) -> Asks:
    """Return what fills in a form that a page shows and sends it."""

    def ask(browsing: Browsing) -> object:
        return browsing.post(action, **(browsing.form(path, action) | typed))

    return ask


def booked(**typed: str) -> Asks:
    """Return what says at the mat how the first sheets were cut."""

    def ask(browsing: Browsing) -> object:
        code = _made()[1]
        return browsing.post(f"/mat/{code}/1/cut", **typed)

    return ask


def _moved(count: str) -> Asks:
    """Return what moves more blanks of an order on than were cut of it."""

    def ask(browsing: Browsing) -> object:
        browsing.post(f"/mat/{_made()[1]}/1/cut", layout="1")
        fields = browsing.form("/orders/work", "/orders/work/move")
        return browsing.post("/orders/work/move", **(fields | {"stage": "drawn", "count": count}))

    return ask


def _spoiled_of(count: str) -> Asks:
    def ask(browsing: Browsing) -> object:
        browsing.post(f"/mat/{_made()[1]}/1/cut", layout="1")
        fields = browsing.form("/orders/work", "/orders/work/spoiled")
        typed = {"stage": "signed", "spoiled": count}
        return browsing.post("/orders/work/spoiled", **(fields | typed))

    return ask


def settings_kept(browsing: Browsing) -> object:
    fields = browsing.form("/studio", "/studio/look") | {"ruler": "1200"}
    looked = browsing.post("/studio/look", **fields)
    return browsing.post("/studio/keep", **browsing.form_of(looked, "/studio/keep"))


def _chosen(browsing: Browsing) -> object:
    browsing.choose("orders", "orders.csv", FILES["orders_csv"].encode())
    return browsing.get("/exchange/chosen")


def _too_large(browsing: Browsing) -> object:
    browsing.client.application.config["MAX_CONTENT_LENGTH"] = 100
    return browsing.choose("orders", "orders.csv", b"x" * 200)


def _with_an_empty_store(folder: Path) -> str:
    studio_of(folder, **FILES)
    Store.open(folder, create=True).close()
    return said_by(let_in(folder).get("/exchange/drawer.csv"))


def _with_faults(browsing: Browsing) -> object:
    (path,) = browsing.folder.glob("out/*/plan.json")
    path.write_text(path.read_text().replace('"cost": 34.2', '"cost": 34.3'))
    return browsing.get("/plan")


def _refused_by_the_system(what: object, name: str, code: int, words: str, ask: Asks) -> Asks:
    """Return what asks while the system refuses one thing; root is refused nothing."""

    def refuse(*_: object, **__: object) -> object:
        raise OSError(code, words, "/studio/orders.csv")

    def asked(browsing: Browsing) -> object:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(what, name, refuse)
            return ask(browsing)

    return asked


def _strange(
    ask: Callable[[object, Door], object], *, tablet: bool = False
) -> Callable[[Path], str]:
    """Return what somebody is answered who was not let in."""

    def provoke(folder: Path) -> str:
        door = Door(PORT, pairing=Pairing(f"192.168.1.5:{PORT}") if tablet else None)
        return said_by(ask(create_app(studio_of(folder), door).test_client(), door))

    return provoke


def _in_network(address: str | None) -> Callable[[Path], object]:
    """Return what looks for this machine's address where it has this one, or none."""

    class Probe:
        def __init__(self, *_: object) -> None: ...
        def __enter__(self) -> Probe:
            return self

        def __exit__(self, *_: object) -> None: ...
        def connect(self, _: object) -> None:
            if address is None:
                raise OSError(101, "Network is unreachable")

        def getsockname(self) -> tuple[str, int]:
            return str(address), 9

    def provoke(_: Path) -> object:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(socket, "socket", Probe)
            return network_address()

    return provoke


def _port_taken(folder: Path) -> object:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        with serving(folder, taken.getsockname()[1]) as served:
            return served


def _port_forbidden(folder: Path) -> object:
    """Ask for a port that the system keeps to itself; root is refused none."""

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "bind", refuse)
        with serving(folder, 80) as served:
            return served


def _other_plan(folder: Path) -> object:
    shutil.copytree(_made()[0], folder, dirs_exist_ok=True)
    return worker.look_further(folder, "XXXX")


def _worker(folder: Path) -> str:
    """Return what the run beside the page says when the system lets it read nothing."""

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied", "/studio/out")

    said = io.StringIO()
    with pytest.MonkeyPatch.context() as patch, contextlib.redirect_stdout(said):
        patch.setattr(worker, "_newest", refuse)
        worker.main("further", str(folder), "K7QP")
    (line,) = json.loads(said.getvalue())["refused"]
    return line


REGISTER = "/edition/register"
BASE = {"base_url": HERE}
TABLET = {
    "base_url": f"http://192.168.1.5:{PORT}",
    "environ_overrides": {"REMOTE_ADDR": "192.168.1.9"},
}
FAR = {"base_url": f"http://studio.example:{PORT}"}
CASES = [
    # what is not there
    _page(
        "no studio",
        "One sheet, one offcut and two orders to write over, and a settings file with every line explained.",
        lambda b: b.get("/plan"),
        studio="none",
    ),
    _page(
        "only files",
        "Orders and drawer are still in your files; go to Drawer and bring them in",
        lambda b: b.get("/exchange/drawer.csv"),
        studio="filed",
    ),
    Case(
        "page: an empty store",
        _with_an_empty_store,
        "Orders and drawer are still in your files; go to Drawer and bring them in",
    ),
    _page(
        "no such page",
        "There is no such page here; choose one of the places above.",
        lambda b: b.get("/nowhere"),
    ),
    _page(
        "by a button",
        "That is done with a button, not by an address; go back and use the button.",
        lambda b: b.get("/exchange/choose"),
    ),
    _page(
        "too large",
        "That is larger than any studio's table, and was not read; choose a smaller file.",
        _too_large,
    ),
    _page(
        "no such table",
        "That could not be understood, and nothing was changed; go back and try again.",
        lambda b: b.post("/exchange/choose", table="recipes"),
    ),
    _page(
        "plan with faults",
        "The newest plan has faults; move it away from the folder out, and plan again:",
        _with_faults,
    ),
    Case(
        "page: another plan",
        _other_plan,
        "plan XXXX is not the newest any more; look at the one that is",
    ),
    # tables and studios
    _page(
        "no table",
        '"orders.txt" ends in neither .csv nor .xlsx; choose a table that a spreadsheet saved',
        lambda b: b.choose("orders", "orders.txt", b"x"),
    ),
    _page(
        "no file",
        "no file was chosen; choose a table that a spreadsheet saved",
        lambda b: b.post("/exchange/choose", table="orders"),
    ),
    _page(
        "in the way",
        "FOLDER: orders.csv, drawer.csv, studio.toml are already there and nothing was written; name another folder",
        lambda b: b.post("/begin", studio="demo"),
    ),
    # forms
    _page(
        "none arrived",
        "nothing is written; write how many sheets have come",
        filled("/plan/arrived", "/plan/arrived", sheet="L"),
    ),
    _page(
        "arrived",
        '"200000" is more than 100000 sheets; write a whole number up to that',
        filled("/plan/arrived", "/plan/arrived", sheet="L", number="200000"),
    ),
    _page(
        "hours",
        "an hour has no rate yet; write one in Studio, under what a quote charges",
        lambda b: b.get("/quote?size=A5&hours=3"),
    ),
    _page(
        "no number",
        'D1: "some" is no number; give 0 or more. Nothing was changed',
        booked(**{"spoiled-D1": "some"}),
    ),
    _page(
        "nothing measured",
        "what was kept: no size is given; measure it, or choose nothing. Nothing was changed",
        booked(keeping="measured", kept=" ; "),
    ),
    _page(
        "measured",
        'what was kept: in "12O x 90", "12o" is not a length: a letter stands among the figures; write figures and a unit, as in 120 mm if that is meant. Nothing was changed',
        booked(layout="1", keeping="measured", kept="12O x 90"),
    ),
    _page(
        "which of them",
        "L, sheet 1: cut three alike: it is not said which of these sheets went otherwise; choose the one it was. Nothing was changed",
        booked(keeping="nothing"),
    ),
    _page(
        "fewer to move",
        "99 are meant and there are 2 at a stage before drawn; write 1 to 2",
        _moved("99"),
    ),
    _page(
        "none to spoil",
        "3 are meant and there are 0 signed; choose another stage",
        _spoiled_of("3"),
    ),
    _page("none spoiled", "0 blanks are meant; give 1 or more", _spoiled_of("0")),
    _page(
        "edition",
        '"0" is no number from 1 to 10000; write one of these',
        lambda b: b.get("/edition?numbered=0&size=A5&paper=Rag"),
    ),
    _page(
        "no image",
        "no size is written; write that of the image, as in 300 x 400",
        lambda b: b.get("/edition?numbered=10&paper=Rag"),
    ),
    _page(
        "three borders",
        "there are 3 lengths; write one, or left, right, top and foot",
        lambda b: b.get("/edition?numbered=10&size=A5&border=1;2;3"),
    ),
    _page(
        "no name",
        "nothing is written; write what the edition is called",
        filled(REGISTER, f"{REGISTER}/begin", name="", numbered="40"),
    ),
    _page(
        "too many",
        "20000 is no number from 1 to 10000; write one of these",
        filled(REGISTER, f"{REGISTER}/begin", name="Ebb", numbered="20000"),
    ),
    _page(
        "oversold",
        "50 are made of 11 with artist's proofs; write 1 to 11",
        lambda b: b.get("/edition?numbered=10&sold=50&size=A5&paper=Rag"),
    ),
    # who is let in
    Case(
        "door: not let in",
        _strange(lambda c, _: c.get("/plan", **BASE)),
        "Open the page by the address that sheetcut showed when it started.",
    ),
    Case(
        "door: another host",
        _strange(lambda c, _: c.get("/plan", **FAR)),
        "This page answers to this machine only; open it there.",
    ),
    Case(
        "door: another time",
        _strange(lambda c, _: c.get("/enter/old", **BASE)),
        "That address is from another time; start sheetcut page again.",
    ),
    Case(
        "door: another page",
        _strange(lambda c, _: c.post("/close", **BASE)),
        "This was sent from another page, so nothing was done; do it on the studio's own.",
    ),
    Case(
        "door: no tablet",
        _strange(lambda c, _: c.post("/pair", headers={"Origin": HERE}, **BASE)),
        "This page answers to this machine only; open it there.",
    ),
    Case(
        "door: wrong code",
        _strange(
            lambda c, _: c.post(
                "/pair", data={"code": "0"}, headers={"Origin": TABLET["base_url"]}, **TABLET
            ),
            tablet=True,
        ),
        "That is not the code the computer shows now; type the one that it shows.",
    ),
    # the system
    Case(
        "page: no network",
        _in_network(None),
        "this computer cannot be reached by a tablet: it has no address in a network; connect it to the network at home, or leave --tablet out",
    ),
    Case(
        "page: network of oneself",
        _in_network("127.0.0.1"),
        "this computer cannot be reached by a tablet: it has no address in a network; connect it to the network at home, or leave --tablet out",
    ),
    Case(
        "page: everybody's network",
        _in_network("192.0.0.9"),
        "this computer cannot be reached by a tablet: its address is 192.0.0.9, which the whole internet can reach; connect it to the network at home, or leave --tablet out",
    ),
    Case(
        "page: port taken",
        _port_taken,
        ": another program uses it; give another, or none for a free one",
    ),
    Case(
        "page: port forbidden",
        _port_forbidden,
        "port 80: the system refused it (Permission denied); give another, or none for a free one",
    ),
    Case(
        "page: no desktop",
        lambda folder: put_on_desktop(folder, desktop=folder / "Desktop"),
        "FOLDER/Desktop: there is no such folder, so there is no desktop to put anything on; open the page with: sheetcut page",
    ),
    Case(
        "page: run beside it",
        _worker,
        "/studio/out: the system refused it (Permission denied); allow it there, or name another place. Nothing was changed",
    ),
    _page(
        "settings",
        "studio.toml: it could not be written (Permission denied) and stays as it was; see that you may write into its folder",
        _refused_by_the_system(settings, "write_whole", 13, "Permission denied", settings_kept),
    ),
    _page(
        "full disk",
        "/studio/orders.csv: the system refused it (No space left on device); make room on the disk and try again. Nothing was changed",
        _refused_by_the_system(
            exchange.Path, "write_bytes", 28, "No space left on device", _chosen
        ),
    ),
]
