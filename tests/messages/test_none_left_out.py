"""The table is whole: no place in the package words a message that no case provokes."""

from __future__ import annotations

from tests.messages.cases import outcome
from tests.messages.places import places
from tests.messages.test_messages import CASES

SAID_TO_NOBODY = {
    "check/weights.py": "(yield TOO_LONG)",  # makes the checker say that the bound is on trust
}
"""Places whose words are a sign from one function to another, and never shown."""


def test_every_place_that_words_a_message_is_provoked():
    lines = set().union(*(outcome(case).heard.lines for case in CASES))
    told = [outcome(case).told for case in CASES]
    sentences = [*told, *(words for case in CASES for words in outcome(case).heard.sentences)]
    left = [
        str(place)
        for place in places()
        if not place.is_reached(lines, sentences) and SAID_TO_NOBODY.get(place.file) != place.code
    ]
    assert not left, "no case in tests/messages provokes\n" + "\n".join(left)


def test_without_a_case_every_place_is_left():
    found = places()
    assert not any(place.is_reached(set(), []) for place in found)
    folders = {place.file.partition("/")[0] for place in found}
    assert {"answers", "check", "cli", "document", "draw", "drawer", "job.py", "page"} <= folders
