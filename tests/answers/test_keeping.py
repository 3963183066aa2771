"""More to cut: what is pinned up stays, and nothing is lost."""

from collections import Counter
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings

from sheetcut.answers.due import NothingDue, due_by
from sheetcut.answers.keeping import keeping
from sheetcut.answers.kept_layouts import likeness, tree_of
from sheetcut.answers.supply import Effort
from sheetcut.check import faults_in
from sheetcut.cuts import arrange, cut_order
from sheetcut.document import plan_bytes, read_plan
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.plan import make_plan
from sheetcut.units import mm
from tests.laws.jobs import jobs

LITTLE = Effort(rounds=20, seconds=600)
few = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))


def piece(name, width, height, count=1, **more):
    return Piece(name, "", "rag", mm(width), mm(height), count, **more)


def sheet(width, height, **more):
    return Sheet(more.pop("id", "S"), "rag", mm(width), mm(height), grain="none", **more)


DRAWER = (sheet(300, 200),)


def job_of(*pieces, sheets=DRAWER):
    rules = Rules(reading_step=mm(1), keep_short=mm(50), keep_long=mm(50))
    return Job(sheets, pieces, rules)


def placed(plan):
    found = Counter()
    for layout in plan.layouts:
        for one in layout.placements:
            found[plan.job.pieces[one.piece].order] += layout.copies
    for one in plan.short:
        found[plan.job.pieces[one.piece].order] += one.count
    return found


def test_a_plan_that_asks_for_nothing_more_stays_to_the_letter(demo_plan):
    kept = keeping(demo_plan.job, demo_plan, effort=LITTLE)
    assert kept.plan.papers == demo_plan.papers
    assert kept.plan.code == demo_plan.code
    assert set(kept.words) == {"stays"}
    assert kept.gone == ()


def test_a_line_is_laid_on_what_a_layout_leaves_and_the_others_stay():
    """Two sheets of 300 x 200, each with one of 200 x 200: 100 x 200 is left on either.

    One of 90 x 90 changes one of them; a second sheet or a third would be more.
    """
    before = make_plan(job_of(piece("A", 200, 200), piece("B", 200, 190)), rounds=20)
    assert len(before.layouts) == 2
    after = job_of(*before.job.pieces, piece("C", 90, 90))
    kept = keeping(after, before, effort=LITTLE)
    assert sorted(kept.words) == ["changed", "stays"]
    assert kept.gone == ()
    assert kept.plan.papers[0].sheets_used == {"S": 2}
    (stays,) = [n for n, word in enumerate(kept.words) if word == "stays"]
    assert likeness(kept.plan.layouts[stays]) in [likeness(one) for one in before.layouts]


def test_where_the_leftovers_are_too_small_a_sheet_is_cut_and_nothing_changes():
    before = make_plan(job_of(piece("A", 200, 200)), rounds=20)
    kept = keeping(job_of(*before.job.pieces, piece("C", 150, 150)), before, effort=LITTLE)
    assert kept.words == ("stays", "new")


def test_one_copy_of_several_is_changed_and_the_rest_stays():
    """Three sheets cut alike, and one of 90 x 90 more: one is changed, two are as they were."""
    before = make_plan(job_of(piece("A", 200, 200, 3)), rounds=20)
    assert [one.copies for one in before.layouts] == [3]
    kept = keeping(job_of(*before.job.pieces, piece("C", 90, 90)), before, effort=LITTLE)
    copies = dict(zip(kept.words, (one.copies for one in kept.plan.layouts), strict=True))
    assert copies == {"stays": 2, "changed": 1}
    names = [name for one in kept.plan.layouts for keeper in one.keepers for name in keeper.names]
    assert len(names) == len(set(names))


def test_what_is_not_wanted_any_more_does_not_stay():
    before = make_plan(job_of(piece("A", 200, 200), piece("B", 200, 190)), rounds=20)
    kept = keeping(job_of(piece("B", 200, 190)), before, effort=LITTLE)
    assert (kept.words, len(kept.gone)) == (("stays",), 1)
    smaller = job_of(piece("A", 200, 180), piece("B", 200, 190))
    assert len(keeping(smaller, before, effort=LITTLE).gone) == 1


