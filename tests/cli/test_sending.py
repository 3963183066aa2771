"""Finished work from the shell: what it is sent as, how it is scanned, how a print is fed."""

import csv
import json
from dataclasses import replace
from decimal import Decimal

import pytest

from sheetcut.answers.parcel import POST_LIMITS, Packing
from sheetcut.answers.printing import Printer
from sheetcut.answers.scanning import A4_BED, OVERLAP
from sheetcut.answers.terms import limits_of, packing_of, printer_of
from sheetcut.read import settings_in
from tests.cli.shell import here
from tests.cli.test_money import set_up


def lines(studio, *arguments, code=0):
    done = here(*arguments, "--in", studio)
    assert done.returncode == code, done.stderr
    return done.stdout.splitlines()


def test_an_a4_with_its_margins_goes_as_a_large_letter(unkept):
    """240 x 327 at 640 g/m2 weighs 50.2 g; 4 mm of mailer at each edge make it 335 x 248."""
    told = lines(unkept, "parcel", "A4", "--paper", "Slatehouse Smooth")
    assert told[0] == "1 x 240 x 327 mm on Slatehouse Smooth: 50.2 g each"
    assert told[2:4] == [
        "GOES AS large letter",
        "  flat, 335 x 248 x 7 mm, 171 g with 120 g of packing",
    ]
    assert told[-1].startswith("check the current tariff")


def test_five_millimetres_of_margin_more_are_the_next_size_up(unkept):
    """250 + 8 is 258, and a large letter may be 250 wide."""
    told = lines(unkept, "parcel", "A4", "--margin", "20")
    assert "GOES AS small parcel" in told
    assert any(one.endswith("width 8 mm too much") for one in told)
    assert "GOES AS large letter" in lines(unkept, "parcel", "A4", "--margin", "20", "--trimmed")


def test_what_goes_as_nothing_says_by_how_much(unkept):
    """327 x 450 with 4 mm at each edge is 458 long, and 450 is the most."""
    told = lines(unkept, "parcel", "A3", code=1)
    assert "GOES AS nothing in the table" in told
    assert any(one.endswith("length 8 mm too much") for one in told)


def test_a2_goes_in_a_tube(unkept):
    """A 594 mm length of 0.5 mm paper on a core of 75 mm is 77.5 mm across (arithmetic of a ring).

    The tube is 40 mm longer than the 420 mm of the roll, and twice 3 mm wider.
    """
    a2 = ("parcel", "A2", "--paper", "Marram Rag", "--margin", "0", "--thickness", "0.5 mm")
    assert "  rolled 78 mm across, in a tube 460 mm long and 84 mm thick" in "\n".join(
        lines(unkept, *a2)
    )
    document = json.loads(here(*a2, "--in", unkept, "--json").stdout, parse_float=Decimal)
    assert document["form"] == "sheetcut parcel 1"
    assert abs(document["roll"] - Decimal("77.5")) < Decimal("0.1")
    assert [one["name"] for one in document["limits"] if one["keeps"]] == ["tube"]


def test_orders_go_together(unkept):
    """Two of 50.2 g, one of 94.2 g and 120 g of packing are 314.6 g, rounded up."""
    told = lines(unkept, "parcel", "--order", "D05", "--order", "d01", code=1)
    assert any("315 g" in one for one in told)
    done = here("parcel", "--order", "D99", "--in", unkept)
    assert (done.returncode, done.stdout) == (2, "")
    assert '"D99" is not among the orders' in done.stderr


def test_a_paper_of_unknown_weight_is_asked_for(unkept):
    settings = unkept / "studio.toml"
    text = settings.read_text(encoding="utf-8").replace("grammage = 640\n", "")
    settings.write_text(text, encoding="utf-8")
    done = here("parcel", "A4", "--in", unkept)
    assert done.returncode == 2
    assert 'under [paper."Slatehouse Smooth"], or add --grammage 300' in done.stderr
    assert lines(unkept, "parcel", "A4", "--grammage", "640")[0].endswith("50.2 g each")


def test_the_limits_are_the_studios_own(unkept):
    set_up(
        unkept,
        "\n[packing]\nwall = 10\nboards = 2\ngrams = 30\n"
        '[parcel."flat box"]\nflat = "400 x 300"\nthick = 20\ngrams = 500\n'
        '[parcel.tube]\nrolled = 700\ngirth = 900\ngrams = 900\nnote = "price list of May"\n',
    )
    told = lines(unkept, "parcel", "A4")
    assert "GOES AS flat box" in told
    assert "  flat, 347 x 260 x 3 mm, 81 g with 30 g of packing" in told  # 50.2 and 30, up
    rolled = lines(unkept, "parcel", "A4", "--rolled", "--grammage", "300")
    assert rolled[-1].startswith("price list of May")


