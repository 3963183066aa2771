"""Write the drawings that a person has looked at: python -m tests.draw.keep_golden."""

from pathlib import Path

from sheetcut.draw import pin_up, svg_text
from tests.draw.cases import CASES, Case

GOLDEN = Path(__file__).parent.parent / "golden"


def golden_svg(made: Case) -> str:
    """Return a case as it is kept."""
    page = pin_up(
        made.plan,
        made.paper,
        made.layout,
        title=made.title,
        sheet_numbers=made.sheet_numbers,
        made="25 Nov 2026",
        twins=made.twins,
    )
    return svg_text(page)


def main() -> None:
    """Write all cases; look at each before they are committed."""
    for name, make in CASES.items():
        (GOLDEN / f"pinup-{name}.svg").write_text(golden_svg(make()), encoding="utf-8")


if __name__ == "__main__":
    main()
