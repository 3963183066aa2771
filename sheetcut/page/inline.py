"""A drawing of ours to stand in a page."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup


def inline(svg: str) -> Markup:
    """Return a drawing of ours to stand in a page: without its declaration and its own size.

    What people typed stands in it as text, escaped by its writer.
    """
    start = svg.index("<svg")
    head, _, rest = svg[start:].partition(">")
    kept = [word for word in _attributes(head) if not word.startswith(("width=", "height="))]
    return Markup(" ".join(["<svg", 'class="drawing"', 'role="img"', *kept]) + ">" + rest)


def _attributes(head: str) -> list[str]:
    """Return the attributes of a tag's beginning, each with its value."""
    parts: list[Any] = head.removeprefix("<svg ").split('" ')
    return [part if part.endswith('"') else f'{part}"' for part in parts]
