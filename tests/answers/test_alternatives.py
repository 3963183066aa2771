"""Other plans for the same pieces: never dearer, of another kind, ready to be cut."""

from dataclasses import replace
from typing import get_args

import pytest

from sheetcut.answers.alternatives import NoAlternative, alternatives, like
from sheetcut.check import faults_in
from sheetcut.document import disagreements, plan_bytes, read_plan
from sheetcut.handling import cash_for, figures_of, is_strips_only, sheets_cut
from sheetcut.job import Job, Piece, Preference, Rules, Sheet
from sheetcut.layout import Alternative
from sheetcut.plan import make_plan
from sheetcut.units import mm
from tests.bench.studios import studio_jobs


def test_the_demo_has_alternatives_on_one_paper(demo_plan):
    kinds = {one.paper: [other.kind for other in one.alternatives] for one in demo_plan.papers}
    assert kinds["Marram Rag"]
    for other in alternatives(demo_plan):
        assert other.papers == tuple(name for name, found in kinds.items() if other.kind in found)
        assert other.figures == figures_of(demo_plan.job, other.plan.layouts)
        assert other.plan.code != demo_plan.code


def test_a_chosen_alternative_is_a_whole_plan_and_can_be_changed_back(demo_plan):
    (kind, *_) = [one.kind for one in alternatives(demo_plan)]
    chosen = like(demo_plan, kind)
    assert faults_in(chosen) == ()
    assert disagreements(plan_bytes(chosen), read_plan(plan_bytes(chosen))) == ()
    assert sum(one.cost for one in chosen.papers) == sum(one.cost for one in demo_plan.papers)
    assert like(chosen, demo_plan.job.rules.preference) == demo_plan


def test_what_is_not_there_cannot_be_chosen(demo_plan):
    bare = replace(
        demo_plan, papers=tuple(replace(one, alternatives=()) for one in demo_plan.papers)
    )
    assert alternatives(bare) == ()
    with pytest.raises(NoAlternative, match="no alternative is strips only; it has none"):
        like(bare, "strips only")


def test_each_alternative_gains_what_it_is_named_for(demo_job):
    for preference in get_args(Preference):
        job = replace(demo_job, rules=replace(demo_job.rules, preference=preference))
        for paper in make_plan(job, rounds=2000, seconds=600).papers:
            chosen = figures_of(job, paper.layouts)
            assert preference not in [one.kind for one in paper.alternatives]
            for other in paper.alternatives:
                figures = figures_of(job, other.layouts)
                if other.kind == "quicker to cut":
                    assert (figures.cuts, figures.settings) < (chosen.cuts, chosen.settings)
                elif other.kind == "better leftover":
                    assert figures.largest_area > chosen.largest_area
                else:
                    assert all(map(is_strips_only, other.layouts))
                    assert not all(map(is_strips_only, paper.layouts))
                full, known = sheets_cut(other.layouts), sheets_cut(paper.layouts)
                assert full.total() <= known.total()
                assert cash_for(job, other.layouts) <= paper.cost


def test_strips_only_is_found_where_strips_fill_the_sheet():
    """60 x 40 holds one strip 40 wide (40 x 20 and 40 x 20) and one 20 wide (two 20 x 20)."""
    sheet = Sheet("S", "rag", mm(60), mm(40), on_hand=1, grain="none")
    pieces = (Piece("L", "", "rag", mm(40), mm(20), 2), Piece("M", "", "rag", mm(20), mm(20), 2))
    plan = make_plan(Job((sheet,), pieces, Rules(reading_step=mm(1))), rounds=200)
    ways = (plan.layouts, *(one.layouts for one in plan.papers[0].alternatives))
    assert not plan.short
    assert any(all(map(is_strips_only, layouts)) for layouts in ways)


@pytest.fixture(scope="module")
def striped():
    """Return a plan of one paper that has an alternative of strips only."""
    plans = (make_plan(job, rounds=50, seconds=600) for job in studio_jobs())
    return next(
        plan
        for plan in plans
        if any(one.kind == "strips only" for one in plan.papers[0].alternatives)
    )


def test_an_alternative_that_cannot_be_cut_is_a_fault(striped):
    """Its blanks, sheets, cash and kind are all looked at."""
    (paper,) = striped.papers
    first = next(one for one in paper.alternatives if one.kind == "strips only")

    def words(changed: Alternative, *others: Alternative) -> str:
        spoiled = replace(paper, alternatives=(changed, *others))
        return "\n".join(map(str, faults_in(replace(striped, papers=(spoiled,)))))

    assert not words(first)
    short = replace(first, layouts=first.layouts[1:])
    assert "the plan gives" in words(short)
    more = replace(first.layouts[0], copies=first.layouts[0].copies + 40)
    twice = replace(first, layouts=(more, *first.layouts[1:]))
    assert "; the plan takes" in words(twice)
    assert "it costs" in words(twice)
    cut = first.layouts[0].cuts[0]
    moved = replace(
        first.layouts[0], cuts=(replace(cut, at=cut.at + 1), *first.layouts[0].cuts[1:])
    )
    assert first.kind in words(replace(first, layouts=(moved, *first.layouts[1:])))
    assert "each is of a kind of its own" in words(first, first)
    assert not all(map(is_strips_only, paper.layouts))
    mixed = Alternative("strips only", tuple(_renamed(paper.layouts)))
    said = words(mixed)
    assert "of a fourth level" in said or "is parted from others by cuts of" in said


def _renamed(layouts):
    for layout in layouts:
        keepers = tuple(
            replace(one, names=tuple(f"{name} again" for name in one.names))
            for one in layout.keepers
        )
        yield replace(layout, keepers=keepers)
