"""Plans booked as cut: the drawer, the orders and the books after the knife."""

from collections import Counter
from dataclasses import replace

import pytest

from sheetcut.document import plan_bytes, read_plan
from sheetcut.drawer import (
    AsCut,
    Leftover,
    add_order,
    add_sheet,
    balances,
    correct_order,
    correct_sheet,
    cut_plan,
    figures,
    found_otherwise,
    hold,
    in_drawer,
    layout_states,
    release,
    remove_order,
    spoil,
    watch_stock,
    work_list,
)
from sheetcut.drawer.refusals import AlreadyCut, LineInWork, NotHeld, PlanOutOfDate, WrongAmount
from sheetcut.drawer.spoiling import book_value
from sheetcut.errors import UnusableRecord
from sheetcut.job import Job, Sheet
from sheetcut.units import Edges, in_mm2, mm
from tests.drawer.studio import (
    NOW,
    RAG,
    SMOOTH,
    begun,
    demo_drawing_paper,
    demo_plan,
    drawing,
    laid,
    on_hand,
    plan_of,
    state,
)


def test_the_demo_week_is_cut_in_one_change(store):
    """Figures of TRADE 10.1 to 10.5: 18 pieces, £75.40, 21.1 % of the gross paper wasted."""
    done = cut_plan(store, demo_plan(), now=NOW)
    assert done.cost == 7540
    assert done.blanks == 18
    assert on_hand(store) == {"HP-IMP": 0, "HP-DE": 0}  # heron 7 is spent, so it is gone
    assert store.job().pieces == ()
    (figure,) = figures(store)
    assert (figure.month, figure.used, figure.cost) == ("2026-11", 5, 7540)
    assert in_mm2(figure.used_area) == 3 * 560 * 760 + 686 * 1016 + 268 * 540
    assert in_mm2(figure.finished + figure.margins) == 1_671_052
    assert round(100 * figure.wasted / figure.used_area, 1) == 21.1
    assert len(store.history()) == 2  # the import, and the cut


def test_every_cent_of_the_paper_is_on_some_blank(store):
    cut_plan(store, demo_plan(), now=NOW)
    with store.reading() as rows:
        shares = Counter()
        for blank in rows.all("blank"):
            shares[rows.one("order_line", id=blank["line"])["name"]] += blank["share"]
    assert sum(shares.values()) == 7540
    assert abs(shares["D10"] - 2120) <= 1  # 21.20 before the odd cents, TRADE 10.5


def test_a_plan_read_back_is_the_same_plan(store):
    again = read_plan(plan_bytes(demo_plan()))
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1)])
    assert [one.cut for one in layout_states(store, again)] == [1, 0, 0, 0, 0]


def test_some_layouts_now_and_the_rest_another_day(store):
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1), AsCut(5)])
    left = {piece.order: piece.count for piece in store.job().pieces}
    assert left == {
        "D02": 1, "D04": 1, "D05": 2, "D06": 1, "D08": 3, "D09": 1, "D10": 1, "D11": 2,
    }  # fmt: skip
    assert on_hand(store)["HP-IMP"] == 2
    done = cut_plan(store, demo_plan(), now=NOW)  # all that was not cut yet
    assert dict(done.sheets) == {"HP-IMP": 2, "HP-DE": 1}
    assert store.job().pieces == ()


def test_a_layout_is_cut_but_once(store):
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(2)])
    before = state(store)
    with pytest.raises(AlreadyCut, match="layout 2"):
        cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1), AsCut(2)])
    assert state(store) == before
    cut_plan(store, demo_plan(), now=NOW)
    with pytest.raises(AlreadyCut):
        cut_plan(store, demo_plan(), now=NOW)
    store.undo(now=NOW)
    assert state(store) == before


def test_what_changed_is_said_and_nothing_is_done(store):
    correct_sheet(store, "HP-IMP", now=NOW, on_hand=1)
    correct_order(store, "D10", now=NOW, height=mm(790))
    before = state(store)
    with pytest.raises(PlanOutOfDate) as refused:
        cut_plan(store, demo_plan(), now=NOW)
    assert refused.value.changes == (
        "HP-IMP: 3 needed, 1 on hand",
        "order D10: height was 780 mm, is 790 mm",
    )
    assert refused.value.still_good == (1, 5)  # 2 and 3 want a sheet each, 4 holds D10
    assert "Plan again, or cut only layouts 1, 5. Nothing was changed" in str(refused.value)
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1), AsCut(5)])
    store.undo(now=NOW)
    assert state(store) == before


