"""The local page: everything the commands do, in a browser, for one studio on this machine."""

from __future__ import annotations

from sheetcut.page.app import create_app
from sheetcut.page.serving import Serving, serving

__all__ = ["Serving", "create_app", "serving"]
