"""Certificates of small papers, held to every way of cutting and every number of sheets."""

import random
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from sheetcut.check import bounds_again, weights
from sheetcut.check import certificate as certificates
from sheetcut.check.case import LayoutCase, PaperCase
from sheetcut.check.certificate import bound_again
from sheetcut.check.listed import patient_faults
from sheetcut.check.weights import (
    WeightRow,
    carries_at_most,
    greatest,
    rows_in,
    sheets_to_cut,
    weights_faults,
)
from sheetcut.job import Job, Piece, Rules, Sheet, aim_for, reading_step, ways
from sheetcut.layout import Bound, Layout, PaperPlan, Part, Placement, Plan, Waste
from tests.campaign.differential import PAPER, small_job
from tests.campaign.exact import least
from tests.check.plans import plan_of
from tests.check.test_faults import with_paper

TOO_CHEAP = "sheets that cost less than the bound could satisfy its certificate"
CHEAPER = "sheets that cost less than the bound can hold all blanks"


def case_of(job, value=1, counts=None):
    """Return a paper on which so many of each line are cut, and a bound that says a value."""
    counts = counts or {n: piece.count for n, piece in enumerate(job.pieces)}
    places = tuple(Placement(n, 0, 0, 1, 1) for n, count in counts.items() for _ in range(count))
    sheet = job.sheets[0]
    layout = Layout(
        sheet.id, 1, 1, ("left", "foot"), sheet.width, sheet.height,
        (0, 0, sheet.usable_width, sheet.usable_height), (), places, (), (), (),
        Waste(0, 0, 0, 0, 0, 0),
    )  # fmt: skip
    aim = aim_for(job, sheet.paper)
    measure = "cost" if aim == "least cost" else "sheets"
    paper = PaperPlan(sheet.paper, aim, {}, None, Bound(measure, value, "so"), (layout,), {})
    plan = Plan(job, (paper,), (), seed=0, rounds=0, stopped=False, version="0")
    return PaperCase(plan, paper, (LayoutCase(plan, paper, layout, sheet, "here"),))