def test_what_a_new_studio_is_offered_is_what_holds_without_it(tmp_path):
    """Whoever takes the # away finds the very figures that were used before."""
    folder = tmp_path / "new"
    assert here("start", folder).returncode == 0
    path = folder / "studio.toml"
    offered = path.read_text(encoding="utf-8").splitlines()
    lines = [
        line.removeprefix("# ") if line.startswith("# [") or " = " in line else line
        for line in offered
    ]
    path.write_text("\n".join(lines), encoding="utf-8")
    settings = settings_in(folder)
    same = zip(limits_of(settings), POST_LIMITS, strict=True)
    assert all(replace(one, thick=other.thick) == other for one, other in same)
    assert packing_of(settings) == Packing()
    assert printer_of(settings, None) == Printer()
    assert (settings.apparatus.bed, settings.apparatus.overlap) == (A4_BED, OVERLAP)


def test_the_limits_as_a_table(unkept, tmp_path):
    out = tmp_path / "limits.csv"
    assert here("parcel", "A4", "--in", unkept, "-o", out).returncode == 0
    rows = list(csv.reader(out.read_text(encoding="utf-8-sig").splitlines()))
    assert rows[0] == ["sent as", "limit", "goes", "what is too much", "note"]
    assert rows[1] == [
        "large letter", "353 x 250 x 25 mm, 750 g", "yes", "", "check the current tariff",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("size", "more", "scans"),
    [
        ("A3", (), 3),  # "Scanning traditional art" (artofraz.com): A3 takes three
        ("A2", ("--overlap", "25"), 6),
        ("A2", (), 8),
        ("A4", (), 1),
        ("A3", ("--bed", "310 x 440"), 1),
    ],
)
def test_scans_on_an_a4_bed(unkept, size, more, scans):
    assert f"SCANS {scans}" in lines(unkept, "scan", size, *more)


def test_where_each_scan_begins(unkept, tmp_path):
    """420 in steps that leave 216 each: 0, 102 and 204, so neighbours share 114 mm."""
    out = tmp_path / "scans.csv"
    told = lines(unkept, "scan", "A3", "-o", out)
    assert told[-1] == "  its lower edge at 0, 102, 204 mm from the drawing's foot"
    rows = list(csv.reader(out.read_text(encoding="utf-8-sig").splitlines()))
    assert [row[2] for row in rows[1:]] == ["0 mm", "102 mm", "204 mm"]


def test_the_scanner_is_the_studios_own(unkept):
    set_up(unkept, '\n[scanner]\nbed = "310 x 440"\noverlap = 40\n')
    assert "SCANS 1" in lines(unkept, "scan", "A3")
    document = json.loads(here("scan", "A2", "--in", unkept, "--json").stdout)
    assert (document["form"], document["overlap"]) == ("sheetcut scan 1", 40)


def test_the_printers_strips_decide_which_edge_leads(unkept):
    """With 30 mm blank at the tail, a foot of 35 may come last and a top of 25 may not."""
    asked = ("quote", "150 x 200", "--kind", "print", "--paper", "Marram Rag")
    assert "into the printer with its top first; or " in "\n".join(lines(unkept, *asked))
    set_up(unkept, "\n[printer]\nsides = 10\nlead = 20\ntail = 30\n")
    assert "into the printer with its top first" in lines(unkept, *asked)
    document = json.loads(here(*asked, "--in", unkept, "--json").stdout)
    assert document["print"]["leads"] == ["top"]
    told = here("edition", "10", "--size", "150 x 200", "--in", unkept).stdout
    assert "  into the printer with its top first\n" in told


def test_a_border_under_the_printers_strip_is_told(unkept):
    """Of borders 25, 25, 25 and 35 the top alone must grow if the sheet goes in sideways."""
    set_up(unkept, "\n[printer]\nsides = 30\n")
    told = lines(unkept, "quote", "150 x 200", "--kind", "print", "--paper", "Marram Rag")
    assert (
        "mind: with the left leading, the printer leaves 30 mm blank at the top and the border "
        "there is 25 mm; make it at least 30 mm"
    ) in told


def test_a_foot_is_made_heavier(unkept):
    """13 mm more than the top, as framers do; a foot that is heavier already stays."""
    asked = ("quote", "150 x 200", "--kind", "print", "--paper", "Marram Rag", "--weighted")
    assert "borders left 30 mm, right 30 mm, top 30 mm, foot 43 mm" in "\n".join(
        lines(unkept, *asked, "--margin", "30")
    )
    assert "foot 50 mm" in "\n".join(lines(unkept, *asked, "--margin", "30, 30, 30, 50"))
