"""At the mat: what went otherwise is booked as it was, and a slip has the rest laid out again."""

import re
from html import unescape

import pytest

from sheetcut.drawer import Store, layout_states
from sheetcut.printout import sheaves
from sheetcut.units import mm
from tests.page.conftest import orders_kept, sheets_kept

TWO_ALIKE = "cut two alike"


def done_page(plan, number=1):
    """Return the address of the page after the last cut."""
    layout = sheaves(plan)[number - 1].layouts[0]
    return f"/mat/{plan.code}/{number}/{1 + len(layout.squaring) + len(layout.cuts)}"


def booked(browsing, plan, number=1, **typed):
    """Book sheets as cut with these fields typed over the form, and return the answer."""
    action = f"/mat/{plan.code}/{number}/cut"
    fields = browsing.form(done_page(plan, number), action)
    assert set(typed) <= set(fields), "the form has no such field"
    return browsing.post(action, **(fields | typed))


def states(browsing, plan):
    """Return how far the layouts of a plan are."""
    with Store.open(browsing.folder) as store:
        return layout_states(store, plan)


def to_cut(browsing, order):
    """Return how many blanks of a line would be planned now."""
    with Store.open(browsing.folder) as store:
        return sum(piece.count for piece in store.job().pieces if piece.order == order)


def with_keepers(plan):
    """Return the number of drawn sheets that leave one keeper, with it."""
    for number, sheaf in enumerate(sheaves(plan), 1):
        if sheaf.copies == 1 and sheaf.layouts[0].keepers:
            return number, sheaf.layouts[0].keepers[0]
    raise AssertionError("the demo's week leaves keepers")


def test_a_spoiled_blank_is_wanted_again(browsing, demo_plan):
    order = demo_plan.piece(demo_plan.layouts[0].placements[0].piece).order
    assert booked(browsing, demo_plan, **{f"spoiled-{order}": "1"}).status_code == 303
    assert "1 spoiled" in browsing.said()[0]
    own = sum(demo_plan.piece(one.piece).order == order for one in demo_plan.layouts[0].placements)
    wanted = orders_kept(browsing.folder)[order].count
    assert to_cut(browsing, order) == wanted - own + 1


def test_a_blank_that_was_not_cut_stays_to_be_cut(browsing, demo_plan):
    order = demo_plan.piece(demo_plan.layouts[0].placements[0].piece).order
    blanks = len(demo_plan.layouts[0].placements)
    booked(browsing, demo_plan, **{f"left-out-{order}": "1"})
    assert f"{blanks - 1} blanks" in browsing.said()[0]


def test_what_was_kept_is_booked_as_it_was_measured(browsing, demo_plan):
    """A cut at another reading left two pieces, one in centimetres as it was typed."""
    number, keeper = with_keepers(demo_plan)
    before = sheets_kept(browsing.folder)
    typed = {"keeping": "measured", "kept": "120 x 90 mm; 8 x 12 cm"}
    assert booked(browsing, demo_plan, number, **typed).status_code == 303
    new = [one for name, one in sheets_kept(browsing.folder).items() if name not in before]
    assert {(one.width, one.height) for one in new} == {(mm(120), mm(90)), (mm(80), mm(120))}
    assert keeper.names[0] not in sheets_kept(browsing.folder)


def test_nothing_kept_leaves_nothing(browsing, demo_plan):
    number, _ = with_keepers(demo_plan)
    before = set(sheets_kept(browsing.folder))
    booked(browsing, demo_plan, number, keeping="nothing")
    assert set(sheets_kept(browsing.folder)) <= before


def test_the_sheet_that_was_really_taken_goes_down(browsing, demo_plan):
    fields = browsing.form("/drawer", "/drawer/add")
    typed = {"sheet": "HP-IMP-B", "paper": "Slatehouse Smooth", "size": "560 x 762", "on-hand": "2"}
    browsing.post("/drawer/add", **(fields | typed))
    number = next(
        n for n, one in enumerate(sheaves(demo_plan), 1) if one.layouts[0].sheet == "HP-IMP"
    )
    assert booked(browsing, demo_plan, number, sheet="HP-IMP-B").status_code == 303
    after = sheets_kept(browsing.folder)
    assert (after["HP-IMP"].on_hand, after["HP-IMP-B"].on_hand) == (3, 1)


