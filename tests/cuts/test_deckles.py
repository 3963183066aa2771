"""Start corners beside deckles, and blanks brought to the edge whose deckle they keep."""

import random
from itertools import permutations, product

import pytest

from sheetcut.cuts import can_carry, cut_order, deckles, settled, start_for
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.layout import Part
from tests.check.plans import PAPER, random_tree

ALL = ("left", "right", "top", "foot")


def sheet(width=10, height=8, *, has=ALL, **more):
    return Sheet("one", PAPER, width, height, deckles=has, **more)


@pytest.mark.parametrize(
    ("kept", "leave", "start"),
    [
        ((), (), ("left", "foot")),
        # a kept deckle is no start edge
        (("left",), (), ("right", "foot")),
        (("foot",), (), ("left", "top")),
        (("left", "foot"), (), ("right", "top")),
        (("right", "top"), (), ("left", "foot")),
        # one that is left on is avoided, where there is another edge
        ((), ("left",), ("right", "foot")),
        ((), ("foot",), ("left", "top")),
        ((), ("right", "top"), ("left", "foot")),
        ((), ("left", "right", "foot", "top"), ("left", "foot")),
        (("right",), ("left",), ("left", "foot")),
        (("top",), ("foot",), ("left", "foot")),
        # opposite edges leave none
        (("left", "right"), (), None),
        (("top", "foot"), (), None),
    ],
)
def test_readings_begin_where_no_deckle_is_kept(kept, leave, start):
    assert start_for(sheet(leave=leave), kept) == start
    if start:  # what the sheet keeps itself is kept just as well; it may not keep opposite edges
        left_on = tuple(edge for edge in leave if edge not in kept)
        assert start_for(sheet(keep=kept, leave=left_on)) == start


@pytest.mark.parametrize(
    ("asked", "turned", "step", "can"),
    [
        (("right",), False, 1, True),
        (("left", "top"), False, 1, True),
        (("left", "right"), False, 1, False),  # no corner is left to read from
        (("top",), True, 1, True),  # turned, its top lies left
        (("foot",), True, 1, True),  # and its foot right
        (("right",), True, 1, False),  # its right side at the top, which has no deckle here
        (("right",), False, 5, True),  # 10 is two steps of 5 across
        (("right",), False, 4, False),
        (("foot",), False, 4, True),  # 8 is two steps of 4 up
        (("foot",), False, 5, False),
        (("right", "foot"), False, 4, False),  # both ways have to come out
    ],
)
def test_a_sheet_carries_a_blank_whose_deckles_it_has_at_whole_steps(asked, turned, step, can):
    has = ALL if not turned else ("left", "right")
    one = sheet(has=has)
    piece = Piece("D01", "", PAPER, 3, 2, deckles=asked)
    job = Job((one,), (piece,), Rules(reading_step=step))
    assert can_carry(job, one, piece, turned=turned) == can


def test_edge_losses_are_no_part_of_the_steps():
    """11 wide, 1 lost on the left: 10 are two steps of 5."""
    one = Sheet("one", PAPER, 11, 8, deckles=ALL, edge_loss=(1, 0, 0, 0))
    piece = Piece("D01", "", PAPER, 5, 2, deckles=("right",))
    assert can_carry(Job((one,), (piece,), Rules(reading_step=5)), one, piece, turned=False)


def leaves(part, path=()):
    if part.piece is not None:
        yield path, part
    for n, one in enumerate(part.parts):
        yield from leaves(one, (*path, n))


def every_order(part):
    if not part.parts:
        yield part
        return
    for below in product(*map(list, map(every_order, part.parts))):
        for row in permutations(below):
            yield Part(part.width, part.height, part.along, row)


def corners(part, x=0, y=0):
    """Yield every leaf with the place of its far corner."""
    if part.piece is not None:
        yield part.piece, part.turned, x + part.width, y + part.height
    for one in part.parts:
        yield from corners(one, x, y)
        x += one.width if part.along == "x" else 0
        y += one.height if part.along == "y" else 0


