"""The pin-up sheet: a layout as four kinds of primitives in millimetres, and writers for them."""

from __future__ import annotations

from sheetcut.draw.glance import glance
from sheetcut.draw.pinup import NoRoomOnPage, pin_up, pin_up_pages
from sheetcut.draw.primitives import (
    A3,
    A4,
    LETTER,
    Dots,
    Drawing,
    Line,
    Page,
    Primitive,
    Shape,
    Text,
)
from sheetcut.draw.svg import svg_text

__all__ = [
    "A3",
    "A4",
    "LETTER",
    "Dots",
    "Drawing",
    "Line",
    "NoRoomOnPage",
    "Page",
    "Primitive",
    "Shape",
    "Text",
    "glance",
    "pin_up",
    "pin_up_pages",
    "svg_text",
]