def test_one_of_two_sheets_alike_is_booked(browsing, demo_plan):
    number = next(n for n, one in enumerate(sheaves(demo_plan), 1) if TWO_ALIKE in one.title)
    sheaf = sheaves(demo_plan)[number - 1]
    field = "copies" if len(sheaf.layouts) == 1 else "layout"
    fields = browsing.form(done_page(demo_plan, number), f"/mat/{demo_plan.code}/{number}/cut")
    assert fields[field] == ""  # all of them, unless something is said
    page = browsing.get(done_page(demo_plan, number)).get_data(as_text=True)
    one = re.search(rf'name="{field}".*?<option(?: value="(\d+)")?>(?:the one|(\d+))', page, re.S)
    booked(browsing, demo_plan, number, **{field: one[1] or one[2]})
    assert sum(state.cut for state in states(browsing, demo_plan)) == 1
    booked(browsing, demo_plan, number)
    assert sum(state.cut for state in states(browsing, demo_plan)) == 2


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"keeping": "measured", "kept": "12O x 90"}, "12O"),
        ({"keeping": "measured", "kept": ""}, "no size is given"),
        ({"keeping": "measured", "kept": "5000 x 5000 mm"}, "more than its sheet"),
    ],
)
def test_what_cannot_be_is_refused_and_stays_typed(browsing, demo_plan, typed, said):
    answer = booked(browsing, demo_plan, **typed)
    page = unescape(answer.get_data(as_text=True))
    assert answer.status_code == 422
    assert said in page
    assert 'value="measured" checked' in page
    assert not any(state.cut for state in states(browsing, demo_plan))


def test_more_spoiled_than_there_are_is_refused(browsing, demo_plan):
    order = demo_plan.piece(demo_plan.layouts[0].placements[0].piece).order
    for number in ("99", "-1", "1.5", "x" * 50, "٣"):
        answer = booked(browsing, demo_plan, **{f"spoiled-{order}": number})
        assert answer.status_code == 422, number
    assert not any(state.cut for state in states(browsing, demo_plan))


def test_after_a_slip_the_rest_is_laid_out_on_what_is_in_hand(browsing, demo_plan):
    """Nothing is cut before the first step, so all of the sheet is still in hand."""
    code, layout = demo_plan.code, demo_plan.layouts[0]
    asked = browsing.get(f"/mat/{code}/1/1/slip").get_data(as_text=True)
    assert asked.count(' is lost"') == len(layout.placements)
    page = browsing.get(f"/mat/{code}/1/1/slip/1").get_data(as_text=True)
    assert "none yet" in page
    lost = demo_plan.piece(layout.placements[0].piece)
    assert f"{lost.order}, {lost.label} is lost" in unescape(page)
    assert '<svg class="drawing"' in page
    first = browsing.get(f"/mat/{code}/1/1/slip/1/1/1").get_data(as_text=True)
    assert 'rel="next"' in first
    assert not any(state.cut for state in states(browsing, demo_plan))


def test_a_slip_after_the_last_cut_is_booked_as_it_came_out(browsing, demo_plan):
    """All is cut and one blank is lost: it alone is short, and the form says so already."""
    code, layout = demo_plan.code, demo_plan.layouts[0]
    last = len(layout.squaring) + len(layout.cuts) + 1
    page = browsing.get(f"/mat/{code}/1/{last}/slip/1").get_data(as_text=True)
    lost = demo_plan.piece(layout.placements[0].piece).order
    assert f"one of {lost} will want another sheet" in page.replace("\n", " ")
    book = unescape(re.search(r'href="([^"]*keeping=[^"]*)"', page)[1])
    fields = browsing.form(book, f"/mat/{code}/1/cut")
    assert fields[f"left-out-{lost}"] == "1"
    assert browsing.post(f"/mat/{code}/1/cut", **fields).status_code == 303
    assert f"{len(layout.placements) - 1} blanks" in browsing.said()[0]


@pytest.mark.parametrize("end", ["99/slip", "0/slip", "1/slip/99", "1/slip/0", "1/slip/1/9/1",
                                 "1/slip/1/1/99", "1/slip/1/1/0"])  # fmt: skip
def test_a_slip_that_cannot_be_is_no_page(browsing, demo_plan, end):
    assert browsing.get(f"/mat/{demo_plan.code}/1/{end}").status_code == 404
