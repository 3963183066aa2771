"""The one writer of PDF: pages of four primitives in, bytes out, the same bytes every time."""

# mypy: disable-error-code="import-untyped"

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFInfo
from reportlab.pdfgen.canvas import Canvas

from sheetcut.draw import lettering
from sheetcut.draw.faces import BAR, Lettered, lettered
from sheetcut.draw.primitives import Dots, Drawing, Fill, Line, Point, Primitive, Shape, Text
from sheetcut.version import VERSION

POINTS_PER_MM = 72 / 25.4  # a point is 1/72 in (ISO 32000-1)
WIDEST = 1.05
"""Letters may be stretched so far to fill the room measured for them; narrower ones stand."""

BAR_PAD = 0.06

# Streams as bytes: written as text they take a quarter more room, and a sixth of the time.
rl_config.useA85 = 0

INK = {"paper": 1, "black": 0}


@dataclass(frozen=True, slots=True)
class Missing:
    """A line of lettering with letters that no font of ours has.

    Attributes:
        page: the title of its page.
        text: the line.
        letters: those that a stand-in was printed for.
    """

    page: str
    text: str
    letters: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pdf:
    """A document, and what could not be lettered in it."""

    data: bytes
    missing: tuple[Missing, ...]


def pdf_of(pages: Sequence[Drawing], title: str) -> Pdf:
    """Return drawings as the pages of one PDF, to be printed at their own size.

    Nothing in it tells who made it or when: one plan gives one file, byte for byte.
    """
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1, lang="en")
    canvas._doc.info = _Info()
    canvas.setTitle(lettering.clean(title))
    canvas.setCreator(f"sheetcut {VERSION}")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    missing: dict[str, Missing] = {}
    for number, page in enumerate(pages, 1):
        mark = f"page-{number}"
        canvas.bookmarkPage(mark)
        canvas.addOutlineEntry(lettering.clean(page.title), mark)
        _page(canvas, page, missing)
    canvas.save()
    return Pdf(out.getvalue(), tuple(missing.values()))


class _Info(PDFInfo):  # type: ignore[misc]
    """The particulars of the document: its title and program, no person and no guess."""

    def format(self, document: Any) -> Any:
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFString  # noqa: PLC0415

        said = {"Title": self.title, "Creator": self.creator, "Producer": self.producer}
        return PDFDictionary({key: PDFString(text) for key, text in said.items()}).format(document)


def _page(canvas: Canvas, drawing: Drawing, missing: dict[str, Missing]) -> None:
    size = (drawing.page.width_mm * POINTS_PER_MM, drawing.page.height_mm * POINTS_PER_MM)
    canvas.setPageSize(size)
    canvas.setTrimBox((0, 0, *size))
    pen = _Pen(canvas, size[1])
    for item in drawing.items:
        pen.draw(item)
        if isinstance(item, Text):
            lacks = lettered(lettering.clean(item.text), item.face).missing
            if lacks and item.text not in missing:
                missing[item.text] = Missing(drawing.title, item.text, lacks)
    canvas.showPage()


