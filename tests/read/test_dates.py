"""Days as people and spreadsheets write them."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.read.dates import read_day
from sheetcut.read.refusal import Refused


@pytest.mark.parametrize(
    "typed",
    ["2026-11-28", "28 Nov 2026", "28 November 2026", "28th Nov 2026", "28 Nov. 2026",
     "Nov 28, 2026", "November 28 2026", "28-Nov-2026", "28/11/2026", "11/28/2026", "28.11.2026",
     "28-11-2026", "2026/11/28", "2026.11.28", "Sat 28 Nov 2026", "Saturday, 28 November 2026",
     "2026-11-28 00:00:00", "2026-11-28T00:00", "28nov2026", "２８ Nov 2026"],
)  # fmt: skip
def test_a_day_is_read_in_every_form(typed):
    assert read_day(typed) == date(2026, 11, 28)


def test_the_same_number_twice_is_one_day():
    assert read_day("05/05/2026") == date(2026, 5, 5)
    assert read_day("5.6.2026") == date(2026, 6, 5)  # with points the day always comes first
    assert read_day("3 Sept 2026") == date(2026, 9, 3)


@pytest.mark.parametrize(
    ("typed", "found", "remedy"),
    [
        ("05/06/2026", "5 June 2026 or 6 May 2026", "2026-06-05 or 2026-05-06"),
        ("5-6-2026", "5 June 2026 or 6 May 2026", "2026-06-05 or 2026-05-06"),
        ("28/11/26", "no year in four figures", "2026-12-03"),
        ("28 Nov", "has no year", "2026-12-03"),
        ("Nov 28", "no year", "2026-12-03"),
        ("4", "a number, not a day", "2026-12-03"),
        ("day 4", "a number, not a day", "2026-12-03"),
        ("46354", "a number", "2026-11-28"),
        ("31 Feb 2026", "no calendar has", "2026-12-03"),
        ("2026-13-01", "no calendar has", "2026-12-03"),
        ("2206-11-28", "in the year 2206", "2026-12-03"),
        ("28 Foo 2026", "is not a day", "2026-12-03"),
        ("tomorrow", "is not a day", "2026-12-03"),
        ("soon", "is not a day", "2026-12-03"),
        ("=TODAY()", "a formula", "result"),
        ("2026-11-28 09:30", "is not a day", "2026-12-03"),
    ],
)
def test_what_is_no_day_is_refused(typed, found, remedy):
    with pytest.raises(Refused) as refused:
        read_day(typed)
    assert found in refused.value.message
    assert remedy in refused.value.remedy


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_a_written_day_is_read_back(day):
    assert read_day(day.isoformat()) == day
    assert read_day(f"{day:%d %b %Y}") == day
    assert read_day(f"{day:%B %d, %Y}") == day
    assert read_day(f"{day:%d.%m.%Y}") == day


@given(st.one_of(st.text(max_size=30), st.from_regex(r"[0-9/. -]{1,12}")))
def test_any_text_is_a_day_or_refused(text):
    try:
        read_day(text)
    except Refused as refused:
        assert str(refused).isprintable()
