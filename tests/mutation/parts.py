"""What is changed, and which tests should notice."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Part:
    """Some modules and the tests that answer for them.

    Attributes:
        modules: patterns of files in the package.
        tests: files and folders of tests; the modules' own examples are run besides.
        options: for pytest.
        from_the_start: whether the tests too are imported anew for each mutant, because they make
            their numbers with it while they are imported.
    """

    modules: tuple[str, ...]
    tests: tuple[str, ...]
    options: tuple[str, ...] = ()
    from_the_start: bool = False


BOUNDS = ("bounds", "functions", "grid", "needs", "pricing", "proof", "rows")
CHECK = (
    "alternatives",
    "certificates_small",
    "faults",
    "pieces_in_hand",
    "sound",
    "squaring",
    "trueness",
)
"""Without those that plan first or draw hundreds of examples: they notice little more."""

PARTS = {
    "units": Part(
        ("units.py",),
        ("tests/test_units.py", "tests/test_sizes.py", "tests/read/test_lengths.py"),
        from_the_start=True,
    ),
    "cost": Part(("cost/*.py",), ("tests/cost",)),
    "cuts": Part(("cuts/*.py",), ("tests/cuts",)),
    "check": Part(("check/*.py",), tuple(f"tests/check/test_{name}.py" for name in CHECK)),
    "bounds": Part(
        tuple(f"nest/{name}.py" for name in BOUNDS),
        tuple(f"tests/nest/test_{name}.py" for name in (*BOUNDS, "kernel")),
        ("-k", "not compiled and not pattern_bounds and not coarse_grid"),
    ),
}
