import random
from itertools import permutations, product
from math import factorial, prod

from sheetcut.cuts import alignment, arrange, cut_order
from sheetcut.cuts.alignment import _effort, _Forms, aligned
from sheetcut.cuts.marks import marks_and_leaves
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.layout import Part
from tests.check.plans import random_tree


def figures(tree):
    sheet = Sheet("one", "rag", tree.width, tree.height)
    job = Job((sheet,), (Piece("D01", "", "rag", 1, 1),), Rules(reading_step=1))
    cuts = cut_order(tree, sheet, job).cuts
    return len({cut.setting for cut in cuts}), sum(cut.edge != "start" for cut in cuts)


def every_order(part):
    """Yield a tree with the blanks of every piece in hand in every order, leftovers last."""
    if not part.parts:
        yield part
        return
    for below in product(*map(list, map(every_order, part.parts))):
        blanks = [one for one in below if not one.is_leftover]
        rest = tuple(one for one in below if one.is_leftover)
        for row in set(permutations(blanks)):
            yield Part(part.width, part.height, part.along, row + rest)


def strip(width, *heights):
    parts = tuple(Part(width, height, piece=0) for height in heights)
    return Part(width, sum(heights), "y", parts)


def test_neighbours_line_up():
    """5 + 7 + 8 beside 12 + 8: the plain order 5, 7, 8 and 8, 12 shares nothing, 12 | 8 does."""
    tree = Part(20, 20, "x", (strip(9, 8, 7, 5), strip(11, 12, 8)))
    shared = aligned(tree)
    assert figures(shared) == (3, 0)  # one long cut, and two places for three cross cuts
    # Plain order: 5, 12 and 8, so four settings.
    assert figures(Part(20, 20, "x", (strip(9, 5, 7, 8), strip(11, 8, 12)))) == (4, 0)


def test_what_needs_the_start_edge_gets_it():
    """Only the strip that is cut along x again has a use for the start edge on the left."""
    double = Part(10, 4, "x", (Part(3, 4, piece=0), Part(7, 4, piece=0)))
    deep = Part(10, 9, "y", (double, Part(10, 5, piece=0)))
    plain = Part(6, 9, piece=0)
    tree = Part(16, 9, "x", (plain, deep))
    assert figures(tree) == (3, 1)
    assert figures(aligned(tree)) == (3, 0)


def test_what_is_no_whole_number_of_steps_long_comes_last():
    """A strip of 4 1/2 steps and one of 5, in half steps: by size the shorter comes first.

    The cut between them would then be read at 4 1/2.
    """
    tall = Part(10, 9, "x", (Part(4, 9, piece=0), Part(6, 9)))
    flat = Part(10, 10, piece=0)
    tree = Part(10, 19, "y", (tall, flat))
    assert aligned(tree).parts == (tall, flat)
    assert aligned(tree, step=2).parts == (flat, tall)


def how_many(part):
    """Return how many orders ``every_order`` yields at most."""
    blanks = sum(not one.is_leftover for one in part.parts)
    return factorial(blanks) * prod(map(how_many, part.parts))


def small_trees():
    """Return tidy random trees of which every order can be tried."""
    trees = [arrange(random_tree(8, 10, 3, random.Random(seed), blank=0.8)) for seed in range(250)]
    return [tree for tree in trees if 24 <= how_many(tree) <= 300]


def test_no_order_needs_fewer_settings():
    """Exhaustive search: every order of every piece in hand of some hundred small trees."""
    trees = small_trees()
    assert len(trees) > 25
    for tree in trees:
        assert figures(aligned(tree)) == min(map(figures, every_order(tree)))


def rows_of(part, forms):
    """Return the order of parts in every piece in hand, as numbers of forms."""
    if not part.parts:
        return {}
    row = tuple(forms.of_part[id(one)] for one in part.parts)
    below = [rows_of(one, forms) for one in part.parts]
    return {forms.of_part[id(part)]: row, **{n: order for one in below for n, order in one.items()}}


