"""What went wrong before there was a page, shown in the browser to somebody without a terminal."""

from __future__ import annotations

import tempfile
import webbrowser
from html import escape
from pathlib import Path

import platformdirs

PAGE = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Not opened</title>
<body><h1>The studio could not be opened</h1><p>{}</p></body></html>
"""


def show_sorry(words: str) -> Path | None:
    """Show a sentence in the browser, from a file of its own; return where that lies.

    It is often a full disk that has to be told of, so the file may find no place: then there is
    none, and the sentence stands where the program was started alone.
    """
    cache = platformdirs.user_cache_path("sheetcut", appauthor=False)
    for folder in (cache, Path(tempfile.gettempdir())):
        path = folder / "not-opened.html"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            path.write_text(PAGE.format(escape(words)), encoding="utf-8")
        except OSError:
            continue
        webbrowser.open(path.as_uri())
        return path
    return None
