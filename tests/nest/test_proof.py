"""Bounds one after the other, each true, and shown by as few rows as give it."""

from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import product

import pytest

from sheetcut.check.weights import FORM, rows_in
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.nest import bounds, proof
from sheetcut.nest.functions import measures
from sheetcut.nest.proof import (
    Proof,
    bound_of,
    certificate_of,
    certificate_of_listing,
    proofs,
    with_listing,
    with_row,
)
from sheetcut.nest.rows import Row
from sheetcut.nest.task import stocks_of, task_of
from tests.campaign.differential import PAPER, small_job
from tests.campaign.exact import least
from tests.nest.jobs import job_of, sizes


def task_for(job, paper="rag"):
    counts = {i: piece.count for i, piece in enumerate(job.pieces)}
    turns = {i: piece.turn for i, piece in enumerate(job.pieces)}
    return task_of(job, paper, stocks_of(job, paper), turns, counts)


@cache
def small_task(seed):
    """Return a small job without lines that lie alike, its task, and the least it takes."""
    job = small_job(seed)
    pieces = tuple(
        replace(one, turn="yes" if one.turn == "alike" else one.turn) for one in job.pieces
    )
    job = replace(job, pieces=pieces)
    counts = {n: one.count for n, one in enumerate(pieces)}
    return task_for(job, PAPER), least(job, PAPER, counts)


@pytest.mark.parametrize("part", range(4))
def test_no_row_asks_for_more_than_the_least(part):
    """Every row by itself, and all together, against every way of cutting small papers."""
    seen = set()
    for seed in range(part, 80, 4):
        task, exact = small_task(seed)
        if exact is None or task.n_blanks > 5:
            continue
        rows = [*bounds.area_rows(task), bounds.crowd_row(task), *bounds.function_rows(task)]
        seen |= {row.why for row in rows}
        for row in rows:
            assert len(row.capacity) == len(task.stocks)
            assert bounds.best_of(task, [row]) <= exact, (seed, row)
        assert bounds.best_of(task, rows) <= exact
    assert seen == {"area", "fit", "crowd", "functions"}


@pytest.mark.parametrize("part", range(4))
def test_each_proof_is_as_good_as_its_rows_and_no_worse_than_the_last(part):
    for seed in range(part, 80, 4):
        task, exact = small_task(seed)
        if exact is None or task.n_blanks > 5:
            continue
        crowd = bounds.crowd_row(task)
        before = 0
        found = list(proofs(task))
        assert len(found) == 3
        for one in found:
            assert before <= one.value <= exact
            assert one.value == bounds.best_of(task, one.known) == bounds.best_of(task, one.rows)
            if one.value > before:
                alone = [row for row in one.known if bounds.best_of(task, [row]) == one.value]
                assert set(one.rows) <= set(alone) if alone else set(one.rows) == set(one.known)
                assert len(one.rows) == 1 or not alone
            assert set(one.rows) <= set(one.known)
            assert len(set(one.known)) == len(one.known)
            before = one.value
        assert [one.crowd for one in found] == [0, crowd.total, crowd.total]
        assert found[0].known == tuple(dict.fromkeys(bounds.area_rows(task)))
        assert crowd in found[1].known
        assert set(found[1].known) <= set(found[2].known)


PAIRS = [
    ("6x6*3, 7x5*2, 9x2*4", (10, 10), "yes"),
    ("6x6*3, 7x5*2, 9x2*4", (10, 10), "no"),
    ("6x4*3, 7x5*2, 9x3*4", (11, 9), "yes"),
    ("6x4*3, 7x5*2, 8x3*4", (11, 8), "no"),
    ("5x3*2, 7x4*3", (12, 12), "yes"),
    ("3x6*2, 4x7", (9, 9), "yes"),  # only both ways round together show that one will not do
]


@pytest.mark.parametrize(("pieces", "sheet", "turn"), PAIRS)
def test_the_best_pair_of_functions_is_among_those_worked_out(pieces, sheet, turn):
    """All pairs by fractions; where blanks turn on a square, both ways round together as well."""
    task = task_for(job_of(sizes(pieces), [sheet], turn))
    lying = [(w, h, blank.count) for blank in task.blanks for w, h in blank.sides(0)]
    axes = []
    for side, run in ((0, sheet[0]), (1, sheet[1])):
        lengths = sorted({one[side] for one in lying})
        counts = [sum(one[2] for one in lying if one[side] == x) for x in lengths]
        axes.append(
            [
                (dict(zip(lengths, one.values, strict=True)), one.whole)
                for one in measures(run, tuple(lengths), tuple(counts))
            ]
        )
    best = Fraction(0)
    for (f, wide), (g, high) in product(*axes):
        ways = [[f[w] * g[h] for w, h in blank.sides(0)] for blank in task.blanks]
        counts = [blank.count for blank in task.blanks]
        plain = sum(n * min(one) for n, one in zip(counts, ways, strict=True))
        best = max(best, Fraction(plain, wide * high))
        if turn == "yes" and sheet[0] == sheet[1]:
            both = sum(n * (one[0] + one[-1]) for n, one in zip(counts, ways, strict=True))
            best = max(best, Fraction(both, 2 * wide * high))
    rows = bounds.function_rows(task)
    assert max(Fraction(row.total, row.capacity[0]) for row in rows) == best
    for row in rows:
        total = sum(n.count * weight for n, weight in zip(task.blanks, row.weights, strict=True))
        assert row.total == total


