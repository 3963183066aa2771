"""The command that opens the local page in a browser."""

from __future__ import annotations

from pathlib import Path

import click

from sheetcut.cli.shown import folder_argument


@click.command()
@folder_argument
@click.option(
    "--port",
    default=0,
    type=click.IntRange(0, 65_535),
    help="Where to serve it.  [default: any that is free]",
)
@click.option("--no-browser", is_flag=True, help="Only show the address.")
def page(folder: Path, port: int, no_browser: bool) -> None:
    """Open the studio as a page in the browser, on this machine alone.

    It runs until Ctrl-C. An empty folder is offered a studio to begin with.
    """
    import signal  # noqa: PLC0415
    import webbrowser  # noqa: PLC0415

    from sheetcut.page import serving  # noqa: PLC0415
    from sheetcut.read import NoFolder  # noqa: PLC0415

    if not folder.is_dir():
        raise NoFolder(folder)
    # A shell that starts programs in the background has them ignore Ctrl-C; this one must end.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    with serving(folder, port) as served:
        click.echo(served.address)
        click.echo("The page is open for this machine alone; Ctrl-C ends it.", err=True)
        if not no_browser:
            webbrowser.open(served.address)
        served.run()