def named(part, names):
    if part.piece is not None:
        piece, turned = next(names)
        return Part(part.width, part.height, piece=piece, turned=turned)
    parts = tuple(named(one, names) for one in part.parts)
    return Part(part.width, part.height, part.along, parts)


TURNED = {"top": "left", "left": "foot", "foot": "right", "right": "top"}


def far_ends(tree, job, one):
    """Whether every deckle lies at the far end of its axis, and no axis is asked for both ends."""
    asked = set()
    for piece, turned, right, top in corners(tree):
        for edge in job.pieces[piece].deckles:
            lies = TURNED[edge] if turned else edge
            asked.add(lies)
            if lies not in one.deckles:
                return False
            if (right < tree.width) if lies in ("left", "right") else (top < tree.height):
                return False
    return not ({"left", "right"} <= asked or {"top", "foot"} <= asked)


def can_be_settled(trees, job, sheets):
    """Try every blank in every place that it fits, every way round, in every order of parts."""
    spots = [leaf for tree in trees for _, leaf in leaves(tree)]
    for row in set(permutations([spot.piece for spot in spots])):
        ways = []
        for piece, spot in zip(row, spots, strict=True):
            size = job.pieces[piece].width, job.pieces[piece].height
            here = (spot.width, spot.height)
            ways.append([turn for turn in (False, True) if (size[::-1] if turn else size) == here])
        for turns in product(*ways):
            names = iter(zip(row, turns, strict=True))
            dealt = [named(tree, names) for tree in trees]
            if all(
                any(far_ends(order, job, one) for order in every_order(tree))
                for tree, one in zip(dealt, sheets, strict=True)
            ):
                return True
    return False


def small_case(seed):
    """Return one or two little sheets with up to five blanks, one to three of which keep some."""
    rng = random.Random(seed)
    trees = [
        random_tree(rng.choice((4, 6)), 4, 2, rng, blank=0.9) for _ in range(rng.randint(1, 2))
    ]
    spots = [leaf for tree in trees for _, leaf in leaves(tree)]
    if not 2 <= len(spots) <= 5:
        return None
    sides = [(s.height, s.width) if s.turned else (s.width, s.height) for s in spots]
    keeping = set(rng.sample(range(len(spots)), rng.randint(1, min(3, len(spots)))))
    pieces = tuple(
        Piece(
            f"D{n}",
            "",
            PAPER,
            *size,
            deckles=tuple(rng.sample(ALL, rng.choice((1, 1, 2)))) if n in keeping else (),
        )
        for n, size in enumerate(sides)
    )
    names = iter([(n, spot.turned) for n, spot in enumerate(spots)])
    trees = [named(tree, names) for tree in trees]
    edges = [ALL if rng.random() < 0.7 else ("left", "top") for _ in trees]
    sheets = tuple(
        Sheet(f"S{n}", PAPER, tree.width, tree.height, deckles=has)
        for n, (tree, has) in enumerate(zip(trees, edges, strict=True))
    )
    return trees, Job(sheets, pieces, Rules(reading_step=1)), sheets


@pytest.mark.parametrize("part", range(4))
def test_blanks_are_brought_to_their_deckles_whenever_that_can_be(part):
    """Exhaustive search: every exchange, every turn and every order of parts."""
    outcomes = []
    for seed in range(part, 400, 4):
        case = small_case(seed)
        if case is None:
            continue
        trees, job, sheets = case
        found = settled(list(zip(sheets, trees, strict=True)), job)
        outcomes.append(found is not None)
        assert outcomes[-1] == can_be_settled(trees, job, sheets), seed
        if found is not None:
            assert_in_place(found, trees, job, sheets)
    assert 10 < sum(outcomes) < len(outcomes) - 10


