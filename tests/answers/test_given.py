"""What any sheet gives of any size can be cut: every such plan passes the check."""

from hypothesis import assume, settings
from hypothesis import given as examples
from hypothesis import strategies as some

from sheetcut.answers.given import given, shown
from sheetcut.check import faults_in
from sheetcut.job import Job, Rules
from sheetcut.units import inch, mm
from tests.laws.jobs import PAPERS, pieces, sheets

STEPS = (None, mm(1), mm("0.5"), inch(1) // 16)


@settings(max_examples=60, deadline=None)
@examples(sheets(0, PAPERS[0]), pieces(0, PAPERS[0]), some.sampled_from(STEPS))
def test_what_a_sheet_gives_passes_the_check(sheet, piece, step):
    job = Job((sheet,), (), Rules(reading_step=step))
    gives = given(job, sheet, piece)
    assume(gives.count <= 60)
    plan = shown(job, piece, gives)
    if not gives.count:
        assert plan is None
        return
    assert faults_in(plan) == ()
    assert sum(len(one.placements) * one.copies for one in plan.layouts) == gives.count
    assert gives.count >= gives.grid
    if gives.cost is not None:
        assert gives.cost * gives.count == sheet.price