def test_changes_elsewhere_do_not_stop_a_plan(store):
    correct_sheet(store, "HP-DE", now=NOW, width=mm(680), grain="not known")
    correct_order(store, "D10", now=NOW, height=mm(790))
    correct_sheet(store, "HP-IMP", now=NOW, price=1600, note="dearer now", on_hand=7)
    correct_order(store, "D01", now=NOW, client="Pascoe-Vane", count=3)
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1), AsCut(2), AsCut(3)])
    assert on_hand(store)["HP-IMP"] == 4
    assert {piece.order: piece.count for piece in store.job().pieces}["D01"] == 2


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"width": mm(558)}, "HP-IMP: width was 560 mm, is 558 mm"),
        ({"edge_loss": Edges(mm(9), mm(8), mm(8), mm(8))},
         "HP-IMP: edge loss left was 8 mm, is 9 mm"),
        ({"grain": "along width"}, "HP-IMP: grain was along height, is along width"),
        ({"paper": RAG}, f"HP-IMP: paper was {SMOOTH}, is {RAG}"),
        ({"side": "one"}, "HP-IMP: side was both, is one"),
    ],
)  # fmt: skip
def test_a_sheet_that_is_no_longer_what_it_was(store, fields, says):
    correct_sheet(store, "HP-IMP", now=NOW, **fields)
    with pytest.raises(PlanOutOfDate) as refused:
        cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1)])
    assert refused.value.changes == (says,)


def test_a_line_or_sheet_that_is_gone(store):
    remove_order(store, "D07", now=NOW)
    with pytest.raises(PlanOutOfDate, match="order D07 is no longer there"):
        cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(5)])
    store.undo(now=NOW)
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(5)])
    other = plan_of(demo_drawing_paper(), laid(demo_drawing_paper(), "heron 7", [("D02", 0, 0)]))
    with pytest.raises(PlanOutOfDate, match="heron 7 is no longer in the drawer"):
        cut_plan(store, other, now=NOW)


def test_a_line_cut_by_another_plan_is_not_cut_twice(store):
    cut_plan(store, demo_plan(), now=NOW)
    job = demo_drawing_paper()
    other = plan_of(job, laid(job, "HP-IMP", [("D07", 0, 0)]), code="ABCD")
    correct_sheet(store, "HP-IMP", now=NOW, on_hand=1)
    with pytest.raises(PlanOutOfDate, match="1 blank in these layouts, 1 wanted, 1 cut already"):
        cut_plan(store, other, now=NOW)


def keeper_plan(*, copies=1, names=("avocet 1",), squared=("left", "foot"), lines=2):
    """Return a plan that leaves the right part of an Imperial sheet, 217 x 744."""
    job = replace(demo_drawing_paper(), pieces=(drawing("D01", 297, 420, lines),))
    return plan_of(
        job,
        laid(job, "HP-IMP", [("D01", 0, 0)], keepers=((327, 0, 217, 744),), names=names,
             copies=copies, squared=squared),
    )  # fmt: skip


def test_keepers_go_up_with_their_tags(folder):
    plan = keeper_plan(copies=2, names=("avocet 1", "curlew 1"))
    with begun(folder, plan.job) as store:
        done = cut_plan(store, plan, now=NOW)
        assert done.keepers == ["avocet 1", "curlew 1"]
        kept = {one.sheet.id: one for one in in_drawer(store)}["curlew 1"]
        # 15.20 x 217 x 744 / (560 x 760) is 5.766: its part of the sheet by measured area
        assert kept.sheet == Sheet(
            "curlew 1", SMOOTH, mm(217), mm(744), 1, 577, grain="along height", kind="offcut"
        )
        assert kept.true_edges == ("left", "foot")  # deckles still on at right and top
        assert kept.origin == "plan K7QP, from HP-IMP"
        assert balances(store)[SMOOTH].is_even


def test_an_edge_is_true_where_it_was_squared(folder):
    plan = keeper_plan(squared=("left", "foot", "top"))
    with begun(folder, plan.job) as store:
        cut_plan(store, plan, now=NOW)
        kept = {one.sheet.id: one for one in in_drawer(store)}["avocet 1"]
        assert kept.true_edges == ("left", "top", "foot")


