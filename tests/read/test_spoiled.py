"""Spoiled files of every kind: each gets a sentence with file, row and cell, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetcut.errors import ProblemsFound, SheetcutError
from sheetcut.read import read_studio

ORDER_HEAD = b"order,paper,size,margin,count\n"
DRAWER_HEAD = b"sheet,paper,size,edge loss,on hand\n"


@dataclass(frozen=True)
class Spoiled:
    """One cell spoiled, and where the problem must be found."""

    table: str
    heading: str
    value: str
    says: str
    row: int = 2
    cell: str | None = None


CELLS = [
    # sizes
    Spoiled("orders", "size", "", "no size is given", cell="F2"),
    Spoiled("orders", "size", "297", "two lengths are wanted", cell="F2"),
    Spoiled("orders", "size", "297 x", "two lengths are wanted", cell="F2"),
    Spoiled("orders", "size", "0 x 297", "a side of nothing", cell="F2"),
    Spoiled("orders", "size", "-210 x 297", "less than nothing", cell="F2"),
    Spoiled("orders", "size", "210 x 297 x 3", "has 3 lengths", cell="F2"),
    Spoiled("orders", "size", "21O x 297", "a letter stands among the figures", cell="F2"),
    Spoiled("orders", "size", "B4", "JIS B4", cell="F2"),
    Spoiled("orders", "size", "A11", "is not a size", cell="F2"),
    Spoiled("orders", "size", "1e3 x 297", "shortens a number", cell="F2"),
    Spoiled("orders", "size", "99999 x 297", "longer than 10 m", cell="F2"),
    Spoiled("orders", "size", "05-Aug", "is a date", cell="F2"),
    Spoiled("orders", "size", "=B2*2", "a formula", cell="F2"),
    Spoiled("orders", "size", "210 x 297\x07", "cannot be seen (U+0007)", cell="F2"),
    Spoiled("orders", "size", "9" * 10_000_000, "goes on for 10000000 characters", cell="F2"),
    Spoiled("orders", "size", "8½ x 11", "a fraction and no unit", cell="F2"),
    Spoiled("orders", "size", "8 x 10", "may be inches or cm", cell="F2"),
    Spoiled("orders", "size", "11 in x 14", "after the first length only", cell="F2"),
    # margins and borders
    Spoiled("orders", "margin", "1,000 mm", "can mean 1 mm or 1 m", cell="G2"),
    Spoiled("orders", "margin", "1.000,5", "in groups", cell="G2"),
    Spoiled("orders", "margin", "-5", "less than nothing", cell="G2"),
    Spoiled("orders", "margin", "=1+1", "a formula", cell="G2"),
    Spoiled("orders", "margin", "81/2", "can mean 8 1/2 mm or 40.5 mm", cell="G2"),
    Spoiled("orders", "margin", "30/30/30/40", "several lengths", cell="G2"),
    Spoiled("orders", "margin", "15 px", "a unit that is not known", cell="G2"),
    Spoiled("orders", "left", "wide", "is not a length", row=3, cell="H3"),
    Spoiled("orders", "foot", "Aug-35", "is a date", row=3, cell="K3"),
    # counts, turns, deckles, kinds
    Spoiled("orders", "count", "0", "0 pieces are wanted", cell="L2"),
    Spoiled("orders", "count", "-3", "pieces are wanted", cell="L2"),
    Spoiled("orders", "count", "2.5", "is not whole", cell="L2"),
    Spoiled("orders", "count", "two", "not written in figures", cell="L2"),
    Spoiled("orders", "count", "9999999", "more than 100000", cell="L2"),
    Spoiled("orders", "turn", "perhaps", "the turn rule", cell="M2"),
    Spoiled("orders", "turn", "grain upp", "the turn rule", cell="M2"),
    Spoiled("orders", "deckle", "north", "an edge that is not known", cell="N2"),
    Spoiled("orders", "deckle", "2", "does not say which edges", cell="N2"),
    Spoiled("orders", "kind", "poster", "the kind", cell="E2"),
    # days, prices, papers, names
    Spoiled("orders", "due", "05/06/2026", "5 June 2026 or 6 May 2026", cell="O2"),
    Spoiled("orders", "due", "31 Feb 2026", "no calendar has", cell="O2"),
    Spoiled("orders", "due", "4", "a number, not a day", cell="O2"),
    Spoiled("orders", "due", "next week", "is not a day", cell="O2"),
    Spoiled("orders", "price", "15.205", "three decimals", cell="P2"),
    Spoiled("orders", "price", "4 x 85", "is a sum", cell="P2"),
    Spoiled("orders", "price", "free", "is not a price", cell="P2"),
    Spoiled("orders", "paper", "Ragg", "is not in the drawer", cell="D2"),
    Spoiled("orders", "paper", "", "no paper is named", cell="D2"),
    Spoiled("orders", "paper", "heron 7", "is a sheet, not a paper", cell="D2"),
    Spoiled("orders", "order", "P1", "stands in row 2 too", row=3, cell="A3"),
    Spoiled("orders", "piece", "Winch\x1b[31m", "cannot be seen (U+001B)", cell="C2"),
    Spoiled("orders", "note", "n" * 10_000_000, "goes on for 10000000 characters", cell="Q2"),
    # the drawer
    Spoiled("drawer", "size", "", "no size is given", cell="C2"),
    Spoiled("drawer", "size", "Imperail", "did you mean Imperial", cell="C2"),
    Spoiled("drawer", "size", "56 x 76", "may be inches or cm", cell="C2"),
    Spoiled("drawer", "size", "610 by", "two lengths are wanted", cell="C2"),
    Spoiled("drawer", "paper", "", "no paper is named", cell="B2"),
    Spoiled("drawer", "sheet", "heron 7", "stands in row 2 too", row=3, cell="A3"),
    Spoiled("drawer", "edge loss", "305", "leave nothing of the width", cell="D2"),
    Spoiled("drawer", "left", "-1", "less than nothing", cell="E2"),
    Spoiled("drawer", "top", "445", "leave nothing of the height", row=4, cell="G4"),
    Spoiled("drawer", "deckle", "four of them", "an edge that is not known", cell="I2"),
    Spoiled("drawer", "side", "left", "the side", cell="J2"),
    Spoiled("drawer", "grain", "500", "not one side of the sheet", cell="K2"),
    Spoiled("drawer", "grain", "diagonal", "the grain", cell="K2"),
    Spoiled("drawer", "on hand", "-1", "sheets are on hand", cell="L2"),
    Spoiled("drawer", "on hand", "1.5", "is not whole", cell="L2"),
    Spoiled("drawer", "price", "-5", "less than nothing", cell="M2"),
    Spoiled("drawer", "packs", "ten for 5", "is not a pack", cell="N2"),
    Spoiled("drawer", "packs", "10 for x", "is not a price", cell="N2"),
    Spoiled("drawer", "kind", "remains", "the kind", cell="O2"),
]


@pytest.mark.parametrize("spoiled", CELLS, ids=lambda one: f"{one.heading}={one.value[:20]!r}")
def test_a_spoiled_cell_is_found_where_it_stands(make_studio, with_cell, spoiled):
    text = with_cell(spoiled.table, spoiled.row, spoiled.heading, spoiled.value)
    if spoiled.heading in {"order", "sheet"}:  # the other row of the two takes the same name
        text = with_cell(spoiled.table, 2, spoiled.heading, spoiled.value)
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio(**{spoiled.table: text}))
    problem = found.value.problems[0]
    assert (problem.source, problem.row) == (f"{spoiled.table}.csv", spoiled.row)
    assert problem.cell == spoiled.cell
    assert spoiled.says in str(problem)
    assert problem.remedy
    assert len(str(found.value)) < 500
    assert str(found.value).isprintable()


@pytest.mark.parametrize(
    ("name", "content", "row", "cell", "says"),
    [
        # the file as a whole
        ("orders.csv", b"", None, None, "is empty"),
        ("orders.csv", b"\xef\xbb\xbf", None, None, "no rows in it"),
        ("orders.csv", b"\n\n\n", None, None, "is empty"),
        ("orders.csv", b"\x00" * 100, None, None, "is not text"),
        ("orders.csv", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n", 1, None, "headings are not"),
        ("orders.csv", b"\x89PNG\r\n\x1a\n\x00\x00", None, None, "is not text"),
        ("orders.csv", b"PK\x03\x04\x14\x00", None, None, "name it orders.xlsx"),
        ("orders.csv", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", None, None, ".xls"),
        ("orders.csv", b"{\"orders\": []}", 1, None, "headings are not there"),
        ("orders.csv", b"<html><body>Sign in</body></html>", 1, None, "headings are not there"),
        ("orders.csv", b"1,Rag,A4\n2,Rag,A5\n", 1, None, "headings are not there"),
        ("orders.csv", b"x" * 20_000_001, None, None, "20 MB is the most"),
        ("orders.csv", ORDER_HEAD + b'1,"Rag,A4,15,1\n', 2, None, "does not close"),
        ("orders.xlsx", b"order,paper,size\n1,Rag,A4\n", None, None, "name it orders.csv"),
        ("orders.xlsx", b"", None, None, "is empty"),
        ("orders.xlsx", b"PK\x03\x04broken", None, None, "is damaged"),
        ("orders.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", None, None, "password"),
        # headings
        ("orders.csv", b"order,paperr,size\n1,Rag,A4\n", 1, "B1", 'did you mean "paper"'),
        ("orders.csv", b"order,paper,size,qty,count\n1,Rag,A4,1,2\n", 1, "E1", "the same as"),
        ("orders.csv", b"order,paper,count\n1,Rag,2\n", 1, None, "no column has this heading"),
        ("orders.csv", DRAWER_HEAD.replace(b"edge loss", b"grain"), 1, None, "those of the drawer"),
        # rows
        ("orders.csv", ORDER_HEAD + b"1,Rag,A4,29,7,2\n", 2, "F2", "under no heading"),
        ("orders.csv", ORDER_HEAD + b"1,Rag,A4,15,1,extra\n", 2, "F2", "under no heading"),
        ("orders.csv", b"order,,paper,size\n1,what,Rag,A4\n", 2, "B2", "under no heading"),
        ("orders.csv", ORDER_HEAD + b"Total,,,,25\n", 2, "B2", "no paper is named"),
        ("orders.csv", ORDER_HEAD + b"1,Rag,9999 x 9999,,\n2,Rag,A4,,0\n", 3, "E3", "0 pieces"),
        ("drawer.csv", b"sheet,paper,size\na,Rag,A2\na,Laid,A3\n", 3, "A3", "stands in row 2 too"),
        ("drawer.csv", b"sheet,papr,size\na,Rag,A2\n", 1, "B1", 'did you mean "paper"'),
        ("drawer.csv", b"", None, None, "is empty"),
        # settings
        ("studio.toml", b"name = \n", 1, None, "cannot be read"),
        ("studio.toml", b"\x00\x01\x02\x03\xff", None, None, "is not text"),
        ("studio.toml", b"mat = 600 x 450\n", 1, None, "cannot be read"),
        ("studio.toml", b"matt = 5\n", 1, None, "is not a setting"),
        ("studio.toml", b"ruler = -5\n", 1, None, "less than nothing"),
        ("studio.toml", b"x" * 1_000_001, None, None, "far too much"),
    ],
)  # fmt: skip
def test_a_spoiled_file_is_told_in_a_sentence(make_studio, name, content, row, cell, says):
    files = {"orders.csv": None, "orders.xlsx": None, "drawer.csv": None, "studio.toml": None}
    files[name] = content
    with pytest.raises(ProblemsFound) as found:
        read_studio(
            make_studio(
                files["orders.xlsx"] if name == "orders.xlsx" else files["orders.csv"],
                files["drawer.csv"],
                files["studio.toml"],
                orders_name="orders.xlsx" if name == "orders.xlsx" else "orders.csv",
            )
        )
    problem = found.value.problems[0]
    assert (problem.source, problem.row, problem.cell) == (name, row, cell)
    assert says in str(problem)
    assert problem.remedy
    assert str(found.value).replace("\n", " ").isprintable()


def test_a_print_larger_than_anything_is_a_problem_with_its_row(make_studio):
    rows = b"order,paper,kind,size,margin\n1,Rag,print,9.9 m x 1 m,100\n"
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio(rows))
    (problem,) = found.value.problems
    assert (problem.row, problem.cell) == (2, None)
    assert "its width is 10100 mm" in problem.message  # 9.9 m and a border of 10 cm at both sides
    assert "at most 10 m" in problem.remedy


_slow = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
_bytes = st.one_of(
    st.binary(max_size=80),
    st.text(max_size=60).map(str.encode),
    st.lists(
        st.sampled_from(
            [b"1", b"Rag", b"A4", b"210 x 297", b",", b";", b"\t", b"\n", b"\r\n", b'"', b"\xff",
             b"\xc2\xbd", b"15", b"=1+1", b"05-Aug", b"\x00", b"-", b"two", b"2026-12-03"]
        ),
        max_size=40,
    ).map(b"".join),
)  # fmt: skip


@_slow
@given(content=_bytes, is_headed=st.booleans())
def test_any_orders_are_read_or_refused(make_studio, content, is_headed):
    _read_or_refused(make_studio((ORDER_HEAD if is_headed else b"") + content))


@_slow
@given(content=_bytes, is_headed=st.booleans())
def test_any_drawer_is_read_or_refused(make_studio, content, is_headed):
    _read_or_refused(make_studio(None, (DRAWER_HEAD if is_headed else b"") + content))


@_slow
@given(content=st.one_of(_bytes, st.sampled_from([b"mat=", b"unit=", b"paper."]).flatmap(
    lambda key: st.text("0123456789.x\"'[]{}=\n atrue", max_size=20).map(
        lambda text: key + text.encode()))))  # fmt: skip
def test_any_settings_are_read_or_refused(make_studio, content):
    _read_or_refused(make_studio(None, None, content))


def _read_or_refused(folder):
    try:
        read_studio(folder)
    except SheetcutError as error:
        assert str(error).replace("\n", " ").isprintable()
