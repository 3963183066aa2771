"""Sheets and order lines as rows of the documents that commands print."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

import msgspec

from sheetcut.document import job_bytes

if TYPE_CHECKING:
    from sheetcut.job import Job


def job_rows(job: Job) -> dict[str, Any]:
    """Return a job under the keys of the plan document, its decimals exact."""
    decoder = msgspec.json.Decoder(dict[str, Any], float_hook=Decimal)
    return decoder.decode(job_bytes(job))