def test_a_keeper_of_an_offcut_is_as_true_as_that_was(folder):
    """From avocet 1, whose right edge and top still have their deckles, a third is left."""
    first = keeper_plan()
    with begun(folder, first.job) as store:
        cut_plan(store, first, now=NOW)
        job = replace(store.job(), pieces=(drawing("D02", 148, 210, 1, 12),))
        add_order(store, job.pieces[0], now=NOW)
        kept = ((0, 234, 217, 510),)
        second = plan_of(
            job, laid(job, "avocet 1", [("D02", 0, 0)], keepers=kept, names=("knot 1",))
        )
        cut_plan(store, second, now=NOW)
        knot = {one.sheet.id: one for one in in_drawer(store)}["knot 1"]
        assert knot.true_edges == ("left", "foot")
        # 15.20 x 217 x 744 / (560 x 760) is 5.77; of that 510 / 744 is 3.955
        assert knot.sheet.price == 396


@pytest.mark.parametrize(
    ("price", "sheet", "offcut", "value"),
    [
        (1520, (560, 760), (268, 540), 517),  # heron 7, TRADE 10.1
        (1140, (610, 914), (300, 610), 374),  # plover 3, TRADE 10.1
        (1, (2, 1), (1, 1), 1),  # half a cent counts as one
        (None, (2, 1), (1, 1), None),
    ],
)
def test_a_keeper_is_worth_its_part_of_the_sheet(price, sheet, offcut, value):
    assert book_value(price, sheet[0] * sheet[1], offcut[0] * offcut[1]) == value


def test_a_tag_that_is_taken_meanwhile_is_replaced_aloud(folder):
    plan = keeper_plan()
    with begun(folder, plan.job) as store:
        add_sheet(store, Sheet("Avocet 1", SMOOTH, mm(200), mm(300), 1, kind="offcut"), now=NOW)
        done = cut_plan(store, plan, now=NOW)
        (name,) = done.keepers
        assert name not in ("avocet 1", "Avocet 1")
        assert store.notices == [
            f"avocet 1 is in the drawer already: pencil {name} on the new keeper instead"
        ]


def test_a_layout_cut_differently(folder):
    """One blank not cut, another spoiled at once, and what was kept smaller than planned."""
    job = replace(
        demo_drawing_paper(), pieces=(drawing("D01", 297, 420), drawing("D02", 148, 210, 4, 12))
    )
    layout = laid(job, "HP-IMP", [("D01", 0, 0), ("D02", 327, 0), ("D02", 327, 234)])
    plan = plan_of(job, layout)
    with begun(folder, job) as store:
        told = AsCut(
            1, left_out=(("D01", 1),), spoiled=(("D02", 1),), kept=(Leftover(mm(300), mm(700)),)
        )
        done = cut_plan(store, plan, now=NOW, as_cut=[told])
        assert (done.blanks, done.spoiled) == (2, 1)
        assert {piece.order: piece.count for piece in store.job().pieces} == {"D01": 1, "D02": 3}
        balance = balances(store)[SMOOTH]
        assert balance.is_even
        assert in_mm2(balance.finished) == 148 * 210
        assert in_mm2(balance.margins) == 172 * 234 - 148 * 210
        assert in_mm2(balance.scrap) == 560 * 760 - 172 * 234 - 300 * 700


@pytest.mark.parametrize(
    "told",
    [
        AsCut(1, left_out=(("D01", 2),)),
        AsCut(1, left_out=(("D02", 1),)),
        AsCut(1, spoiled=(("D01", 1), ("D01", 1))),
        AsCut(1, spoiled=(("D01", -1),)),
        AsCut(1, kept=(Leftover(mm(560), mm(760)),)),
        AsCut(1, kept=(Leftover(mm(561), mm(10)),)),
        AsCut(1, copies=2),
        AsCut(1, copies=0),
        AsCut(2),
        AsCut(0),
    ],
)
def test_what_cannot_have_happened_is_refused(folder, told):
    plan = keeper_plan()
    with begun(folder, plan.job) as store:
        before = state(store)
        with pytest.raises(WrongAmount):
            cut_plan(store, plan, now=NOW, as_cut=[told])
        assert state(store) == before