def test_the_strongest_rows_come_first_and_those_that_no_stock_meets_before_all():
    task = task_for(job_of([(5, 5, 4)], [(10, 10)]))
    rows = [Row((1,), (most,), 4, "area") for most in (4, 1, 0, 2, 1)]
    assert bounds.strongest(task, rows, 4) == [rows[2], rows[1], rows[4], rows[3]]
    assert bounds.strongest(task, rows, 9)[-1] == rows[0]


def test_the_largest_of_which_no_two_share_a_sheet():
    """7 x 7 thrice and 6 x 8 once are a crowd on 10 x 10; 5 x 5 goes beside itself."""
    task = task_for(job_of(sizes("5x5*2, 7x7*3, 8x6"), [(10, 10)]))
    crowd = bounds.crowd_row(task)
    assert [(blank.wide, blank.high) for blank in task.blanks] == [(5, 5), (7, 7), (8, 6)]
    assert crowd.weights == (0, 1, 1)
    assert (crowd.capacity, crowd.total, crowd.why) == ((1,), 4, "crowd")
    # on a second sheet of 14 x 7 two of them do go side by side
    larger = task_for(job_of(sizes("7x7*3"), [(10, 10), (14, 7)]))
    assert bounds.crowd_row(larger).total == 0
    # twice 5 is the whole width of 10, and twice 6 the whole height of 12
    for sheet, most in (((10, 11), 0), ((9, 12), 0), ((9, 11), 2)):
        assert bounds.crowd_row(task_for(job_of([(5, 6, 2)], [sheet], "no"))).total == most


def test_kinds_of_which_none_are_wanted_say_nothing():
    """9 x 9 is the largest; with none wanted, 6 x 6 thrice are the crowd, and the lengths."""
    task = task_for(job_of(sizes("5x5, 6x6*3"), [(10, 10)]))
    none = replace(task.blanks[0], wide=9, high=9, lines=())
    task = replace(task, blanks=(none, task.blanks[1]))
    assert (bounds.crowd_row(task).weights, bounds.crowd_row(task).total) == ((0, 1), 3)
    assert bounds._lengths(task, 0) == ({6: 3}, {6: 3})


def test_lengths_are_counted_once_for_each_blank_that_can_have_them():
    """4 x 3 twice, either way, and 3 x 3 five times, which is one way only."""
    task = task_for(job_of(sizes("4x3*2, 3x3*5, 8x2"), [(8, 9)]))
    assert bounds._lengths(task, 0) == ({4: 2, 3: 7, 8: 1, 2: 1}, {3: 7, 4: 2, 2: 1, 8: 1})
    fixed = task_for(job_of(sizes("4x3*2, 3x3*5"), [(8, 9)], "no"))
    assert bounds._lengths(fixed, 0) == ({4: 2, 3: 5}, {3: 7})


def test_blanks_that_fit_only_some_sheets_have_a_row_for_those():
    """9 x 9 fits 10 x 10 only, 7 x 7 that and 8 x 8, 5 x 5 all three."""
    task = task_for(job_of([(9, 9, 2), (7, 7, 3), (5, 5, 4)], [(10, 10), (8, 8), (6, 6)]))
    area, *fits = bounds.area_rows(task)
    assert (area.weights, area.capacity, area.total) == ((81, 49, 25), (100, 64, 36), 409)
    assert [(row.weights, row.capacity, row.total, row.why) for row in fits] == [
        ((81, 0, 0), (100, 0, 0), 162, "fit"),
        ((81, 49, 0), (100, 64, 0), 309, "fit"),
    ]


CASE = job_of([(6, 6, 3), (5, 4, 2)], [(10, 10, 700), (9, 9, 500)])


def test_a_certificate_names_order_lines_and_sheets():
    task = task_for(CASE)
    row = Row((36, 20), (100, 81), 148, "area")
    certificate = certificate_of(task, Proof(1000, (row,), (row,)))
    assert certificate == {
        "form": FORM,
        "rows": [
            {
                "argument": "area",
                "weights": {"P0": 36, "P1": 20},
                "capacity": {"S0": 100, "S1": 81},
            }
        ],
    }
    assert rows_in(certificate["rows"])