class _Pen:
    """Draws on one page; points in mm from its top left become points from its lower left."""

    def __init__(self, canvas: Canvas, height: float) -> None:
        self.canvas = canvas
        self.height = height
        self.dashes: tuple[float, ...] = ()
        canvas.setLineJoin(0)
        canvas.setStrokeGray(0)
        canvas.setFillGray(0)

    def draw(self, item: Primitive) -> None:
        match item:
            case Line():
                self._take(item.weight_mm, item.dashes)
                self._run((item.points,), is_closed=False, fill="none", has_pen=True)
            case Shape():
                self._take(item.weight_mm, item.dashes)
                has_pen = item.weight_mm > 0
                self._run((item.points,), is_closed=True, fill=item.fill, has_pen=has_pen)
            case Dots():
                self._dots(item)
            case Text():
                self._text(item)

    def _at(self, point: Point) -> Point:
        return point[0] * POINTS_PER_MM, self.height - point[1] * POINTS_PER_MM

    def _take(self, weight_mm: float, dashes: tuple[float, ...]) -> None:
        if weight_mm:
            self.canvas.setLineWidth(weight_mm * POINTS_PER_MM)
        if dashes != self.dashes:
            self.canvas.setDash([dash * POINTS_PER_MM for dash in dashes])
            self.dashes = dashes

    def _run(
        self, runs: Iterable[tuple[Point, ...]], *, is_closed: bool, fill: Fill, has_pen: bool
    ) -> None:
        path = self.canvas.beginPath()
        for points in runs:
            path.moveTo(*self._at(points[0]))
            for point in points[1:]:
                path.lineTo(*self._at(point))
            if is_closed:
                path.close()
        if fill != "none":
            self.canvas.setFillGray(INK[fill])
        self.canvas.drawPath(path, stroke=int(has_pen), fill=int(fill != "none"))
        if fill == "paper":
            self.canvas.setFillGray(0)

    def _dots(self, item: Dots) -> None:
        # As in SVG, full dots are strokes of near no length with round ends, in one path.
        if item.fill == "black" and not item.weight_mm:
            self._take(2 * item.radius_mm, ())
            self.canvas.setLineCap(1)
            dots = (((x, y), (x + 0.001, y)) for x, y in item.centres)
            self._run(dots, is_closed=False, fill="none", has_pen=True)
            self.canvas.setLineCap(0)
            return
        self._take(item.weight_mm, ())
        for centre in item.centres:
            x, y = self._at(centre)
            if item.fill != "none":
                self.canvas.setFillGray(INK[item.fill])
            self.canvas.circle(
                x,
                y,
                item.radius_mm * POINTS_PER_MM,
                stroke=int(item.weight_mm > 0),
                fill=int(item.fill != "none"),
            )
        self.canvas.setFillGray(0)

    def _text(self, item: Text) -> None:
        words = lettering.clean(item.text)
        line = lettered(words, item.face)
        if not line.runs:
            return
        stretch, run_mm = _fit(item, words, line)
        back = {"start": 0.0, "middle": run_mm / 2, "end": run_mm}[item.anchor]
        x, y = self._at(item.at)
        turn = math.radians(item.angle)
        across, up = round(math.cos(turn)), round(math.sin(turn))
        back *= POINTS_PER_MM
        text = self.canvas.beginText()
        text.setTextTransform(across, up, -up, across, x - back * across, y - back * up)
        text.setHorizScale(stretch * 100)
        for n, run in enumerate(line.runs):
            text.setFont(run.font.name, item.height_mm / run.font.capital * POINTS_PER_MM)
            for letters, pad in _padded(line, n):
                room = item.spacing_mm + pad * item.height_mm
                text.setCharSpace(room * POINTS_PER_MM / stretch)
                text.textOut(letters)
        # Both outlive the text they were set in.
        text.setHorizScale(100)
        text.setCharSpace(0)
        self.canvas.drawText(text)


def _padded(line: Lettered, at: int) -> Iterator[tuple[str, float]]:
    """Yield letters of a run with the room after each, over the capital's height.

    Figures lean against a fraction's bar, and at arm's length 3/16 must not read as 316.
    """
    run = line.runs[at].letters
    letters = run + "".join(follows.letters[0] for follows in line.runs[at + 1 : at + 2])
    start = 0
    for n in range(len(run)):
        if BAR in letters[n : n + 2]:
            if start < n:
                yield letters[start:n], 0.0
            yield letters[n], BAR_PAD
            start = n + 1
    if start < len(run):
        yield run[start:], 0.0


def _fit(item: Text, words: str, line: Lettered) -> tuple[float, float]:
    """Return how far the letters are stretched, and how far the line then runs, in mm."""
    added = sum(
        len(letters) * (item.spacing_mm + pad * item.height_mm)
        for n in range(len(line.runs))
        for letters, pad in _padded(line, n)
    )
    natural = sum(run.width for run in line.runs) * item.height_mm
    room = lettering.width(words, item.height_mm, item.face, item.spacing_mm) - added
    stretch = min(room / natural, WIDEST) if natural > 0 else 1.0
    return stretch, natural * stretch + added - item.spacing_mm