def in_steps(job, piece, sheet):
    """Return width and height in whole steps for each way a piece may lie."""
    step = reading_step(job, sheet.paper)
    sides = -(-piece.asked_width // step), -(-piece.asked_height // step)
    return [sides[::-1] if turned else sides for turned in ways(piece.turn, sheet.grain)]


def room_of(job, sheet):
    step = reading_step(job, sheet.paper)
    return sheet.usable_width // step, sheet.usable_height // step


def most_weight(wide, high, blanks):
    """Return the most weight from a rectangle, by trying every cut at every step."""

    @cache
    def best(wide, high):
        alone = max((weight for w, h, weight in blanks if w <= wide and h <= high), default=0)
        across = (best(cut, high) + best(wide - cut, high) for cut in range(1, wide // 2 + 1))
        up = (best(wide, cut) + best(wide, high - cut) for cut in range(1, high // 2 + 1))
        return max(alone, *across, *up, 0)

    return best(wide, high)


@pytest.mark.parametrize("seed", range(40))
def test_the_plain_table_tries_every_cut(seed):
    chance = random.Random(seed)
    room = chance.randint(3, 14), chance.randint(3, 14)
    blanks = [
        (chance.randint(1, 9), chance.randint(1, 9), chance.randint(0, 30))
        for _ in range(chance.randint(1, 5))
    ]
    assert greatest(room, blanks) == most_weight(*room, blanks)


def little_job(chance):
    """Return a job on a ruler of 2, with sheets and pieces that are no whole number of steps."""
    pieces = tuple(
        Piece(
            f"P{n}", "", PAPER, chance.randint(2, 16), chance.randint(2, 16),
            chance.randint(1, 3), turn=chance.choice(("yes", "no", "grain up")),
        )
        for n in range(3)
    )  # fmt: skip
    sheets = tuple(
        Sheet(
            f"S{n}", PAPER, chance.randint(8, 25), chance.randint(8, 25), price=price,
            grain=chance.choice(("none", "along width", "along height")),
        )
        for n, price in enumerate((100, 70))
    )  # fmt: skip
    return Job(sheets, pieces, Rules(reading_step=2))


@pytest.mark.parametrize("seed", range(60))
def test_what_a_sheet_carries_is_known_to_the_last_unit(seed):
    """By area, by blanks that cannot share, or by the table: never too little, never too much."""
    chance = random.Random(seed)
    job = little_job(chance)
    case = case_of(job)
    row = WeightRow({f"P{n}": chance.choice((0, 1, 1, 5, 9)) for n in range(3)}, {}, None)
    for sheet in job.sheets:
        room = room_of(job, sheet)
        blanks = [
            (w, h, row.weights[piece.order])
            for piece in job.pieces
            for w, h in in_steps(job, piece, sheet)
            if row.weights[piece.order] and w <= room[0] and h <= room[1]
        ]
        most = most_weight(*room, blanks)
        assert carries_at_most(case, row, sheet, most)
        assert carries_at_most(case, row, sheet, most + 1)
        assert not most or not carries_at_most(case, row, sheet, most - 1)


@pytest.mark.parametrize("seed", range(40))
def test_cells_never_carry_less_than_the_sheet(seed):
    """Whatever is let through in coarse cells is true in whole steps as well."""
    chance = random.Random(seed)
    job = little_job(chance)
    case = case_of(job)
    for sheet in job.sheets:
        room = room_of(job, sheet)
        cells = chance.randint(2, 6), chance.randint(2, 6), *room
        row = WeightRow({f"P{n}": chance.randint(1, 9) for n in range(3)}, {}, cells)
        plain = replace(row, cells=None)
        for most in range(0, 60, 3):
            if carries_at_most(case, row, sheet, most):
                assert carries_at_most(case, plain, sheet, most)


def test_cells_hold_what_fits_their_run():
    """10 x 10 in 3 x 3 cells: 3 is 4 x 3 / 10 rounded up less 1, so 1 cell, and 6 is 2.

    Two of 6 do not fit 3 cells side by side, 6 and 3 do; so 6 x 6 carries one and some of 3.
    """
    pieces = (Piece("P0", "", PAPER, 6, 6), Piece("P1", "", PAPER, 3, 10, turn="no"))
    job = Job((Sheet("S0", PAPER, 10, 10, price=1),), pieces, Rules(reading_step=1))
    case = case_of(job)
    row = WeightRow({"P0": 7, "P1": 2}, {}, (3, 3, 10, 10))
    (sheet,) = job.sheets
    assert carries_at_most(case, row, sheet, 9)  # 7 beside 2
    assert not carries_at_most(case, row, sheet, 8)
    # A sheet longer than the run of the cells cannot be measured in them,
    assert not carries_at_most(case, replace(row, cells=(3, 3, 9, 10)), sheet, 9)
    assert not carries_at_most(case, replace(row, cells=(3, 3, 10, 9)), sheet, 9)
    # nor a blank of less than a cell: 3 in 2 cells is 3 x 3 / 10 up less 1, nothing.
    assert not carries_at_most(case, replace(row, cells=(2, 3, 10, 10)), sheet, 9)


def on_tens(*pieces):
    """Return what a sheet of 10 x 10 steps of 2 carries of weights, in cells or without."""
    lines = tuple(
        Piece(f"P{n}", "", PAPER, 2 * wide, 2 * high) for n, (wide, high) in enumerate(pieces)
    )
    job = Job((Sheet("S0", PAPER, 20, 20, price=1),), lines, Rules(reading_step=2))
    case = case_of(job)

    def carries(most, *weigh, cells):
        row = WeightRow({f"P{n}": one for n, one in enumerate(weigh)}, {}, (*cells, 10, 10))
        return carries_at_most(case, row, job.sheets[0], most)

    return carries


def test_a_crowd_is_seen_without_cells():
    """Two of 6 x 6 fit 2 x 2 cells each way, and not the sheet."""
    carries = on_tens((6, 6))
    assert carries(7, 7, cells=(2, 2))
    assert not carries(6, 7, cells=(2, 2))


def test_an_area_is_seen_without_cells():
    """5 x 5 is one of 3 x 3 cells, so nine of 25 would go into them; the sheet has 100."""
    carries = on_tens((5, 5))
    assert carries(100, 25, cells=(3, 3))
    assert not carries(99, 25, cells=(3, 3))


def test_a_thin_blank_is_no_matter_where_it_weighs_nothing_or_does_not_fit():
    """6 is 3 of 5 cells, so one lies each way; 1 is none, and what is none cannot be weighed."""
    for thin, weight, seen in (((1, 9), 0, True), ((1, 9), 1, False), ((1, 20), 1, True)):
        assert on_tens((6, 6), thin)(17, 7, weight, cells=(5, 5)) == seen


def rows_of(chance, job, n):
    """Return rows of some weights, and of the most that each sheet carries of them."""
    rows = []
    for _ in range(n):
        weigh = {piece.order: chance.randint(0, 5) for piece in job.pieces}
        capacity = {}
        for sheet in job.sheets:
            blanks = [
                (w, h, weigh[piece.order])
                for piece in job.pieces
                for w, h in in_steps(job, piece, sheet)
            ]
            capacity[sheet.id] = most_weight(*room_of(job, sheet), tuple(blanks))
        rows.append({"weights": weigh, "capacity": capacity})
    return rows


def cheapest(job, rows):
    """Return the least cost that satisfies all rows, every number of each sheet tried."""
    needs = [sum(row["weights"][one.order] * one.count for one in job.pieces) for row in rows]
    numbers = [range(1 + (12 if one.on_hand is None else one.on_hand)) for one in job.sheets]
    prices = [one.price if one.kind == "full" else 0 for one in job.sheets]
    return min(
        (
            sum(n * price for n, price in zip(taken, prices, strict=True))
            for taken in product(*numbers)
            if all(
                sum(n * row["capacity"][s.id] for n, s in zip(taken, job.sheets, strict=True))
                >= need
                for row, need in zip(rows, needs, strict=True)
            )
        ),
        default=None,
    )


@pytest.mark.parametrize("seed", range(60))
def test_a_bound_of_weights_holds_up_to_what_its_rows_ask_for(seed):
    chance = random.Random(seed)
    job = little_job(chance)
    sheets = [replace(one, on_hand=chance.choice((None, 1, 3))) for one in job.sheets]
    if chance.random() < 0.5:
        offcut = replace(sheets[0], id="heron", kind="offcut", price=3)
        sheets.append(replace(offcut, on_hand=chance.choice((None, 1, 2))))
    job = replace(job, sheets=tuple(sheets))
    rows = rows_of(chance, job, chance.randint(1, 2))
    value = cheapest(job, rows)
    for claimed in (value or 0, (value or 0) + 1):
        told = list(weights_faults(case_of(job, claimed), {"rows": rows}))
        assert told == ([TOO_CHEAP] if value is not None and claimed > value else [])


def test_sheets_counted_alone_count_one_each():
    """Three pieces, one a sheet, no prices: 3 sheets is a bound and 4 is none."""
    job = Job(
        (Sheet("S", PAPER, 10, 10),), (Piece("P", "", PAPER, 6, 6, 3),), Rules(reading_step=1)
    )
    rows = [{"weights": {"P": 1}, "capacity": {"S": 1}}]
    assert list(weights_faults(case_of(job, 3), {"rows": rows})) == []
    assert list(weights_faults(case_of(job, 4), {"rows": rows})) == [TOO_CHEAP]


def test_a_count_ends_after_so_many_steps(monkeypatch):
    """A single sheet that carries all: the first step looks at it, the second finds all done."""
    job = Job(
        (Sheet("S", PAPER, 10, 10, price=5),), (Piece("P", "", PAPER, 6, 6),), Rules(reading_step=1)
    )
    rows = [{"weights": {"P": 1}, "capacity": {"S": 1}}]
    for most, told in ((1, [TOO_CHEAP]), (0, [weights.TOO_LONG])):
        monkeypatch.setattr(weights, "MOST_STEPS", most)
        assert list(weights_faults(case_of(job, 6), {"rows": rows})) == told


def test_only_sheets_on_hand_and_wider_than_a_step_are_asked_of():
    whole = Sheet("S", PAPER, 10, 10, price=1)
    none_left = replace(whole, id="N", on_hand=0)
    narrow, low = replace(whole, id="W", width=1), replace(whole, id="H", height=1)
    just = replace(whole, id="J", width=2, height=2, on_hand=1)
    job = Job(
        (whole, none_left, narrow, low, just), (Piece("P", "", PAPER, 6, 6),), Rules(reading_step=2)
    )
    assert [one.id for one in sheets_to_cut(case_of(job))] == ["S", "J"]


def little_paper(value, certificate):
    """Return three pieces of which one comes out of a sheet, and a bound with its working."""
    job = Job(
        (Sheet("S", PAPER, 10, 10),), (Piece("P", "", PAPER, 6, 6, 3),), Rules(reading_step=1)
    )
    case = case_of(job)
    bound = Bound("sheets", value, "so", certificate)
    return replace(case, paper=replace(case.paper, bound=bound))


ROWS = [{"weights": {"P": 1}, "capacity": {"S": 1}}]
MORE = [{"weights": {"P": 1}, "capacity": {"S": 0}}]
LESS = [{"weights": {"P": 1}, "capacity": {}}]


@pytest.mark.parametrize(
    ("value", "certificate", "told", "done"),
    [
        (0, None, [], True),  # no plan needs less than nothing
        (3, None, [], False),
        (3, {"form": "weights 1", "rows": ROWS}, [], True),
        (4, {"form": "weights 1", "rows": ROWS}, [TOO_CHEAP], True),
        (3, {"form": "listing 1", "rows": ROWS}, [], True),
        (4, {"form": "listing 1", "rows": ROWS}, [CHEAPER], True),
        (3, {"form": "weights 1", "rows": MORE}, ["S can carry more than the"], True),
        (3, {"form": "listing 1", "rows": MORE}, ["S can carry more than the"], True),
        (3, {"form": "weights 1", "rows": LESS}, ["certificate does not say what S"], True),
        (3, {"form": "listing 1", "rows": LESS}, ["certificate does not say what S"], True),
        (3, {"form": "weights 1", "rows": []}, ["is not written as rows"], True),
        (3, {"form": "listing 1"}, ["is not written as rows"], True),
        (3, {"form": "tea leaves"}, ["the form 'tea leaves'"], True),
        (3, "tea leaves", [], False),
    ],
)
def test_a_bound_is_worked_out_again_by_the_form_of_its_certificate(value, certificate, told, done):
    found, finished = bound_again(little_paper(value, certificate))
    assert finished == done
    assert len(found) == len(told)
    assert all(words in one for words, one in zip(told, found, strict=True))


def test_what_takes_too_long_is_not_done(monkeypatch):
    monkeypatch.setattr(weights, "MOST_STEPS", 0)
    monkeypatch.setattr(certificates, "PATIENT_STEPS", 0)
    for form in ("weights 1", "listing 1"):
        assert bound_again(little_paper(4, {"form": form, "rows": ROWS})) == ([], False)


def test_bounds_of_a_whole_plan_are_told_by_their_papers():
    """A bound above the plan, one without working, and one that cannot be relied on at all."""
    plan = plan_of(Part(6, 6, piece=0))
    good = {"form": "weights 1", "rows": [{"weights": {"D0": 1}, "capacity": {"one": 1}}]}
    for value, certificate, told, trusted in (
        (100, good, [], ()),
        (101, good, [TOO_CHEAP], ()),
        (100, None, [], (PAPER,)),
        (-1, good, [], ()),
    ):
        bound = Bound("cost", value, "so", certificate)
        faults, on_trust = bounds_again(with_paper(plan, bound=bound))
        assert [fault.message for fault in faults] == told
        assert on_trust == trusted


@pytest.mark.parametrize("on_hand", [None, 1, 2])
@pytest.mark.parametrize("value", [1, 2])
def test_free_sheets_count_as_far_as_they_go(on_hand, value):
    """Four halves: two offcuts hold them all, one leaves two for a sheet, and so many hold any."""
    sheet = Sheet("S", PAPER, 10, 10, on_hand=9)
    offcut = replace(sheet, id="heron", kind="offcut", on_hand=on_hand)
    job = Job((sheet, offcut), (Piece("P", "", PAPER, 5, 10, 4),), Rules(reading_step=1))
    least_sheets = 1 if on_hand == 1 else 0
    found = patient_faults(case_of(job, value), {"rows": [by_area(job)]}, 10_000)
    assert found == ([CHEAPER] if value > least_sheets else [])


def test_sheets_that_are_filled_to_the_last_corner_are_found():
    """Eight of 5 x 10 on two sheets of 20 x 10, with nothing left over: three is no bound."""
    job = Job(
        (Sheet("S", PAPER, 20, 10),), (Piece("P", "", PAPER, 5, 10, 8),), Rules(reading_step=1)
    )
    for value, told in ((2, []), (3, [CHEAPER])):
        assert patient_faults(case_of(job, value), {"rows": [by_area(job)]}, 10_000) == told


GOOD = {"weights": {"P": 1}, "capacity": {"S": 0}}


@pytest.mark.parametrize(
    ("found", "good"),
    [
        ([GOOD], True),
        ([GOOD, GOOD], True),
        ([{**GOOD, "cells": None}], True),
        ([{**GOOD, "cells": [1, 2, 3, 4]}], True),
        ([], False),
        (None, False),
        ((GOOD,), False),
        (["row"], False),
        ([GOOD, {"weights": {"P": 1}}], False),
        ([{"capacity": {"S": 1}}], False),
        ([{**GOOD, "weights": {"P": -1}}], False),
        ([{**GOOD, "weights": {"P": True}}], False),
        ([{**GOOD, "weights": {"P": 1.0}}], False),
        ([{**GOOD, "capacity": [1]}], False),
        ([{**GOOD, "cells": [1, 2, 3]}], False),
        ([{**GOOD, "cells": [1, 2, 3, 4, 5]}], False),
        ([{**GOOD, "cells": [0, 2, 3, 4]}], False),
        ([{**GOOD, "cells": (1, 2, 3, 4)}], False),
        ([{**GOOD, "cells": [1, 2, 3, "4"]}], False),
    ],
)
def test_rows_are_whole_numbers_throughout(found, good):
    rows = rows_in(found)
    assert (rows is not None) == good
    if rows:
        assert len(rows) == len(found)
        cells = found[0].get("cells")
        assert rows[0] == WeightRow({"P": 1}, {"S": 0}, tuple(cells) if cells else None)


def by_area(job):
    """Return a row that holds of any plan: the areas, in square steps."""
    areas = {}
    step = reading_step(job, PAPER)
    for piece in job.pieces:
        areas[piece.order] = (-(-piece.asked_width // step)) * (-(-piece.asked_height // step))
    rooms = {one.id: room_of(job, one) for one in job.sheets}
    return {"weights": areas, "capacity": {name: w * h for name, (w, h) in rooms.items()}}


@pytest.mark.parametrize("part", range(4))
def test_a_listing_is_refuted_exactly_where_there_is_a_cheaper_way(part):
    """Exhaustive search by other means: the least of small jobs, with offcuts and limits."""
    refuted = held = 0
    for seed in range(part, 160, 4):
        job = small_job(seed)
        pieces = tuple(replace(one, turn="yes") for one in job.pieces)
        job = replace(job, pieces=pieces)
        if sum(one.count for one in pieces) > 5:
            continue
        value = least(job, PAPER, {n: one.count for n, one in enumerate(pieces)})
        if value is None:
            continue
        for claimed in {max(1, value - 1), max(1, value), value + 1, value + 250}:
            found = patient_faults(case_of(job, claimed), {"rows": [by_area(job)]}, 300_000)
            if found is not None:
                assert found == ([CHEAPER] if claimed > value else []), (seed, claimed)
                refuted += claimed > value
                held += claimed <= value
    assert refuted > 10
    assert held > 10
