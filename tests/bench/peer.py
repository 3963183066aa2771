"""The peer: rectpack's best of 72 guillotine runs, as a person without this program might do."""

from __future__ import annotations

from itertools import product

import rectpack
from rectpack import guillotine

from tests.bench.families import Instance

CHOICES = ("Bssf", "Blsf", "Baf")
SPLITS = ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
SORTS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI)


def fewest_of_many(one: Instance, *, turned: bool) -> int:
    """Return the fewest sheets of 3 choices x 6 splits x 4 orders, best fit over open sheets."""
    width, height = one.sheets[0][:2]
    return min(
        _sheets(one, width, height, getattr(guillotine, f"Guillotine{choice}{split}"), sort, turned)
        for choice, split, sort in product(CHOICES, SPLITS, SORTS)
    )


def _sheets(
    one: Instance, width: int, height: int, algorithm: type, sort: object, turned: bool
) -> int:
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.BBF,
        pack_algo=algorithm,
        sort_algo=sort,
        rotation=turned,
    )
    for w, h, n in one.pieces:
        for _ in range(n):
            packer.add_rect(w, h)
    packer.add_bin(width, height, count=float("inf"))
    packer.pack()
    wanted = sum(n for _, _, n in one.pieces)
    return len(packer) if len(packer.rect_list()) == wanted else wanted
