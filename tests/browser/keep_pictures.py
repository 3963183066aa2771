"""Makes the pictures of the page that README shows, or with a folder all places to be looked at.

python -m tests.browser.keep_pictures            # the two of layouts/page/
python -m tests.browser.keep_pictures FOLDER     # every place, light and dark, three widths
"""

from __future__ import annotations

import io
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from threading import Thread

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from sheetcut.page import serving
from sheetcut.page.bringing_in import bring_in
from sheetcut.page.studio import Desk, present_in
from sheetcut.plan import make_plan
from sheetcut.printout.files import write_plan
from sheetcut.read import read_studio
from tests.browser.conftest import FLAGS, found_chromium
from tests.browser.places import places_of

ROOT = Path(__file__).resolve().parent.parent.parent
KEPT = ROOT / "layouts" / "page"
FILES = ("orders.csv", "drawer.csv", "studio.toml")
MADE = "2026-11-25T09:00:00+00:00"
WIDTHS = {"desk": (1280, 860), "tablet": (820, 1180), "phone": (360, 740)}
TABLET = (1180, 820)
COLOURS = 24  # the page has ink, paper and one blue; more only makes the file larger


def main(arguments: list[str]) -> None:
    """Make what was asked for."""
    with (
        tempfile.TemporaryDirectory() as scratch,
        _planned(Path(scratch)) as (address, code),
        sync_playwright() as started,
    ):
        browser = started.chromium.launch(executable_path=found_chromium(), args=list(FLAGS))
        if arguments:
            _all(browser, address, code, Path(arguments[0]))
        else:
            _two(browser, address, code)
        browser.close()


def _two(browser: Browser, address: str, code: str) -> None:
    KEPT.mkdir(exist_ok=True)
    with _tab(browser, address, WIDTHS["desk"], "light") as (tab, here):
        tab.goto(f"{here}/drawer")
        _keep(tab, KEPT / "drawer.png")
    with _tab(browser, address, TABLET, "light") as (tab, here):
        tab.goto(f"{here}/mat/{code}/1/5")
        _keep(tab, KEPT / "at-the-mat.png")


def _all(browser: Browser, address: str, code: str, folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for scheme in ("light", "dark"):
        for width, size in WIDTHS.items():
            with _tab(browser, address, size, scheme) as (tab, here):
                for number, path in enumerate(places_of(code)):
                    tab.goto(here + path)
                    word = path.strip("/").replace("/", "-").split("?")[0] or "home"
                    name = f"{number:02d}-{word}-{width}-{scheme}.png"
                    tab.screenshot(path=folder / name, full_page=True)


@contextmanager
def _planned(folder: Path) -> Iterator[tuple[str, str]]:
    """Give the address of the demo studio's page, with its week planned, and the plan's code."""
    for name in FILES:
        shutil.copy(ROOT / "demo" / name, folder / name)
    bring_in(Desk(folder))
    plan = make_plan(read_studio(folder).job, made=MADE)
    write_plan(replace(plan, input_hash=present_in(folder).input_hash), folder)
    with serving(folder) as page:
        Thread(target=page.run, daemon=True).start()
        yield page.address, plan.code


@contextmanager
def _tab(
    browser: Browser, address: str, size: tuple[int, int], scheme: str
) -> Iterator[tuple[Page, str]]:
    around = {"width": size[0], "height": size[1]}
    context = browser.new_context(viewport=around, color_scheme=scheme)  # type: ignore[arg-type]
    tab = context.new_page()
    tab.goto(address)
    yield tab, address.partition("/enter/")[0]
    context.close()


def _keep(tab: Page, path: Path) -> None:
    """Keep a picture with few colours, so that it stays small."""
    picture = Image.open(io.BytesIO(tab.screenshot())).convert("RGB")
    picture.quantize(COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    print(path, f"{path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main(sys.argv[1:])
