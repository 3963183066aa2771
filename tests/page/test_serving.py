"""Serving ends without a word: connections that are taken away while somebody listens on them."""

from threading import Event
from types import SimpleNamespace

import pytest

from sheetcut.page.serving import Serving


def gone():
    raise OSError(9, "Bad file descriptor")


def test_connections_taken_away_at_the_end_are_no_news():
    """Ctrl-C now and then left "Exception in thread" behind the page's last words."""
    ending = Event()
    page = Serving("", SimpleNamespace(run=gone), None, Event(), ending)
    with pytest.raises(OSError, match="Bad file"):
        page._answer()
    ending.set()
    page._answer()
