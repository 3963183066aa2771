"""Without a browser the tests in one are left out by name; where one is needed they fail."""

import pytest

from tests.browser.conftest import library, missing


def test_a_missing_browser_is_left_out_by_name(monkeypatch):
    monkeypatch.delenv("SHEETCUT_BROWSER", raising=False)
    with pytest.raises(pytest.skip.Exception, match="no Chromium"):
        missing("no Chromium on this machine")


def test_a_missing_browser_fails_where_it_is_needed(monkeypatch):
    monkeypatch.setenv("SHEETCUT_BROWSER", "needed")
    with pytest.raises(pytest.fail.Exception, match="extra called browser"):
        library("no_such_library_at_all")
