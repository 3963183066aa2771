"""Write the printed pages that a person has looked at: python -m tests.printout.keep_golden."""

import io
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
from PIL import Image

from sheetcut.printout.pages import KINDS, printed
from tests.draw.cases import CASES, Case

GOLDEN = Path(__file__).parent.parent / "golden" / "printed"
PICTURED = ("imperial-twins", "inches", "forty-small")
"""All pages of these are kept as pictures too."""

DOTS_PER_INCH = 60


def printed_pages(made: Case) -> pypdfium2.PdfDocument:
    """Return every kind of page of a case."""
    return pypdfium2.PdfDocument(printed(made.plan, kinds=KINDS).data)


def golden_text(made: Case) -> str:
    """Return the text of all pages of a case, as another program reads it from the file."""
    pages = printed_pages(made)
    parts = []
    for number, page in enumerate(pages, 1):
        words = page.get_textpage().get_text_range().replace("\r\n", "\n").strip()
        parts.append(f"--- page {number} of {len(pages)}\n{words}\n")
    return "\n".join(parts)


def golden_pictures(made: Case) -> Iterator[Image.Image]:
    """Yield the pages of a case as they look from afar."""
    for page in printed_pages(made):
        yield page.render(scale=DOTS_PER_INCH / 72).to_pil().convert("L")


def picture_path(name: str, number: int) -> Path:
    """Return where the picture of a page is kept; pages count from 1."""
    return GOLDEN / f"{name}-{number}.png"


def main() -> None:
    """Write all cases; look at each before they are committed."""
    GOLDEN.mkdir(exist_ok=True)
    for name, make in CASES.items():
        (GOLDEN / f"{name}.txt").write_text(golden_text(make()), encoding="utf-8")
    for name in PICTURED:
        for number, picture in enumerate(golden_pictures(CASES[name]()), 1):
            held = io.BytesIO()
            picture.quantize(16).save(held, "PNG", optimize=True)
            picture_path(name, number).write_bytes(held.getvalue())


if __name__ == "__main__":
    main()
