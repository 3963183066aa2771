"""Every message is provoked once, says where, what and what to do, and none is left out."""

from __future__ import annotations

import re

import pytest

from tests.messages import (
    asking,
    checking,
    commanding,
    keeping,
    paging,
    reading_cells,
    reading_files,
    reading_settings,
)
from tests.messages.cases import Case, faults_of, outcome, problems_of

CASES: tuple[Case, ...] = (
    *reading_cells.CASES,
    *reading_settings.CASES,
    *reading_files.CASES,
    *checking.CASES,
    *keeping.CASES,
    *asking.CASES,
    *commanding.CASES,
    *paging.CASES,
)


BLAME = re.compile(r"invalid|illegal|errno|traceback|exception|\berror\b(?! of the spread)", re.I)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_message_says_where_what_and_what_to_do(case):
    found = outcome(case)
    assert not BLAME.search(found.told)
    if isinstance(case.says, str):
        assert case.says
        assert case.says in found.told
        assert all(fault.where and fault.message for fault in faults_of(found))
        return
    where, message, remedy = case.says
    assert where and message and remedy
    assert f"{where}: {message}; {remedy}" in found.told.splitlines()
    assert any(
        (problem.message, problem.remedy) == (message, remedy) and str(problem).startswith(where)
        for problem in problems_of(found)
    )
