"""Tags: never one that the drawer already carries."""

from itertools import islice

from sheetcut.tags import WORDS, new_tags


def test_a_tag_in_the_drawer_is_not_given_again():
    taken = ["heron 7", "plover 3", *(f"{word} 1" for word in WORDS)]
    tags = list(islice(new_tags(taken), 200))
    assert not set(tags) & set(taken)
    assert len(set(tags)) == 200


def test_capitals_in_the_drawer_make_no_difference():
    assert next(new_tags(["Avocet 1"])) == "avocet 2"
