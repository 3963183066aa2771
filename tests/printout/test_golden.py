"""Printed pages are as they were when somebody last looked at them."""

import numpy as np
import pytest
from PIL import Image

from tests.draw.cases import CASES
from tests.printout.keep_golden import (
    GOLDEN,
    PICTURED,
    golden_pictures,
    golden_text,
    picture_path,
)

BLOCK = 8  # dots a side: a third of a centimetre, so that no smoothing of an edge counts
FURTHEST = 24  # of 255, for the mean of a block


@pytest.mark.parametrize("name", CASES)
def test_the_text_of_all_pages_is_as_it_was(name):
    kept = (GOLDEN / f"{name}.txt").read_text(encoding="utf-8")
    assert golden_text(CASES[name]()) == kept, "look, then: python -m tests.printout.keep_golden"


@pytest.mark.parametrize("name", PICTURED)
def test_pages_look_as_they_did(name):
    """Programs smooth edges differently, so the means of small blocks are compared."""
    pictures = list(golden_pictures(CASES[name]()))
    assert not picture_path(name, len(pictures) + 1).exists()
    for number, picture in enumerate(pictures, 1):
        kept = Image.open(picture_path(name, number)).convert("L")
        assert kept.size == picture.size
        far = np.abs(_blocks(kept) - _blocks(picture)).max()
        assert far <= FURTHEST, f"page {number}: look, then python -m tests.printout.keep_golden"


def _blocks(picture: Image.Image) -> np.ndarray:
    dots = np.asarray(picture, dtype=float)
    high, wide = (side // BLOCK * BLOCK for side in dots.shape)
    shaped = dots[:high, :wide].reshape(high // BLOCK, BLOCK, wide // BLOCK, BLOCK)
    return shaped.mean(axis=(1, 3))