def assert_in_place(found, trees, job, sheets):
    assert len(found) == len(trees)
    placed = []
    for one, tree, on in zip(found, trees, sheets, strict=True):
        shapes = sorted((leaf.width, leaf.height) for _, leaf in leaves(tree))
        assert sorted((leaf.width, leaf.height) for _, leaf in leaves(one.tree)) == shapes
        ordered = cut_order(one.tree, on, job, start=one.start, is_tied=one.is_tied)
        touching = False
        for place in ordered.placements:
            piece = job.pieces[place.piece]
            size = piece.width, piece.height
            assert (place.width, place.height) == (size[::-1] if place.turned else size)
            placed.append(place.piece)
            edges = {
                "left": place.x == 0,
                "right": place.x + place.width == on.width,
                "top": place.y + place.height == on.height,
                "foot": place.y == 0,
            }
            for edge in piece.deckles:
                lies = TURNED[edge] if place.turned else edge
                assert edges[lies]
                assert lies not in one.start
                touching = True
        assert one.is_tied == touching
    assert sorted(placed) == list(range(len(job.pieces)))


def two_strips(first, second, **more):
    """Return a sheet 10 x 8 parted into a strip of 4 and one of 6, and a job of those two."""
    one = sheet(**more)
    tree = Part(10, 8, "x", (Part(4, 8, piece=0), Part(6, 8, piece=1)))
    return [(one, tree)], Job((one,), (first, second), Rules(reading_step=1))


def test_two_blanks_that_both_must_come_last_do_not_go_together():
    asking = [Piece(f"D{n}", "", PAPER, n, 8, deckles=("right",)) for n in (4, 6)]
    assert settled(*two_strips(*asking)) is None
    ((tree, start, is_tied),) = [
        (one.tree, one.start, one.is_tied)
        for one in settled(*two_strips(asking[0], Piece("D6", "", PAPER, 6, 8)))
    ]
    assert [part.piece for part in tree.parts] == [1, 0]
    assert (start, is_tied) == (("left", "foot"), True)


def test_where_nothing_keeps_a_deckle_everything_stays():
    plain = [Piece(f"D{n}", "", PAPER, n, 8) for n in (4, 6)]
    trees, job = two_strips(*plain, leave=("left",))
    (only,) = settled(trees, job)
    assert (only.tree, only.start, only.is_tied) == (trees[0][1], ("right", "foot"), False)


@pytest.mark.parametrize(
    ("turn", "grains", "found"),
    [
        ("yes", ("along height", "along width"), True),
        ("alike", ("along height", "along height"), True),
        ("alike", ("along height", "along width"), False),  # it would lie across the grain there
        ("no", ("along height", "along width"), True),
    ],
)
def test_alike_pieces_stay_with_their_grain(turn, grains, found):
    """Two sheets of one blank each; only the second has the deckle that the first's blank keeps."""
    sheets = tuple(
        Sheet(f"S{n}", PAPER, 6, 6, deckles=has, grain=grain)
        for n, (has, grain) in enumerate(zip(((), ("top",)), grains, strict=True))
    )
    pieces = (
        Piece("D0", "", PAPER, 6, 6, turn=turn, deckles=("top",)),
        Piece("D1", "", PAPER, 6, 6),
    )
    trees = [(one, Part(6, 6, piece=n)) for n, one in enumerate(sheets)]
    answer = settled(trees, Job(sheets, pieces, Rules(reading_step=1)))
    assert (answer is not None) == found
    if answer:
        assert [one.tree.piece for one in answer] == [1, 0]


def test_a_piece_turns_for_its_deckle_only_where_it_may():
    """A square whose top must lie left: a quarter turn, which "no" forbids."""
    one = sheet(6, 6, has=("left",))
    for turn, lies in (("yes", True), ("no", None), ("alike", None)):
        piece = Piece("D0", "", PAPER, 6, 6, turn=turn, deckles=("top",))
        answer = settled([(one, Part(6, 6, piece=0))], Job((one,), (piece,), Rules(reading_step=1)))
        assert (answer and answer[0].tree.turned) == lies


@pytest.mark.parametrize(("most", "found"), [(1, True), (0, False)])
def test_the_search_ends_after_so_many_tries(monkeypatch, most, found):
    """The blank of 4 lies well where it is, so a single try will do."""
    monkeypatch.setattr(deckles, "MOST_TRIED", most)
    asking = Piece("D4", "", PAPER, 4, 8, deckles=("right",))
    answer = settled(*two_strips(asking, Piece("D6", "", PAPER, 6, 8)))
    assert (answer is not None) == found
