"""The command that opens the local page in a browser, or puts it on the desktop."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.shown import folder_argument

if TYPE_CHECKING:
    from sheetcut.page.pairing import Pairing


@click.command()
@folder_argument
@click.option(
    "--port",
    default=0,
    type=click.IntRange(0, 65_535),
    help="Where to serve it.  [default: any that is free]",
)
@click.option("--no-browser", is_flag=True, help="Only show the address.")
@click.option(
    "--tablet", is_flag=True, help="Serve it to a tablet of the same network, too, by a code."
)
@click.option(
    "--desktop", is_flag=True, help="Put it on the desktop, to be opened there by a double click."
)
@click.option("--double-click", is_flag=True, hidden=True)
def page(
    folder: Path, port: int, no_browser: bool, tablet: bool, desktop: bool, double_click: bool
) -> None:
    """Open the studio as a page in the browser, on this machine alone.

    It runs until it is closed on the page, or until Ctrl-C. A folder that is new or empty is
    offered a studio to begin with. With --tablet it can be opened beside the mat as well.
    """
    from sheetcut.errors import SheetcutError, SystemRefused  # noqa: PLC0415

    try:
        if not double_click:
            _begin(folder)
        if desktop:
            _put_on_desktop(folder, tablet=tablet)
        else:
            _open(folder, port, no_browser=no_browser, tablet=tablet)
    except (SheetcutError, OSError) as error:
        if double_click:
            # Nobody sees what is written to a terminal that is not there.
            from sheetcut.page.sorry import show_sorry  # noqa: PLC0415

            show_sorry(str(SystemRefused(error) if isinstance(error, OSError) else error))
        raise


def _begin(folder: Path) -> None:
    """Make the folder of a studio that begins today, where the folder round it is there."""
    if not folder.exists() and folder.absolute().parent.is_dir():
        folder.mkdir()
        click.echo(f"{folder}: made, for a studio to begin in", err=True)


def _open(folder: Path, port: int, *, no_browser: bool, tablet: bool) -> None:
    import signal  # noqa: PLC0415
    import webbrowser  # noqa: PLC0415

    from sheetcut.page import serving  # noqa: PLC0415
    from sheetcut.page.already_open import noted, open_already  # noqa: PLC0415
    from sheetcut.page.serving import network_address  # noqa: PLC0415
    from sheetcut.read import NoFolder  # noqa: PLC0415

    if not folder.is_dir():
        raise NoFolder(folder)
    if not port and not no_browser and (address := open_already(folder, tablet=tablet)):
        click.echo(address)
        click.echo("The page is open already; here it is again.", err=True)
        webbrowser.open(address)
        return
    network = network_address() if tablet else ""
    # A shell that starts programs in the background has them ignore Ctrl-C; this one must end.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    with serving(folder, port, network) as served, noted(folder, served.address, tablet=tablet):
        click.echo(served.address)
        _tell(served.pairing)
        if not no_browser:
            webbrowser.open(served.address)
        served.run()


def _tell(pairing: Pairing | None) -> None:
    from sheetcut.page.tablet import spaced  # noqa: PLC0415

    if pairing is None:
        click.echo("The page is open for this machine alone; Ctrl-C ends it.", err=True)
        return
    click.echo(
        f"On the tablet open http://{pairing.host} and type {spaced(pairing.code)}\n"
        "What goes to the tablet is not encrypted: anybody in this network could read along.\n"
        "Ctrl-C ends it.",
        err=True,
    )


def _put_on_desktop(folder: Path, *, tablet: bool) -> None:
    from sheetcut.page.desktop import put_on_desktop  # noqa: PLC0415
    from sheetcut.read import NoFolder  # noqa: PLC0415

    if not folder.is_dir():
        raise NoFolder(folder)
    put = put_on_desktop(folder, tablet=tablet)
    click.echo(put.path)
    for line in put.says:
        click.echo(line, err=True)
