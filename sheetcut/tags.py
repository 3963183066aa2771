"""Tags: the short names pencilled on an offcut, a plain word and a number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count, cycle

WORDS = (
    "avocet",
    "curlew",
    "dunlin",
    "eider",
    "fulmar",
    "gannet",
    "heron",
    "knot",
    "lapwing",
    "osprey",
    "plover",
    "redshank",
    "sanderling",
    "tern",
    "turnstone",
    "whimbrel",
)


def new_tags(taken: Iterable[str]) -> Iterator[str]:
    """Yield tags that nothing in the drawer carries yet, a different word each time.

    >>> tags = new_tags(["avocet 1", "Imperial"])
    >>> next(tags), next(tags)
    ('avocet 2', 'curlew 1')
    """
    used = {tag.casefold() for tag in taken}
    for word in cycle(WORDS):
        tag = next(f"{word} {n}" for n in count(1) if f"{word} {n}" not in used)
        used.add(tag)
        yield tag
