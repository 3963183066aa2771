"""The money questions from the shell: quote, gives, buy, edition; as read and as documents.

The numbers were worked out apart from this project, by an exact search of every pattern of
the invented studio's sheets and by arithmetic shown beside them.
"""

import csv
import json
import re
import xml.etree.ElementTree as ET
from decimal import Decimal
from zipfile import ZipFile

import pytest

from sheetcut.cli.asking import KINDS, TURNS
from sheetcut.job import Kind, Turn
from tests.cli.shell import FILES, here, shell

SMOOTH = ("--paper", "slatehouse smooth")


def document(*arguments):
    """Return the document a command prints, its decimals exact."""
    done = here(*arguments, "--json")
    assert done.returncode in (0, 1), done.stderr
    return json.loads(done.stdout, parse_float=Decimal)


def set_up(studio, text):
    """Add settings to a studio."""
    path = studio / "studio.toml"
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")


def on_hand(studio, sheet, number):
    """Change how many of a sheet the studio's table has on hand."""
    path = studio / "drawer.csv"
    rows = list(csv.reader(path.read_text(encoding="utf-8-sig").splitlines()))
    place = rows[0].index("on hand")
    for row in rows:
        if row[0] == sheet:
            row[place] = str(number)
    with path.open("w", newline="", encoding="utf-8-sig") as file:
        csv.writer(file).writerows(rows)


def test_the_words_offered_are_those_of_an_order_line():
    assert set(KINDS) == set(Kind.__args__)
    assert set(TURNS) == set(Turn.__args__)


def test_a_quote_says_one_figure_first(unkept):
    """15.20 over four from a sheet, 15.20 / 0.4256 m2 by area, 75.40 / 1.671052 m2 of blanks."""
    done = shell("quote", "A4", *SMOOTH, "--margin", "15", "--folder", unkept)
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    assert lines[:2] == [
        "210 x 297 mm on Slatehouse Smooth, 15 mm margin all round",
        "blank 240 x 327 mm",
    ]
    charge = next(n for n, line in enumerate(lines) if line.startswith("CHARGE"))
    assert lines[charge] == "CHARGE £3.80"
    for cost in ("£2.80", "£3.54", "£15.20"):
        assert next(n for n, line in enumerate(lines) if cost in line) > charge
    assert "£3.54  moves with the plan, not for quoting" in done.stdout
    assert "five from a sheet up to 9 mm, four up to 31 mm" in done.stdout
    assert "a margin of 9 mm gives five" in done.stdout


def test_a_quote_is_a_document(unkept):
    found = document("quote", "A3", *SMOOTH, "--margin", "15 mm", "--in", unkept)
    assert found["form"] == "sheetcut quote 1"
    assert found["blank"] == [327, 450]
    gives = {one["sheet"]: one["gives"] for one in found["sheets"]}
    assert gives == {"HP-IMP": 2, "HP-DE": 4, "heron 7": 0}
    costs = found["costs"]
    assert (costs["one_size"], costs["area"], costs["paper_share"]) == (
        Decimal("7.60"),
        Decimal("5.26"),
        Decimal("6.64"),
    )
    assert costs["opening"]["cost"] == Decimal("15.20")
    assert costs["opening"]["supposed"] == {"HP-IMP": 1}


def test_without_a_margin_the_studios_usual_one_is_taken(unkept):
    assert document("quote", "A4", *SMOOTH, "--in", unkept)["blank"] == [240, 327]
    four = ("--kind", "print", "--margin", "30, 30, 30, 40")
    found = document("quote", "300", "x", "400", *four, "--in", unkept)
    assert found["blank"] == [360, 470]
    assert found["piece"]["paper"] == "Marram Rag"


def test_hours_and_mark_up_make_the_charge(unkept):
    """3.80 x 1.5 and two hours at 22.00 are 49.70; to the next 0.50 that is 49.70 -> 50.00."""
    set_up(unkept, '\n[charging]\nrate = "22.00"\nmark-up = 1.5\nround-up-to = 0.50\n')
    done = here("quote", "A4", *SMOOTH, "--hours", "2", "--count", "3", "--in", unkept)
    assert "CHARGE £150.00, £50.00 for each of 3" in done.stdout
    assert "paper £3.80 x 1.5, 2 hours at £22.00, rounded up to £0.50" in done.stdout


