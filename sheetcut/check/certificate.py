"""Certificates of bounds, worked out again: one function for each form they come in.

A certificate is a mapping with the key "form". Its function is given the paper's case and
the certificate, computes the bound it proves in exact arithmetic of its own, and yields a
sentence for everything that does not hold: a key that is missing, a weight that is too large,
a bound that comes out lower than the one claimed. It never raises, whatever the certificate
holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from sheetcut.check.case import PaperCase
from sheetcut.check.weights import FORM, weights_faults

Recheck = Callable[[PaperCase, dict[str, Any]], Iterator[str]]

FORMS: dict[str, Recheck] = {FORM: weights_faults}
"""By form, as in "weights 1"; a bound whose reason suffices carries no certificate."""


def certificate_faults(case: PaperCase) -> Iterator[str]:
    """Yield a sentence for everything in a bound's certificate that does not hold."""
    certificate = case.paper.bound.certificate
    if certificate is None:
        return
    form = certificate.get("form") if isinstance(certificate, dict) else None
    recheck = FORMS.get(form) if isinstance(form, str) else None
    if recheck is None:
        known = ", ".join(sorted(FORMS)) or "none yet"
        yield f"the bound's certificate has the form {form!r}; this version can check: {known}"
        return
    yield from recheck(case, certificate)
