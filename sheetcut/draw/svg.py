"""The one writer of SVG: four primitives in, text out, the same text every time."""

from __future__ import annotations

import io
from typing import Any

import svgwrite

from sheetcut.draw.lettering import clean, is_measured, type_size, width
from sheetcut.draw.primitives import Dots, Drawing, Face, Line, Point, Primitive, Shape, Text

FAMILIES: dict[Face, str] = {
    "sans": "'DejaVu Sans Condensed', 'DejaVu Sans', Verdana, 'Segoe UI', Arial, sans-serif",
    "serif": "'DejaVu Serif Condensed', 'DejaVu Serif', Georgia, Cambria, serif",
}
"""Fonts to look for, in turn; all are held to the widths of the first."""

FAMILIES |= {"sans bold": FAMILIES["sans"], "serif italic": FAMILIES["serif"]}

INKS = {"none": "none", "paper": "#fff", "black": "#000"}
DECIMALS = 3  # a thousandth of a millimetre: finer than any printer


def svg_text(drawing: Drawing) -> str:
    """Return the drawing as SVG, one unit to the millimetre, to be printed at its own size."""
    page = drawing.page
    size = (f"{_number(page.width_mm)}mm", f"{_number(page.height_mm)}mm")
    view = f"0 0 {_number(page.width_mm)} {_number(page.height_mm)}"
    picture = svgwrite.Drawing(size=size, viewBox=view, debug=False)
    picture.set_desc(title=clean(drawing.title))
    paper = picture.rect((0, 0), (page.width_mm, page.height_mm), fill=INKS["paper"])
    picture.add(paper)
    for item in drawing.items:
        picture.add(_element(picture, item))
    out = io.StringIO()
    picture.write(out, pretty=False)
    return out.getvalue().replace("><", ">\n<") + "\n"


def _element(picture: Any, item: Primitive) -> Any:
    match item:
        case Line():
            return picture.path(_run(item.points), fill="none", **_pen(item.weight_mm, item.dashes))
        case Shape():
            pen = _pen(item.weight_mm, item.dashes)
            return picture.path(_run(item.points) + "Z", fill=INKS[item.fill], **pen)
        case Dots():
            return _dots(picture, item)
        case Text():
            return _text(picture, item)


def _run(points: tuple[Point, ...]) -> str:
    return "M" + "L".join(f"{_number(x)} {_number(y)}" for x, y in points)


def _pen(weight_mm: float, dashes: tuple[float, ...]) -> dict[str, Any]:
    if not weight_mm:
        return {}
    pen: dict[str, Any] = {"stroke": "#000", "stroke_width": _number(weight_mm)}
    if dashes:
        pen["stroke_dasharray"] = " ".join(_number(dash) for dash in dashes)
    else:
        pen["stroke_linejoin"] = "miter"
    return pen


def _dots(picture: Any, item: Dots) -> Any:
    # Full dots are one path of near-nothing strokes with round ends: a scrap has hundreds of
    # them, and as elements of their own they would be most of the file.
    if item.fill == "black" and not item.weight_mm:
        run = "".join(f"M{_number(x)} {_number(y)}h.001" for x, y in item.centres)
        pen = {"stroke": "#000", "stroke_width": _number(2 * item.radius_mm)}
        return picture.path(run, fill="none", stroke_linecap="round", **pen)
    group = picture.g(fill=INKS[item.fill], **_pen(item.weight_mm, ()))
    for x, y in item.centres:
        group.add(picture.circle((_number(x), _number(y)), _number(item.radius_mm)))
    return group


def _text(picture: Any, item: Text) -> Any:
    words = clean(item.text)
    look: dict[str, Any] = {
        "font_family": FAMILIES[item.face],
        "font_size": _number(type_size(item.height_mm)),
        "text_anchor": item.anchor,
    }
    if item.face == "sans bold":
        look["font_weight"] = "bold"
    if item.face == "serif italic":
        look["font_style"] = "italic"
    if item.spacing_mm:
        look["letter_spacing"] = _number(item.spacing_mm)
    if item.role:
        look["class_"] = item.role
    # Another font than the one measured would run wider or narrower; this holds it to its room.
    if len(words) > 1 and is_measured(words, item.face):
        run = width(words, item.height_mm, item.face, item.spacing_mm)
        look |= {"textLength": _number(run), "lengthAdjust": "spacingAndGlyphs"}
    x, y = (_number(part) for part in item.at)
    if item.angle:
        look["transform"] = f"rotate(-{item.angle} {x} {y})"
    return picture.text(words, insert=(x, y), **look)


def _number(value: float) -> str:
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text
