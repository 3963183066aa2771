"""A studio whose page is open already is shown again, and not served twice."""

from __future__ import annotations

import contextlib
import hashlib
import http.client
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import platformdirs

PATIENCE_S = 1.0
OWN_ALONE = 0o600


@contextmanager
def noted(folder: Path, address: str, *, tablet: bool) -> Iterator[None]:
    """Have this page found while it is served; where nothing can be noted, it is not found.

    Args:
        address: what lets a browser in; only this account can read it.
    """
    path = _note(folder)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.unlink(missing_ok=True)
        there = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, OWN_ALONE)
        with os.fdopen(there, "w", encoding="utf-8") as file:
            json.dump({"address": address, "tablet": tablet}, file)
    except OSError:
        pass
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            if _address(path) == address:
                path.unlink()


def open_already(folder: Path, *, tablet: bool) -> str | None:
    """Return the address of this studio's page, if one is open and answers; else None.

    Args:
        tablet: whether it has to be served to a tablet, too.
    """
    address = _address(_note(folder), tablet=tablet)
    return address if address and _answers(address) else None


def _note(folder: Path) -> Path:
    digest = hashlib.sha256(str(folder.resolve()).encode("utf-8", "surrogateescape")).hexdigest()
    pages = platformdirs.user_cache_path("sheetcut", appauthor=False) / "pages"
    return pages / f"{digest[:16]}.json"


def _address(path: Path, *, tablet: bool = False) -> str | None:
    try:
        noted = json.loads(path.read_text(encoding="utf-8"))
        return str(noted["address"]) if noted["tablet"] or not tablet else None
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _answers(address: str) -> bool:
    """Whether a page lets a browser in by this address: a free port may be another's by now."""
    parts = urlsplit(address)
    if parts.hostname != "127.0.0.1":
        return False
    try:
        asked = http.client.HTTPConnection(parts.hostname, parts.port, timeout=PATIENCE_S)
        with contextlib.closing(asked):
            asked.request("GET", parts.path)
            answer = asked.getresponse()
            return answer.status == 303 and "sheetcut-" in answer.getheader("Set-Cookie", "")
    except (OSError, ValueError, http.client.HTTPException):
        return False
