"""The command that lists named sizes."""

from __future__ import annotations

from typing import Any

import click

from sheetcut.cli.shown import NO, Shown, echo_json, json_option


@click.command()
@click.argument("name", required=False)
@json_option
def sizes(name: str | None, as_json: bool) -> None:
    """List named sizes with their standard.

    NAME shows those that begin so.
    """
    from sheetcut.sizes import named_sizes  # noqa: PLC0415

    wanted = (name or "").casefold()
    found = [size for size in named_sizes() if size.name.casefold().startswith(wanted)]
    if not found:
        raise Shown(f'sizes: no size begins with "{name}"; "sheetcut sizes" lists them all', NO)
    if as_json:
        echo_json({"form": "sheetcut sizes 1", "unit": "mm", "sizes": [_size(s) for s in found]})
    else:
        _print_sizes(found)


def _size(size: Any) -> dict[str, Any]:
    from sheetcut.units import in_mm  # noqa: PLC0415

    return {
        "name": size.name,
        "width": in_mm(size.width),
        "height": in_mm(size.height),
        "standard": size.standard,
        "year": size.year,
        "traditional": size.is_traditional,
        "note": size.note,
    }


def _print_sizes(found: list[Any]) -> None:
    from rich.box import SIMPLE_HEAD  # noqa: PLC0415
    from rich.console import Console  # noqa: PLC0415
    from rich.table import Table  # noqa: PLC0415

    table = Table("name", "mm", "standard", "note", box=SIMPLE_HEAD)
    for size in found:
        row = _size(size)
        standard = f"{row['standard']}:{row['year']}" if row["year"] else row["standard"]
        table.add_row(row["name"], f"{row['width']} x {row['height']}", standard, row["note"])
    Console(markup=False, highlight=False).print(table)
