"""Changes made on the page: one at a time, and none from a form that the studio has moved past."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from flask import current_app

from sheetcut.drawer import Store
from sheetcut.page.studio import desk


@contextmanager
def changing() -> Iterator[Store]:
    """Give the store to whoever changes it, while no other tab and no other program does.

    What a form was opened with is compared within, and still holds when the change is made.
    """
    with current_app.extensions["changing"], desk().store() as store, store.alone():
        yield store


def version_of(cells: Sequence[str]) -> str:
    """Return what tells a row as it was shown from the same row changed since."""
    return hashlib.sha256(json.dumps(list(cells)).encode()).hexdigest()[:20]