def test_a_size_that_fits_no_sheet_is_no(unkept):
    done = here("quote", "700 x 1000", *SMOOTH, "--in", unkept)
    assert done.returncode == 1
    assert "CHARGE: not known, as no sheet in the drawer holds it" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("quote", "A4x"), "size: "),
        (("quote", "A4", "--margin", "1,000 mm"), "--margin: "),
        (("quote", "A4", "--margin", "1; 2"), "--margin: there are 2 lengths"),
        (("quote", "A4", "--paper", "Kraft"), 'no sheet of the paper "Kraft"'),
        (("quote", "A4", "--hours", "2"), "an hour has no rate yet"),
        (("gives", "--paper", "Kraft"), 'no sheet of the paper "Kraft"'),
        (("edition", "50", "--size", "A4", "--paper", "Kraft"), 'of the paper "Kraft"'),
        (("edition", "50", "--printed", "51"), "51 numbers are wanted and 50 are left"),
        (("buy", "--arrived", "HP-IMP", "5"), "sheetcut drawer import --yes"),
        (("buy", "--paid", "76"), "this goes with --arrived"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(unkept, arguments, says):
    before = {name: (unkept / name).read_bytes() for name in FILES}
    done = here(*arguments, "--in", unkept)
    assert done.returncode == 2
    assert says in done.stderr
    assert "Traceback" not in done.stderr
    assert before == {path.name: path.read_bytes() for path in unkept.iterdir()}


def test_a_quote_that_is_taken_is_an_order(kept):
    words = ("--client", "Ottery", "--piece", "A third sail plan", "--count", "2")
    done = here("quote", "A4", *SMOOTH, *words, "--take", "--in", kept)
    assert done.returncode == 0, done.stderr
    assert "Ordered: 2 x Q1, A third sail plan, Slatehouse Smooth, 210 x 297 mm" in done.stdout
    (row,) = [one for one in document("orders", kept)["orders"] if one["order"] == "Q1"]
    assert (row["client"], row["count"], row["margin"]) == ("Ottery", 2, [15, 15, 15, 15])
    assert row["price"] is None
    here("undo", kept)
    assert all(one["order"] != "Q1" for one in document("orders", kept)["orders"])


def test_without_a_kept_drawer_a_quote_is_a_line_to_paste(unkept):
    """Pasted below the others it is ordered; until then the table is as it was."""
    path = unkept / "orders.csv"
    before = path.read_bytes()
    words = ("--client", 'Ottery, "Grey" & Co', "--piece", "Fourth plan", "--count", "2")
    done = here("quote", "A4", *SMOOTH, *words, "--take", "--in", unkept)
    assert done.returncode == 0, done.stderr
    assert path.read_bytes() == before
    assert "Put this line below the others in your orders.csv" in done.stderr
    with path.open("a", newline="", encoding="utf-8") as file:
        file.write(done.stdout.splitlines()[-1] + "\r\n")
    (row,) = [one for one in document("orders", unkept)["orders"] if one["order"] == "Q1"]
    assert (row["client"], row["piece"]) == ('Ottery, "Grey" & Co', "Fourth plan")
    assert (row["width"], row["height"], row["count"]) == (210, 297, 2)
    assert (row["margin"], row["paper"]) == ([15, 15, 15, 15], "Slatehouse Smooth")


def test_a_line_to_paste_follows_the_headings_of_its_table(unkept):
    """Another order, other words, semicolons, two columns for the size, none for who it is for."""
    (unkept / "orders.csv").write_text(
        "title;qty;high;wide;stock;ref;margins\nKetch;1;420 mm;297 mm;Slatehouse Smooth;D01;15\n",
        encoding="utf-8",
    )
    done = here(
        "quote", "200 x 300", *SMOOTH, "--piece", "Beacon", "--client", "Pascoe", "--take",
        "--in", unkept,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "Beacon;1;300 mm;200 mm;Slatehouse Smooth;Q1;15 mm"
    assert "note: your table has no column for: client Pascoe\n" in done.stderr


def test_a_quote_is_drawn(unkept, tmp_path):
    file = tmp_path / "a4.svg"
    assert here("quote", "A4", *SMOOTH, "--in", unkept, "-o", file).returncode == 0
    words = [one.text for one in ET.parse(file).iter() if one.text]
    assert "Imperial: 4 from a sheet" in words
    again = here("quote", "A4", *SMOOTH, "--in", unkept, "-o", file)
    assert again.returncode == 2
    assert "add --over" in again.stderr


def test_what_a_quote_says_of_every_sheet_as_a_table(unkept, tmp_path):
    """15.20 over four and 29.80 over eight; an offcut was paid for."""
    file = tmp_path / "a4.csv"
    assert here("quote", "A4", *SMOOTH, "--in", unkept, "-o", file).returncode == 0
    rows = list(csv.DictReader(file.read_text(encoding="utf-8-sig").splitlines()))
    assert [(row["sheet"], row["gives"], row["paper each"]) for row in rows] == [
        ("HP-IMP", "4", "3.80"),
        ("HP-DE", "8", "3.73"),
        ("heron 7", "1", ""),
    ]
    assert here("quote", "A4", *SMOOTH, "--in", unkept, "-o", tmp_path / "a4.xlsx").returncode == 0


def test_the_sizes_sold_are_shown_with_the_plain_grid(unkept):
    """With 15 mm: 9 A5, 4 A4, 2 A3, 2 of 300 x 300, 5 of 8 x 10 in (a grid 4), 2 of 11 x 14."""
    done = here("gives", *SMOOTH, "--in", unkept)
    rows = [re.split(r"  +", line.strip()) for line in done.stdout.splitlines()]
    first = {row[0]: row[1] for row in rows if len(row) == 3 and row[0] != "size"}
    assert first == {
        "A5": "9",
        "A4": "4",
        "A3": "2",
        "300 x 300": "2",
        "8 x 10 in": "5 (4)",
        "11 x 14 in": "2",
    }
    assert "heron 7" not in done.stdout
    assert "heron 7" in here("gives", *SMOOTH, "--offcuts", "--in", unkept).stdout


def test_the_margin_ladder_has_both_edges(unkept):
    """A4 on 544 x 744: five to 9, four to 31; on 670 x 1000 nine to 6, eight to 19, six at 20."""
    found = document("gives", "A4", *SMOOTH, "--in", unkept)
    ((imperial, large),) = [row["sheets"] for row in found["sizes"]]
    steps = [(step["gives"], step["least"], step["most"]) for step in imperial["steps"]]
    assert steps[:2] == [(5, 0, 9), (4, 10, 31)]
    steps = [(step["gives"], step["least"], step["most"]) for step in large["steps"]]
    assert steps[:4] == [(9, 0, 6), (8, 7, 19), (6, 20, 20), (5, 21, 40)]
    done = here("gives", "A4", *SMOOTH, "--in", unkept)
    assert "5: 0 to 9 mm, £3.04" in done.stdout


def test_the_margin_stair_is_drawn(unkept, tmp_path):
    file = tmp_path / "stair.svg"
    assert here("gives", "A4", *SMOOTH, "--in", unkept, "-o", file).returncode == 0
    words = [one.text for one in ET.parse(file).iter() if one.text]
    assert "Imperial, Slatehouse Smooth" in words
    assert {"5 up to 9 mm", "4 up to 31 mm", "2 from 32 mm"} <= set(words)


def test_a_table_is_written_and_a_label_is_no_formula(unkept, tmp_path):
    path = unkept / "drawer.csv"
    text = path.read_text(encoding="utf-8-sig").replace("HP-IMP,", "=1+1,")
    path.write_text(text, encoding="utf-8-sig")
    table, book = tmp_path / "gives.csv", tmp_path / "gives.xlsx"
    assert here("gives", *SMOOTH, "--in", unkept, "-o", table).returncode == 0
    assert here("gives", *SMOOTH, "--in", unkept, "-o", book).returncode == 0
    rows = list(csv.DictReader(table.read_text(encoding="utf-8-sig").splitlines()))
    assert len(rows) == 6 * 2  # sizes sold, by full sheets of this paper
    assert (rows[2]["sheet"], rows[2]["gives"], rows[2]["paper each"]) == (" =1+1", "4", "3.80")
    with ZipFile(book) as parts:
        assert b"<f>" not in parts.read("xl/worksheets/sheet1.xml")
    assert here("gives", "--in", unkept, "-o", tmp_path / "gives.svg").returncode == 2


def test_nothing_is_to_be_bought_for_the_week(unkept):
    done = here("buy", "--in", unkept)
    assert (done.returncode, done.stdout) == (
        0,
        "to buy: nothing; what lies in the drawer is enough for all orders\n",
    )
    assert document("buy", "--in", unkept)["cost"] == 0


def test_a_large_sheet_short_is_bought_as_a_pack_of_ten(unkept):
    """Four large sheets are least; with three a pack of ten must come: 114.00, or 25 at A2."""
    on_hand(unkept, "RAG-L", 3)
    on_hand(unkept, "RAG-A2", 0)
    set_up(unkept, '\n[buying]\ncarriage = ["9.50", "free from 114.01"]\n')
    done = here("buy", "--in", unkept)
    assert done.returncode == 0, done.stderr
    assert "a pack of 10  £114.00" in done.stdout
    assert re.search(r"in all +£123.50$", done.stdout, re.MULTILINE)
    assert "over and above: 9 x Marram large; would make 108 of A5, or 45 of A4" in done.stdout
    found = document("buy", "--in", unkept)
    assert (found["goods"], found["carriage"], found["cost"]) == (
        Decimal("114.00"),
        Decimal("9.50"),
        Decimal("123.50"),
    )


def test_what_has_arrived_is_booked_in(kept):
    done = here("buy", "--arrived", "HP-IMP", "5", "--paid", "76.00", "--in", kept)
    assert "Arrived: 5 x HP-IMP, 76.00 paid" in done.stdout
    rows = {one["id"]: one for one in document("drawer", kept)["sheets"]}
    assert rows["HP-IMP"]["on_hand"] == 3 + 5


def test_an_edition_of_fifty_takes_sixty_blanks(unkept):
    """50 numbered, 5 A.P., 2 proofs and 5 % of 55, rounded up to 3."""
    done = here("edition", "50", "--other-proofs", "2", "--printed", "12", "--in", unkept)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("BLANKS 60 for an edition of 50\n")
    assert "certificates: 55" in done.stdout
    assert "Register: next is 13/50; 38 numbers and 5 artist's proofs left" in done.stdout


def test_an_edition_is_planned_with_its_certificates(unkept):
    """A6 on 310 x 428 mm printable: 8 to a sheet, so seven for 55; 7 x 0.48 = 3.36."""
    words = ("--size", "300 x 400", "--border", "30, 30, 30, 40", "--certificate", "A6")
    found = document("edition", "50", *words, "gullwing laid", "--in", unkept)
    assert found["certificate_sheet"]["gives"] == 8
    assert (found["certificate_sheet"]["sheets"], found["certificate_sheet"]["spare"]) == (7, 1)
    prints, certificates = found["papers"]
    assert (certificates["full_sheets"], certificates["cost"]) == (7, Decimal("3.36"))
    assert found["paper_per_print"] == (prints["cost"] / 50).quantize(Decimal("0.01"))
    assert found["leads"] == ["top", "foot"]


def test_a_print_wider_than_the_printer_is_no(unkept):
    done = here("edition", "10", "--size", "500 x 500", "--in", unkept)
    assert done.returncode == 1
    assert "the printer takes 432 mm" in done.stdout


def test_a_register_is_written_to_keep(unkept, tmp_path):
    file = tmp_path / "register.csv"
    done = here("edition", "10", "--printed", "2", "--in", unkept, "-o", file)
    assert done.returncode == 0, done.stderr
    rows = list(csv.DictReader(file.read_text(encoding="utf-8-sig").splitlines()))
    assert [row["number"] for row in rows] == [*map(str, range(1, 11)), "1"]
    assert [row["proof"] for row in rows] == [""] * 10 + ["A.P."]
    assert [row["state"] for row in rows].count("printed") == 2
    assert len({row["certificate"] for row in rows}) == 11


def test_prints_made_as_they_are_sold_need_no_proofs_again(unkept):
    """Seven sold and 5 % of seven, rounded up to one."""
    done = here("edition", "50", "--sold", "7", "--in", unkept)
    assert done.stdout.startswith("BLANKS 8 for 7 sold of an edition of 50\n")


def write_small_studio(folder, sheet, orders):
    """Write a studio of one sheet, 1.00 each, and drawings on it."""
    folder.mkdir()
    head = "sheet,paper,size,on hand,price,grain,packs\n"
    (folder / "drawer.csv").write_text(head + sheet, encoding="utf-8")
    head = "order,paper,size,margin,count,turn\n"
    (folder / "orders.csv").write_text(head + orders, encoding="utf-8")
    (folder / "studio.toml").write_text('sizes-sold = ["90 x 90"]\n', encoding="utf-8")
    return folder


def test_a_plan_says_what_would_save_a_sheet(tmp_path):
    """Blanks of 102 on 200: two would be 204. With 1 mm less all round they are 200.

    Beside each blank 98 x 200 are left, which is two of 90 x 90 without a margin.
    """
    sheet = "s,Rag,200 x 200,9,1.00,none,\n"
    studio = write_small_studio(tmp_path / "one", sheet, "a,Rag,90 x 180,6,2,yes\n")
    done = here("plan", studio, "--more")
    assert done.returncode == 0, done.stderr
    assert "1.00 less: every margin 1 mm narrower, or a smaller by 2 mm both ways" in done.stdout
    assert "Rag: 4 of 90 x 90 (s)" in done.stdout
    without = here("plan", studio)
    assert "What would save" not in without.stdout
    one = here("plan", studio, "--more", "--json")
    assert json.loads(one.stdout)["form"] == "sheetcut plan 1"
    assert "What would save" in one.stderr


def test_a_plan_that_is_short_says_what_to_buy(tmp_path):
    """Three blanks that fill a sheet each, and two sheets on hand; sold in twos for 1.80."""
    sheet = "s,Rag,200 x 200,2,1.00,none,2 for 1.80\n"
    studio = write_small_studio(tmp_path / "one", sheet, "a,Rag,180 x 180,0,3,yes\n")
    done = here("plan", studio, "--more")
    assert done.returncode == 1
    assert "paper is short, so nothing can be saved" in done.stdout
    assert re.search(r"s +a pack of 2 +1\.80", done.stdout)
    assert "over and above: 1 x s; would make 4 of 90 x 90" in done.stdout


def test_margins_of_ten_do_not_save_a_sheet_of_the_week(studio_kept):
    """The blanks of the week with 10 mm still need three Imperial and the large sheet."""
    from sheetcut.answers.saving import savings  # noqa: PLC0415
    from sheetcut.printout.further import saving_lines  # noqa: PLC0415
    from sheetcut.read import read_studio  # noqa: PLC0415
    from sheetcut.units import mm  # noqa: PLC0415

    job = read_studio(studio_kept).job
    found = savings(job, "Slatehouse Smooth")
    told = "\n".join(saving_lines(found, "£", in_cash=True, step=mm(1), unit="mm"))
    assert "margin" not in told


def test_where_nothing_saves_that_is_said(tmp_path):
    """One blank takes one sheet, whatever is changed of it, and a line alone is not left out."""
    sheet = "s,Rag,200 x 200,2,1.00,none,\n"
    studio = write_small_studio(tmp_path / "one", sheet, "a,Rag,180 x 180,5,1,yes\n")
    done = here("plan", studio, "--more")
    assert "smaller by up to 32 mm saves any (proved)" in done.stdout
    assert "none for any size sold" in done.stdout