def test_a_sheet_found_smaller_stands_apart_and_can_be_cut_by_name(store):
    smaller = (mm(556), mm(760))
    says = found_otherwise(store, "HP-IMP", now=NOW, measured=smaller)
    assert "HP-IMP (2)" in says
    assert on_hand(store)["HP-IMP (2)"] == 1
    assert in_mm2(balances(store)[SMOOTH].corrected) == (
        3 * 560 * 760 + 686 * 1016 + 268 * 540 - 4 * 760
    )
    told = [AsCut(1), AsCut(2), AsCut(3, sheet="HP-IMP (2)")]
    cut_plan(store, demo_plan(), now=NOW, as_cut=told)
    assert on_hand(store)["HP-IMP (2)"] == 0
    assert balances(store)[SMOOTH].is_even


def test_a_bruised_sheet_stands_apart(store):
    loss = Edges(mm(8), mm(40), mm(8), mm(8))
    found_otherwise(store, "HP-IMP", now=NOW, edge_loss=loss)
    sheets = {sheet.id: sheet for sheet in store.job().sheets}
    assert sheets["HP-IMP"].on_hand == 2
    assert sheets["HP-IMP (2)"].edge_loss == loss
    with pytest.raises(WrongAmount, match="4 of 2 on hand"):
        found_otherwise(store, "HP-IMP", now=NOW, number=4, edge_loss=loss)
    with pytest.raises(UnusableRecord):
        found_otherwise(store, "HP-IMP", now=NOW, edge_loss=Edges(mm(300), mm(300)))


def test_what_is_pinned_up_is_spoken_for(store):
    hold(store, demo_plan(), now=NOW, layouts=[1, 5])
    job = store.job()
    assert {sheet.id: sheet.on_hand for sheet in job.sheets} == {"HP-IMP": 2, "HP-DE": 1}
    assert [piece.order for piece in job.pieces] == [
        "D02", "D04", "D05", "D06", "D08", "D09", "D10", "D11",
    ]  # fmt: skip
    assert store.recorded() == demo_drawing_paper()
    again = plan_of(job, laid(job, "HP-IMP", [("D06", 0, 0)], copies=1), code="AGAI")
    cut_plan(store, again, now=NOW)
    with pytest.raises(PlanOutOfDate, match="spoken for by what is pinned up"):
        cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(2), AsCut(3)])
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1), AsCut(5)])
    assert on_hand(store) == {"HP-IMP": 1, "HP-DE": 1}
    assert [one.held for one in layout_states(store, demo_plan())] == [0, 0, 0, 0, 0]


def test_what_is_taken_down_is_free_again(store):
    before = store.job()
    hold(store, demo_plan(), now=NOW)
    assert all(sheet.on_hand == 0 for sheet in store.job().sheets)
    release(store, demo_plan(), now=NOW, layouts=[1])
    with pytest.raises(NotHeld):
        release(store, demo_plan(), now=NOW, layouts=[1])
    release(store, demo_plan(), now=NOW)
    assert store.job() == before


def test_sheets_nobody_counts_come_into_the_books_as_they_are_cut(folder):
    plan = keeper_plan()
    sheet = replace(plan.job.sheets[0], on_hand=None)
    job = replace(plan.job, sheets=(sheet, *plan.job.sheets[1:]))
    with begun(folder, job) as store:
        cut_plan(store, plan, now=NOW)
        assert on_hand(store)["HP-IMP"] is None
        assert in_mm2(balances(store)[SMOOTH].bought) == 560 * 760
        assert balances(store)[SMOOTH].is_even


def test_a_low_sheet_is_announced(store):
    watch_stock(store, "HP-IMP", 1, now=NOW)
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1)])
    assert store.notices == []
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(2)])
    assert store.notices == ["HP-IMP: 1 on hand; time to buy (at 1 or fewer)"]
    assert [one.sheet.id for one in in_drawer(store) if one.is_low] == ["HP-IMP"]


def test_a_line_in_work_cannot_be_taken_out(store):
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1)])
    with pytest.raises(LineInWork, match="1 blank is cut for it"):
        remove_order(store, "D01", now=NOW)


def test_paper_without_a_price_is_cut_all_the_same(folder):
    plan = keeper_plan()
    job = Job([replace(plan.job.sheets[0], price=None)], plan.job.pieces)
    with begun(folder, job) as store:
        done = cut_plan(store, plan_of(job, laid(job, "HP-IMP", [("D01", 0, 0)])), now=NOW)
        assert done.cost is None
        spoil(store, "D01", now=NOW, leftover=Leftover(mm(100), mm(200)))
        assert {s.id: s.price for s in store.job().sheets} == {"HP-IMP": None, "avocet 1": None}
        assert work_list(store) == ()
