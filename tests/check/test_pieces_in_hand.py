from dataclasses import replace

import pytest

from sheetcut.layout import pieces_in_hand
from sheetcut.units import mm
from tests.check.plans import imperial_twins

LAYOUT = imperial_twins().layouts[0]


def test_the_piece_in_hand_shrinks_from_its_far_side():
    """Long cuts at 499 and 172 of 544; then the strip of 327 across at 690 and 240 of 744."""
    assert pieces_in_hand(LAYOUT) == tuple(
        tuple(map(mm, piece))
        for piece in (
            (0, 0, 544, 744),
            (0, 0, 499, 744),
            (172, 0, 327, 744),
            (172, 0, 327, 690),
            (0, 0, 172, 744),
            (0, 0, 172, 702),
            (0, 0, 172, 468),
        )
    )


def test_a_cut_through_nothing_is_named():
    stopped = replace(LAYOUT, cuts=(replace(LAYOUT.cuts[0], stop=mm(700)),))
    with pytest.raises(ValueError, match="cut 3 runs edge to edge of no piece on the table"):
        pieces_in_hand(stopped)