def test_a_row_in_cells_says_which():
    task = task_for(CASE)
    row = Row((36, 20), (100, 81), 148, "area", (5, 4, 10, 10))
    certificate = certificate_of(task, Proof(1000, (row,), (row,)))
    assert certificate["rows"][0]["cells"] == [5, 4, 10, 10]


def test_what_cannot_be_checked_soon_carries_no_certificate(monkeypatch):
    """The table for these two sheets takes at least one step, and the count one as well."""
    task = task_for(CASE)
    row = Row((1, 1), (4, 4), 5, "patterns")
    some = Proof(700, (row,), (row,))
    assert certificate_of(task, some) is not None
    assert certificate_of(task, replace(some, value=0)) is None
    assert certificate_of(task, replace(some, value=None)) is None
    # 10 x 10 holds one of each and 5 x 4 once more, which is 3: a row that says 2 says too little
    tight = replace(row, capacity=(2, 2))
    assert certificate_of(task, replace(some, rows=(tight,))) is None
    half = replace(row, capacity=(4, 0))  # true of the first sheet only
    assert certificate_of(task, replace(some, rows=(half,))) is None
    # an area is believed without a table
    plain = replace(tight, why="area")
    assert certificate_of(task, replace(some, rows=(plain,))) is not None
    monkeypatch.setattr(proof, "MOST_CHECKED", 0)
    assert certificate_of(task, some) is None
    assert certificate_of(task, replace(some, rows=(plain,))) is not None


def test_cells_are_checked_where_one_table_serves_all_sheets(monkeypatch):
    row = Row((1, 1), (4, 4), 5, "patterns", (5, 4, 10, 10))
    some = Proof(700, (row,), (row,))
    assert certificate_of(task_for(CASE), some) is not None
    sheets = tuple(
        replace(one, grain=grain)
        for one, grain in zip(CASE.sheets, ("along width", "along height"), strict=True)
    )
    pieces = tuple(replace(one, turn="grain up") for one in CASE.pieces)
    assert certificate_of(task_for(replace(CASE, sheets=sheets, pieces=pieces)), some) is None
    monkeypatch.setattr(proof, "MOST_CHECKED", 0)
    assert certificate_of(task_for(CASE), some) is None


def test_a_listing_is_shown_by_a_few_rows():
    task = task_for(CASE)
    rows = [Row((36, 20), (100, 81), 148 + n, "area") for n in range(5)]
    listed = with_listing(Proof(500, (rows[0],), tuple(rows)), 700, rows, 12)
    assert (listed.value, listed.rows, listed.listed) == (700, tuple(rows), 12)
    certificate = certificate_of_listing(task, listed)
    assert certificate["form"] == "listing 1"
    assert len(certificate["rows"]) == 3
    shown = bound_of(task, listed, partly=False)
    assert (shown.measure, shown.value, shown.certificate) == ("cost", 700, certificate)


def test_a_row_more_can_only_raise_a_proof():
    """Three of 6 x 6 at 500 each are 1500; a row of four for each is 2000, one of two 1000."""
    task = task_for(job_of([(6, 6, 3)], [(10, 10, 500)]))
    three = Row((1,), (1,), 3, "crowd")
    some = Proof(1500, (three,), (three,), crowd=3)
    four, two = Row((4,), (3,), 12, "patterns"), Row((2,), (3,), 6, "patterns")
    better = with_row(task, some, four)
    assert (better.value, better.rows, better.crowd) == (2000, (four,), 3)
    assert better.known == (three, four)
    same = with_row(task, some, two)
    assert (same.value, same.rows, same.known) == (1500, (three,), (three, two))
    never = with_row(task, some, Row((1,), (0,), 3, "fit"))
    assert never.value is None
    assert with_row(task, never, four).value is None
    other = with_row(task, never, Row((2,), (0,), 3, "fit"))
    assert other.rows == never.rows
    equal = with_row(task, some, Row((1,), (1,), 3, "patterns"))
    assert equal.rows == (three,)
    assert bound_of(task, never, partly=True).value == 0


@pytest.mark.parametrize(("price", "measure"), [(100, "cost"), (None, "sheets")])
def test_a_bound_counts_what_the_aim_counts(price, measure):
    sheet = Sheet("S", "rag", 10, 10, price=price)
    job = Job((sheet,), (Piece("P", "", "rag", 6, 6, 3),), Rules(reading_step=1))
    *_, last = proofs(task_for(job))
    shown = bound_of(task_for(job), last, partly=False)
    assert (shown.measure, shown.value) == (measure, 3 * (price or 1))
    assert shown.reason
    assert shown.certificate is not None
