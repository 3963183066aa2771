"""Values typed one by one: understood and refused as the cells of a table are."""

from dataclasses import replace

import pytest

from sheetcut.errors import ProblemsFound
from sheetcut.job import Sheet
from sheetcut.read import (
    FileUnreadable,
    NoFolder,
    Settings,
    settings_in,
    sheets_in,
    typed_order,
    typed_sheet,
)
from sheetcut.units import Edges, inch, mm

RAG = Sheet("RAG-L", "Marram Rag", mm(610), mm(914))
SMOOTH = Sheet("HP-IMP", "Slatehouse Smooth", mm(560), mm(760))


def sheet(typed: dict[str, str], settings: Settings | None = None) -> Sheet:
    """Return the sheet that typed values make."""
    told = typed_sheet(typed, settings or Settings(), [RAG], where="here")
    assert told.sheet is not None
    return told.sheet


def test_a_bare_number_is_in_the_studio_s_unit():
    inches = Settings(unit="in")
    assert sheet({"paper": "x", "size": "22 x 30"}, inches).width == inch(22)
    assert sheet({"paper": "x", "size": "22 x 30 cm"}, inches).width == mm(220)


def test_a_paper_in_other_capitals_is_the_same_paper():
    assert sheet({"sheet": "a", "paper": "MARRAM RAG", "size": "A3"}).paper == "Marram Rag"


def test_a_new_paper_is_told_of_and_a_near_one_offered():
    for paper, told in (("Maram Rag", '; did you mean "Marram Rag"?'), ("Vellum", "")):
        read = typed_sheet({"paper": paper, "size": "A3"}, Settings(), [RAG], where="here")
        assert read.notes[-1] == f'here: the paper "{paper}" is new to the drawer{told}'


def test_an_order_needs_no_paper_where_the_drawer_has_but_one():
    read = typed_order({"order": "1", "size": "A4"}, Settings(), [RAG], where="here")
    assert read.piece is not None
    assert (read.piece.paper, read.piece.width) == ("Marram Rag", mm(210))
    with pytest.raises(ProblemsFound, match="here, paper: no paper is named"):
        typed_order({"order": "1", "size": "A4"}, Settings(), [RAG, SMOOTH], where="here")


def test_usual_margins_hold_as_in_the_table():
    usual = Settings(usual_margins={"card": Edges(*[mm(3)] * 4)})
    typed = {"order": "1", "size": "A6", "kind": "card"}
    read = typed_order(typed, usual, [RAG], where="here")
    assert read.piece is not None
    assert read.piece.margin == Edges(*[mm(3)] * 4)


def test_every_value_that_cannot_be_read_is_told_at_once_without_row_or_cell():
    with pytest.raises(ProblemsFound) as found:
        sheet({"paper": "x", "size": "A33", "price": "-1", "grain": "diagonal"})
    told = [str(problem).split(":")[0] for problem in found.value.problems]
    assert told == ["here, size", "here, price", "here, grain"]


def test_what_can_never_be_right_is_told_with_where():
    with pytest.raises(ProblemsFound, match=r"^here, left: .* leave nothing of the width"):
        sheet({"paper": "x", "size": "A4", "left": "300"})


def test_settings_stand_alone(tmp_path):
    assert settings_in(tmp_path) == Settings()
    (tmp_path / "studio.toml").write_text('unit = "in"\n')
    assert settings_in(tmp_path) == replace(Settings(), unit="in")
    (tmp_path / "studio.toml").write_text('unit = "ell"\n')
    with pytest.raises(ProblemsFound, match=r"studio\.toml, row 1, unit"):
        settings_in(tmp_path)
    with pytest.raises(NoFolder):
        settings_in(tmp_path / "nowhere")


def test_a_table_that_is_not_there_is_named(tmp_path):
    with pytest.raises(FileUnreadable, match=r"away\.csv"):
        sheets_in(tmp_path / "away.csv", Settings())