def test_an_offcut_in_the_drawer_is_not_spent_where_a_leftover_will_do():
    """90 x 90 comes out of the 100 x 200 left over as well as out of an offcut of 150 x 150."""
    drawer = (sheet(300, 200), sheet(150, 150, id="heron 1", kind="offcut", on_hand=1))
    before = make_plan(job_of(piece("A", 200, 200), sheets=drawer), rounds=20)
    assert before.papers[0].sheets_used == {"S": 1}
    after = job_of(*before.job.pieces, piece("C", 90, 90), sheets=drawer)
    assert keeping(after, before, effort=LITTLE).words == ("changed",)


def test_it_says_what_planning_afresh_would_spare():
    """100 x 200 alone on a sheet leaves 200 x 200; then 210 x 200 and 90 x 200 come.

    On that leftover only the second fits, so two sheets. Four of 150 x 100, laid at first
    one to a sheet by hand, would afresh be one sheet of 300 x 200: three fewer.
    """
    quarter = piece("A", 150, 100, 4)
    before = make_plan(job_of(quarter), rounds=20)
    assert before.papers[0].sheets_used == {"S": 1}
    alone = make_plan(job_of(replace(quarter, count=1)), rounds=20).layouts[0]
    names = tuple(f"heron {n}" for n in range(4 * len(alone.keepers)))
    keepers = tuple(
        replace(one, names=names[4 * n : 4 * n + 4]) for n, one in enumerate(alone.keepers)
    )
    spread = replace(alone, copies=4, keepers=keepers)
    paper = replace(before.papers[0], layouts=(spread,), sheets_used={"S": 4}, proved=False)
    loose = replace(before, papers=(paper,))
    assert faults_in(loose) == ()
    kept = keeping(job_of(quarter, piece("B", 50, 50)), loose, effort=LITTLE)
    assert kept.plan.papers[0].sheets_used == {"S": 4}
    assert kept.plan.papers[0].notes == ("planned afresh, nothing kept, it takes 2 sheets less",)


@few
@given(jobs(most_lines=4))
def test_adding_a_line_never_loses_one_and_what_stays_is_as_it_was(job):
    before = make_plan(replace(job, pieces=job.pieces[:-1]), rounds=20, seconds=600)
    kept = keeping(job, before, effort=LITTLE)
    assert faults_in(kept.plan) == ()
    assert placed(kept.plan) == {one.order: one.count for one in job.pieces}
    there = {likeness(one) for one in before.layouts}
    for word, layout in zip(kept.words, kept.plan.layouts, strict=True):
        assert (word != "stays") or likeness(layout) in there
    assert read_plan(plan_bytes(kept.plan)) == kept.plan


@few
@given(jobs(most_lines=4))
def test_a_layout_is_put_back_into_the_tree_it_was_cut_from(job):
    """Cut in order once more, the tree gives the same cuts and leaves the same blanks."""
    plan = make_plan(job, rounds=20, seconds=600)
    for layout in plan.layouts:
        one = plan.sheet(layout.sheet)
        if any(any(place.leave_on) for place in layout.placements) or any(
            job.pieces[place.piece].deckles for place in layout.placements
        ):
            continue
        ordered = cut_order(tree_of(job, layout), one, job, start=layout.start)
        assert ordered.cuts == layout.cuts
        assert ordered.placements == layout.placements
        assert ordered.leftovers == layout.leftovers
        tidy = arrange(tree_of(job, layout))
        assert (tidy.width, tidy.height) == (one.usable_width, one.usable_height)


def test_only_what_is_due_by_a_day_is_planned():
    day = date(2026, 12, 4)
    job = job_of(
        piece("A", 100, 100, due=day),
        piece("B", 100, 100, due=date(2026, 12, 5)),
        piece("C", 100, 100),
        piece("D", 100, 100, due=date(2026, 11, 30)),
    )
    assert [one.order for one in due_by(job, day).pieces] == ["A", "D"]
    with pytest.raises(NothingDue, match="nothing is due by 2026-11-01"):
        due_by(job, date(2026, 11, 1))
