"""The system's Chromium before a page that is really served; skipped where there is none.

Where SHEETCUT_BROWSER is "needed", as it is for what is landed, a missing browser is a failure.
"""

import importlib
import os
import re
import shutil
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from threading import Thread

import pytest

from sheetcut.page import serving
from tests.page.conftest import studio_planned  # noqa: F401

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
# Looked into for examples like every module, it cannot be imported without the browser extra.
collect_ignore = [] if find_spec("playwright") else ["keep_pictures.py"]


def missing(what: str):
    """Leave a test out by name, or fail it where a browser is needed."""
    if os.environ.get("SHEETCUT_BROWSER") == "needed":
        pytest.fail(what)
    pytest.skip(what)


def library(name: str):
    """Return a library of the extra called browser, or leave the test out by name."""
    try:
        return importlib.import_module(name)
    except ImportError:
        return missing(f"no {name.partition('.')[0]} installed; it is in the extra called browser")


def found_chromium() -> str | None:
    """Return where this machine has a Chromium."""
    named = os.environ.get("SHEETCUT_CHROMIUM")
    return named or next(filter(None, map(shutil.which, NAMES)), None)


@pytest.fixture(scope="session")
def chromium():
    """Return the browser, or skip by name."""
    playwright = library("playwright.sync_api")
    path = found_chromium()
    if path is None:
        missing("no Chromium on this machine")
    with playwright.sync_playwright() as started:
        browser = started.chromium.launch(executable_path=path, args=list(FLAGS))
        yield browser
        browser.close()


@contextmanager
def served(folder: Path):
    """Give the address of a page that is being served."""
    with serving(folder) as page:
        thread = Thread(target=page.run, daemon=True)
        thread.start()
        yield page.address


@contextmanager
def opened(browser, address, **options):
    """Give a tab that was let in; whatever it says or asks elsewhere fails the test."""
    context = browser.new_context(**options)
    tab = context.new_page()
    heard, asked = [], []
    tab.on("console", lambda message: heard.append(message.text))
    tab.on("pageerror", lambda error: heard.append(str(error)))
    tab.on("request", lambda request: asked.append(request.url))
    tab.goto(address)
    yield tab
    here = address.split("/enter/")[0]
    # A form that comes back with something wrong is an answer, though the browser remarks on it.
    assert [words for words in heard if not re.search(r"status of 4(09|22)", words)] == []
    assert [url for url in asked if not url.startswith(here)] == []
    context.close()


@pytest.fixture
def planned(studio_planned, tmp_path):  # noqa: F811
    """Give the address of a copy of the planned studio."""
    with served(Path(shutil.copytree(studio_planned, tmp_path / "studio"))) as address:
        yield address
