"""Certificates of bounds, worked out again: one function for each form they come in.

A certificate is a mapping with the key "form". Its function is given the paper's case and
the certificate, computes the bound it proves in exact arithmetic of its own, and yields a
sentence for everything that does not hold: a key that is missing, a weight that is too large,
a bound that comes out lower than the one claimed. It never raises, whatever the certificate
holds. One that takes too long to work out again is no fault: its bound is left on trust.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from sheetcut.check import listed, weights
from sheetcut.check.case import PaperCase

Recheck = Callable[[PaperCase, dict[str, Any]], Iterator[str]]

FORMS: dict[str, Recheck] = {
    weights.FORM: weights.weights_faults,
    listed.FORM: listed.listing_faults,
}
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
    yield from (told for told in recheck(case, certificate) if told != weights.TOO_LONG)


PATIENT_STEPS = 10_000_000  # of a listing that somebody waits for; some ten seconds


def bound_again(case: PaperCase) -> tuple[list[str], bool]:
    """Return what is wrong with a bound, and whether it was worked out again to the end.

    It takes longer over a listing than the check of every plan does.
    """
    bound = case.paper.bound
    if not bound.value:
        return [], True  # no plan needs less than nothing
    certificate = bound.certificate
    if not isinstance(certificate, dict):
        return [], False
    if certificate.get("form") == weights.FORM:
        told = list(weights.weights_faults(case, certificate))
        return [one for one in told if one != weights.TOO_LONG], weights.TOO_LONG not in told
    if certificate.get("form") != listed.FORM:
        return list(certificate_faults(case)), True
    found = listed.patient_faults(case, certificate, PATIENT_STEPS)
    return found or [], found is not None
