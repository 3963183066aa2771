"""sheetcut plans how heavy paper is cut from large sheets by hand."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from sheetcut.version import VERSION

if TYPE_CHECKING:
    from sheetcut.errors import Fault, FaultsFound, Problem, ProblemsFound, SheetcutError
    from sheetcut.job import Job, Pack, Paper, Piece, Rules, Sheet
    from sheetcut.layout import Bound, Layout, Placement, Plan
    from sheetcut.plan import make_plan
    from sheetcut.units import Edges, inch, mm

__version__ = VERSION

__all__ = [
    "Bound",
    "Edges",
    "Fault",
    "FaultsFound",
    "Job",
    "Layout",
    "Pack",
    "Paper",
    "Piece",
    "Placement",
    "Plan",
    "Problem",
    "ProblemsFound",
    "Rules",
    "Sheet",
    "SheetcutError",
    "__version__",
    "inch",
    "make_plan",
    "mm",
]

# Names are fetched when first used, so that `sheetcut --help` need not load the engine.
_HOMES = {
    "errors": ("Fault", "FaultsFound", "Problem", "ProblemsFound", "SheetcutError"),
    "job": ("Job", "Pack", "Paper", "Piece", "Rules", "Sheet"),
    "layout": ("Bound", "Layout", "Placement", "Plan"),
    "plan": ("make_plan",),
    "units": ("Edges", "inch", "mm"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'sheetcut' has no attribute {name!r}")
    return getattr(import_module(f"sheetcut.{_HOME_OF[name]}"), name)


def __dir__() -> list[str]:
    return __all__
