"""The most valuable way to cut one sheet, any number of each: published values of the gcut sets.

Sizes: J. E. Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting", Journal
of the Operational Research Society 36 (1985), 297-306. As written: the optima that the same
paper is credited with, from memory; they and the values with turning were found again for this
project by an exact dynamic programme of its own, apart from this program. A blank's value is its
area.
"""

import pytest

from sheetcut.nest import compiled
from sheetcut.nest.grid import content, grids
from tests.nest.jobs import job_of, sizes
from tests.nest.test_bounds import task_for

GCUT1 = "167x184, 114x118, 167x152, 83x140, 70x86, 143x166, 120x160, 66x148, 87x141, 69x165"
GCUT2 = (
    "120x133, 135x186, 86x75, 103x73, 66x85, 135x97, 91x175, 131x176, 71x176, 153x72, 87x148, "
    "168x107, 118x90, 140x109, 132x159, 152x93, 135x68, 121x158, 68x94, 155x76"
)
GCUT3 = (
    "66x80, 164x107, 64x184, 121x86, 163x135, 85x98, 81x102, 103x186, 152x106, 176x139, 111x118, "
    "69x169, 146x133, 112x112, 133x160, 63x129, 163x152, 110x155, 96x136, 92x142, 84x143, "
    "119x133, 71x71, 146x84, 93x86, 89x86, 101x146, 172x73, 73x169, 99x99"
)
GCUT5 = "198x205, 179x155, 364x236, 272x147, 352x145, 343x245, 132x174, 164x250, 282x356, 342x151"
GCUT6 = (
    "313x305, 292x222, 330x253, 212x256, 132x189, 149x296, 294x137, 225x345, 345x220, 337x177, "
    "189x300, 234x321, 335x272, 354x244, 149x169, 355x165, 260x220, 210x241, 194x372, 287x134"
)
SETS = [  # side of the square sheet, sizes, best as written, best with turning
    pytest.param(250, GCUT1, 56460, 58136, id="gcut1"),
    pytest.param(250, GCUT2, 60536, 60611, id="gcut2"),
    pytest.param(250, GCUT3, 61036, 61626, id="gcut3"),
    pytest.param(500, GCUT5, 246000, 246000, id="gcut5"),
    pytest.param(500, GCUT6, 238998, 240951, id="gcut6"),
]


@pytest.mark.parametrize("machine", ["plain", "compiled"])
@pytest.mark.parametrize(("side", "pieces", "written", "turned"), SETS)
def test_the_table_of_all_ways_to_cut_gives_the_published_value(
    side, pieces, written, turned, machine
):
    loops = None
    if machine == "compiled":
        if not compiled.is_possible():
            pytest.skip("numba has no wheel for this machine")
        loops = compiled.wait()
    for turn, best in (("no", written), ("yes", turned)):
        task = task_for(job_of(sizes(pieces), [(side, side)], turn))
        areas = [blank.area for blank in task.blanks]
        grid = grids(task)[0]
        assert grid.exact
        table = grid.table(areas, loops)
        assert table[grid.stocks[0]] == best
        many = content(grid.best_tree(table, areas, 0), len(areas))
        assert sum(n * area for n, area in zip(many, areas, strict=True)) == best
