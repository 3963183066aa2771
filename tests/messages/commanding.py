"""What the commands answer where they cannot do what is typed, each in a small studio."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

import shlex
import sys
import webbrowser
from collections.abc import Callable
from pathlib import Path

import pytest

import sheetcut.plan
from sheetcut.errors import Fault
from tests.cli.shell import here
from tests.messages.cases import Case, Says
from tests.messages.reading_cells import ORDER, SHEET, studio_of, table_text

page_command = sys.modules["sheetcut.cli.page"]  # the package has a command of that name
Before = Callable[[Path], object]


def _cli(
    name: str, says: Says | str, *commands: str, before: Before | None = None, typed: str = ""
) -> Case:
    """Return a case of commands in a studio's folder, the last of which is in vain.

    "kept" keeps the drawer, "planned" keeps it and makes a plan.
    """

    def provoke(folder: Path) -> str:
        studio_of(folder)
        if before:
            before(folder)
        with pytest.MonkeyPatch.context() as patch:
            patch.chdir(folder)
            told = [here(*shlex.split(command), typed=typed).stderr for command in commands]
        return told[-1].strip()

    return Case(f"cli: {name}", provoke, says)


def keep(folder: Path) -> None:
    assert here("drawer", "import", folder, "--yes").returncode == 0


def plan_it(folder: Path) -> None:
    keep(folder)
    assert here("plan", folder).returncode == 0
    (made,) = (folder / "out").iterdir()
    made.rename(folder / "made")


def _spoiled(folder: Path) -> None:
    plan_it(folder)
    path = folder / "made" / "plan.json"
    path.write_text(path.read_text().replace('"cost": 11.4', '"cost": 11.5'))


def _with_files(**files: str) -> Before:
    return lambda folder: studio_of(folder, **files)


def _new_store(folder: Path) -> None:
    from sheetcut.drawer import Store  # noqa: PLC0415

    Store.open(folder, create=True).close()


def _failing(folder: Path) -> str:
    """Plan while the checker finds a fault in everything."""
    studio_of(folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            sheetcut.plan, "faults_in", lambda _: (Fault("Rag, L, sheet 1", "it is torn"),)
        )
        return here("plan", folder).stderr


ONLY_OFFCUTS = table_text({**SHEET, "kind": "offcut"})


def _double_click(folder: Path) -> str:
    """Open the page by a double click while the system refuses it; return what is then shown."""

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied", "studio.sqlite")

    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(folder / "cache"))
        patch.setattr(page_command, "_open", refuse)
        patch.setattr(webbrowser, "open", lambda _: True)
        here("page", folder, "--double-click")
    return (folder / "cache" / "sheetcut" / "not-opened.html").read_text(encoding="utf-8")


CASES = [
    # what is typed for options
    _cli(
        "size",
        'size: "big" is not a size; write two lengths or a name, as in 297 x 420 mm, 11 x 14 in or A3',
        "quote big",
    ),
    _cli(
        "margins",
        "--margin: there are 3 lengths; write one, or left, right, top, foot",
        "quote A4 --margin '1, 2, 3'",
    ),
    _cli(
        "hours",
        "--hours: an hour has no rate yet; write one in studio.toml, under [charging]: rate = 22.00",
        "quote A4 --hours 3",
    ),
    _cli("paid", "--paid: this goes with --arrived; say what has come", "buy --paid 5"),
    _cli(
        "arrived",
        "buy --arrived: your own files are read and never written to; change the number on hand in your drawer, or have the drawer kept here with: sheetcut drawer import --yes",
        "buy --arrived L 5",
    ),
    _cli(
        "due",
        '--due: "soon" is not a day; write a day as in 2026-12-03 or 3 Dec 2026',
        "plan . --due soon",
    ),
    _cli(
        "like",
        '--like: "prettier" is no kind of plan; give "quicker to cut", "better leftover" or "strips only"',
        "plan . --like prettier",
    ),
    _cli(
        "arrived, paid",
        '--paid: "dear" is not a price; write one, as in 15.20',
        "drawer receive L 5 --paid dear",
        before=keep,
    ),
    _cli(
        "found",
        "drawer found: nothing is given; give --size, or what an edge loses",
        "drawer found L",
        before=keep,
    ),
    _cli(
        "add",
        "drawer add: no name is given; write one, as in RAG-L",
        "drawer add --paper Rag --size A3",
        before=keep,
    ),
    _cli(
        "correct",
        "drawer correct: nothing to correct is given; see -h for what can be",
        "drawer correct L",
        before=keep,
    ),
    _cli(
        "sizes",
        'sizes: no size begins with "Zebra"; "sheetcut sizes" lists them all',
        "sizes Zebra",
    ),
    # what no command takes
    _cli(
        "no such command",
        "sheetcut: no such command 'plant'; did you mean plan or print?",
        "plant",
    ),
    _cli(
        "no such option",
        "sheetcut plan: no such option '--quick'; did you mean --like?",
        "plan --quick",
    ),
    _cli(
        "no such option of the whole",
        "sheetcut: no such option '--quick'; see sheetcut -h",
        "--quick plan",
    ),
    _cli(
        "option left out",
        "sheetcut relay: missing option '--step'; see sheetcut relay -h",
        "relay made --layout 1",
    ),
    _cli(
        "not a number",
        "sheetcut plan, --seconds: 'soon' is not a number; see sheetcut plan -h",
        "plan . --seconds soon",
    ),
    _cli(
        "not in the range",
        "sheetcut edition, NUMBER: 0 is outside 1 to 10000; see sheetcut edition -h",
        "edition 0",
    ),
    _cli(
        "not one of them",
        "sheetcut quote, --kind: 'sculpture' is not one of 'drawing', 'print', 'card'; see sheetcut quote -h",
        "quote A4 --kind sculpture",
    ),
    _cli(
        "too much",
        "sheetcut undo: got unexpected extra argument (again); see sheetcut undo -h",
        "undo . again",
    ),
    _cli(
        "a file for a folder",
        "sheetcut undo, FOLDER: directory 'orders.csv' is a file; see sheetcut undo -h",
        "undo orders.csv",
    ),
    _cli(
        "problems",
        Says(
            "orders.csv, row 2, count (L2)",
            "0 pieces are wanted",
            "delete the row, or give 1 or more",
        ),
        "plan .",
        before=_with_files(orders_csv=table_text({**ORDER, "count": "0"})),
    ),
    Case(
        "cli: double click",
        _double_click,
        "studio.sqlite: the system refused it (Permission denied); allow it there, or name another place. Nothing was changed",
    ),
    # what is asked for and not there
    _cli(
        "only offcuts",
        "gives: there are only offcuts in the drawer; add --offcuts",
        "gives",
        before=_with_files(drawer_csv=ONLY_OFFCUTS),
    ),
    _cli(
        "no sizes sold",
        'gives: no sizes sold are known; write them in studio.toml, as in sizes-sold = ["A5", "A4", "300 x 300"], or name one: sheetcut gives A4',
        "gives",
    ),
    _cli(
        "no such paper",
        'the drawer has no sheet of the paper "Vellum"; name one of Rag',
        "gives A4 --paper Vellum",
    ),
    _cli(
        "edition's paper",
        'the drawer has no sheet of the paper "Vellum"; name one of Rag',
        "edition 10 --size A4 --paper Vellum",
    ),
    _cli(
        "nothing to draw",
        "quote: no sheet gives any of this size, so there is nothing to draw; leave --output out, or ask for a smaller size",
        "quote '900 x 1200' -o stair.svg",
    ),
    _cli(
        "nothing named",
        "parcel: nothing is named; write a size, as in A4, or --order D05",
        "parcel",
    ),
    _cli(
        "no such order",
        '--order: "D99" is not among the orders; write a size instead, as in A4',
        "parcel --order D99",
    ),
    _cli(
        "weight",
        'Rag: what it weighs is not known; write grammage = 300 in studio.toml, under [paper."Rag"], or add --grammage 300',
        "parcel A4",
    ),
    _cli(
        "scan nowhere",
        "nowhere: this folder is not there; give the folder that holds orders and drawer, or make one with: sheetcut start FOLDER",
        "scan A3 --in nowhere",
    ),
    _cli(
        "page nowhere",
        "nowhere/below: this folder is not there; give the folder that holds orders and drawer, or make one with: sheetcut start FOLDER",
        "page nowhere/below",
    ),
    _cli(
        "page on no desktop",
        "nowhere/below: this folder is not there; give the folder that holds orders and drawer, or make one with: sheetcut start FOLDER",
        "page nowhere/below --desktop",
    ),
    _cli(
        "kept nowhere",
        "nowhere: this folder is not there; give the folder that holds orders and drawer, or make one with: sheetcut start FOLDER",
        "undo nowhere",
    ),
    _cli(
        "nothing brought in",
        "studio.sqlite: nothing was brought into it yet; do so with: sheetcut drawer import --yes",
        "undo",
        before=_new_store,
    ),
    _cli(
        "no such layout",
        "there is no layout 9 in this plan; give one from 1 to 1",
        "relay made --layout 9 --step 1 --blank 1",
        before=plan_it,
    ),
    _cli(
        "no such plan",
        "nowhere.json: it is not there; see that the name is right, and that the folder round it is there. Nothing was changed",
        "check nowhere.json",
    ),
    # tables and files
    _cli(
        "from elsewhere",
        "orders.csv: nothing is kept yet that it could change; bring in the studio's own files first, with: sheetcut drawer import --yes",
        "orders import --from orders.csv --yes",
    ),
    _cli(
        "export's ending",
        "drawer.txt: the name says neither .csv nor .xlsx; end it in one of them",
        "drawer export -o drawer.txt",
        before=keep,
    ),
    _cli(
        "export over",
        "drawer.csv: it is there already and stays as it is; name another file, or add --over",
        "drawer export -o drawer.csv",
        before=keep,
    ),
    _cli(
        "export below a file",
        "orders.csv/kept.csv: it cannot be written (Not a directory); name another place",
        "drawer export -o orders.csv/kept.csv",
        before=keep,
    ),
    _cli(
        "ending",
        "quote.txt: this can be written as .svg or .csv or .xlsx; end the name so",
        "quote A4 -o quote.txt",
    ),
    _cli(
        "over",
        "orders.csv: it is there already and stays as it is; name another file, or add --over",
        "quote A4 -o orders.csv",
    ),
    _cli(
        "below a file",
        "orders.csv/quote.csv: it cannot be written (Not a directory); name another place",
        "quote A4 -o orders.csv/quote.csv",
    ),
    _cli(
        "chart's ending",
        "figures.png: the chart is an SVG; end the name in .svg",
        "history --chart figures.png",
        before=keep,
    ),
    _cli(
        "chart over",
        "old.svg: it is there already and stays as it is; name another file",
        "history --chart old.svg",
        before=lambda f: (keep(f), (f / "old.svg").write_text("x")),
    ),
    _cli(
        "no PDF",
        "orders.csv: a file that is no PDF stands there; give another name",
        "print made -o orders.csv",
        before=plan_it,
    ),
    # booking
    _cli(
        "of one layout",
        "cut: --copies, --sheet and --kept tell of one layout; name it with --layout",
        "cut made --copies 1",
        before=plan_it,
    ),
    _cli(
        "not booked",
        "layout 1: L, sheet 1 (1 to cut)\nTo be booked: Cut plan MSFF, layout 1: 1 x L; 2 blanks; back into the drawer: avocet 1, curlew 1; paper 11.40\nBook it? [y/N]: Nothing was changed",
        "cut made",
        before=plan_it,
        typed="n\n",
    ),
    _cli(
        "nobody to ask",
        "layout 1: L, sheet 1 (1 to cut)\nTo be booked: Cut plan MSFF, layout 1: 1 x L; 2 blanks; back into the drawer: avocet 1, curlew 1; paper 11.40\nBook it? [y/N]: \nNothing was changed; --yes books it without asking",
        "cut made",
        before=plan_it,
    ),
    _cli(
        "faults",
        "made/plan.json: the plan has faults, so it is not booked; plan again. Nothing was changed\n  Rag: the cost is given as 11.50; it is 11.40",
        "cut made",
        before=_spoiled,
    ),
    Case(
        "cli: a plan that fails its check",
        _failing,
        "The plan failed its own check and was not kept; nothing was written. Please report this, with the studio folder:\n  Rag, L, sheet 1: it is torn\n",
    ),
]
