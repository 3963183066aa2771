"""What went wrong before there was a page, shown in the browser to somebody without a terminal."""

from __future__ import annotations

import webbrowser
from html import escape
from pathlib import Path

import platformdirs

PAGE = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Not opened</title>
<body><h1>The studio could not be opened</h1><p>{}</p></body></html>
"""


def show_sorry(words: str) -> Path:
    """Show a sentence in the browser, from a file of its own; return where that lies."""
    path = platformdirs.user_cache_path("sheetcut", appauthor=False) / "not-opened.html"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(PAGE.format(escape(words)), encoding="utf-8")
    webbrowser.open(path.as_uri())
    return path
