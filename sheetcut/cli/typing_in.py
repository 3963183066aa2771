"""Options for what is typed of a sheet or an order line, one for each heading of its table."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any, TypeVar

import click

from sheetcut.cli.shown import WRONG, Shown

Command = TypeVar("Command", bound=Callable[..., Any])

EDGE_HELP = "That edge alone."
SHEET_HELP: Mapping[str, str] = {
    "name": "What drawings call it.",
    "paper": "The kind of paper.",
    "size": 'As measured, as in "560 x 760" or "22 1/8 x 30 in".',
    "edge loss": "What deckle, squaring or bruises take of every edge.",
    **dict.fromkeys(("left", "right", "top", "foot"), EDGE_HELP),
    "deckle": 'Edges with a deckle: "all", "none", "left right".',
    "side": "one or both sides can be worked on.",
    "grain": "along width, along height, none, not known.",
    "on hand": 'How many, or "any".',
    "price": "Of one sheet.",
    "packs": 'As in "5 for 76.00; 20+ at 13.90".',
    "kind": "full or offcut.",
    "note": "Anything.",
    "leave": "Deckles that stay on the blanks beside them.",
    "keep": "Deckles that are never trimmed.",
    "watermark": "The corner it lies in, as in top right.",
    "top width": "Of a sheet out of square; its size has the width at the foot.",
    "right height": "Of a sheet out of square; its size has the height at the left.",
    "diagonal": "From the lower left corner to the upper right one.",
}
"""The headings of the drawer's table but its first, each with what it is for."""

ORDER_HELP: Mapping[str, str] = {
    "client": "Who for.",
    "piece": "What is drawn or printed.",
    "paper": "As the drawer has it.",
    "kind": "drawing, print or card.",
    "size": "Finished size of a drawing or card, the image of a print.",
    "margin": "Paper round a drawing, or the borders of a print, at every edge.",
    **dict.fromkeys(("left", "right", "top", "foot"), EDGE_HELP),
    "count": "How many.",
    "turn": "yes, no, grain up, grain across, alike.",
    "deckle": "Edges on which a deckle is kept.",
    "due": "As in 2026-12-03.",
    "if room": '"yes": cut only where it costs no sheet.',
    "price": "What the client pays for one.",
    "note": "Anything.",
}
"""The headings of the orders' table but its first, each with what it is for."""


def heading_options(headings: Mapping[str, str]) -> Callable[[Command], Command]:
    """Return what gives a command an option for each heading."""

    def options(command: Command) -> Command:
        for heading, text in reversed(list(headings.items())):
            name = f"--{heading.replace(' ', '-')}"
            command = click.option(name, heading.replace(" ", "_"), metavar="TEXT", help=text)(
                command
            )
        return command

    return options


def typed_cells(given: Mapping[str, str | None]) -> dict[str, str]:
    """Return the values that were given, by their headings."""
    return {option.replace("_", " "): text for option, text in given.items() if text is not None}


def in_one(words: Sequence[str]) -> str:
    """Return a name that may have been typed without quotation marks.

    >>> in_one(["heron", "7"])
    'heron 7'
    """
    return " ".join(words)


def value(option: str, read: Any, text: str) -> Any:
    """Return what was typed for an option; a refusal says which."""
    from sheetcut.read import Refused  # noqa: PLC0415

    try:
        return read(text)
    except Refused as refused:
        raise Shown(f"{option}: {refused}", WRONG) from refused


def typed_size(option: str, text: str, settings: Any) -> tuple[int, int]:
    """Return a width and a height typed for an option; bare numbers are in the studio's unit."""
    from sheetcut.read import read_size  # noqa: PLC0415

    size = value(option, partial(read_size, unit=settings.unit), text)
    return size.width, size.height