def repeating_tree(rng):
    """Return bands one above the other, of few kinds, each of blanks beside strips."""
    kinds = []
    for _ in range(2):
        height = rng.choice((4, 6))
        foot = rng.randint(1, height - 1)
        double = Part(3, height, "y", (Part(3, foot, piece=0), Part(3, height - foot, piece=0)))
        rows = [[double, Part(5, height, piece=0)], [double, double, Part(2, height, piece=0)]]
        kinds.append(Part(8, height, "x", tuple(rng.sample(row := rng.choice(rows), len(row)))))
    bands = tuple(rng.choice(kinds) for _ in range(4))
    return Part(8, sum(band.height for band in bands), "y", bands)


def test_the_effort_of_an_order_is_what_the_marks_of_its_cuts_say():
    """It is counted from forms, without marks: equal parts are looked at once where they may."""
    chance = [random.Random(seed) for seed in range(25)]
    trees = [repeating_tree(rng) for rng in chance]
    trees += [arrange(random_tree(9, 14, 4, rng, blank=0.6)) for rng in chance]
    for tree in map(aligned, trees):
        forms = _Forms()
        root = forms.add(tree)
        marks, _ = marks_and_leaves(tree)
        settings = {(mark.level, mark.ruler) for mark in marks}
        fresh = sum(mark.maker is not None for mark in marks)
        assert _effort(forms, root, rows_of(tree, forms)) == (len(settings), fresh)


def test_the_smaller_comes_first_where_nothing_else_decides():
    """Seven strips of 1 to 7 beside seven of 100 to 700: no two readings can ever line up.

    Too many orders to try them all, and none is better than the plain one.
    """
    small = strip(3, 5, 2, 7, 1, 6, 3, 4)
    large = strip(4, *(100 * n for n in (5, 2, 7, 1, 6, 3, 4)))
    small = Part(3, 2800, "y", (*small.parts, Part(3, 2772)))
    first, second = aligned(Part(7, 2800, "x", (large, small))).parts
    assert [one.height for one in first.parts] == [1, 2, 3, 4, 5, 6, 7, 2772]
    assert [one.height for one in second.parts] == [100, 200, 300, 400, 500, 600, 700]


def test_one_of_many_parts_may_change_its_place():
    """1 to 5 beside 7 + 8: cuts at 1, 3, 6 and 10 meet no cut; with 4 before 3 one is at 7."""
    tree = Part(20, 15, "x", (strip(9, 1, 2, 3, 4, 5), strip(11, 7, 8)))
    assert figures(tree) == (6, 0)
    assert figures(aligned(tree)) == (5, 0)


def test_many_parts_are_put_in_order_too():
    """Twelve strips of different widths: too many orders to try, still each is 40 high."""
    rng = random.Random(1)
    strips = []
    for width in range(1, 13):
        heights = [rng.randint(2, 9) for _ in range(4)]
        strips.append(strip(width, *heights, 40 - sum(heights)))
    tree = Part(78, 40, "x", tuple(strips))
    plain = figures(tree)
    assert figures(aligned(tree)) < plain


def test_a_sheet_of_very_many_blanks_is_put_in_order_in_bounded_work(monkeypatch):
    """Two thousand blanks took 20 seconds after everybody had been told "That will do".

    Every blank has another size, so each strip and the sheet can be put in many orders, and each
    of these was tried with a look at the whole sheet.
    """
    high = 20 * 1_050

    def filled(n):
        blanks = strip(100 + n, *(50 + (17 * n + 29 * m) % 997 for m in range(20))).parts
        rest = high - sum(one.height for one in blanks)
        return Part(100 + n, high, "y", (*blanks, Part(100 + n, rest)))

    strips = tuple(map(filled, range(40)))
    tree = Part(sum(one.width for one in strips), high, "x", strips)
    looked = []
    effort = alignment._effort

    def counted(forms, root, order):
        looked.append(forms.parts)
        return effort(forms, root, order)

    monkeypatch.setattr(alignment, "_effort", counted)
    aligned(tree)
    parts = 1 + 40 + 40 * 21  # the sheet, its strips, and in each its blanks and a leftover
    assert set(looked) == {parts}
    # One look besides, at the order that all others are held to.
    assert sum(looked) <= alignment.PARTS_READ + parts
    assert len(looked) > 10
