"""After a slip: what is left in hand, and the rest laid out on it."""

import pytest
from click.testing import CliRunner

from sheetcut.cli import main
from sheetcut.document import plan_bytes


def told(*arguments: object):
    """Return what the command says and its exit code."""
    done = CliRunner().invoke(main, ["relay", *map(str, arguments)])
    return done.output, done.exit_code


def test_nothing_is_cut_before_the_first_step(demo_plan, tmp_path):
    (tmp_path / "plan.json").write_bytes(plan_bytes(demo_plan))
    words, _ = told(tmp_path, "--layout", 1, "--step", 1, "--blank", 1)
    assert "cut and good: none yet" in words
    assert "left in hand" in words


def test_what_is_cut_and_good_stays_out_of_it(demo_plan, tmp_path):
    (tmp_path / "plan.json").write_bytes(plan_bytes(demo_plan))
    layout = demo_plan.layouts[0]
    last = len(layout.squaring) + len(layout.cuts) + 1
    words, code = told(tmp_path, "--layout", 1, "--step", last, "--blank", 1)
    first = next(line for line in words.splitlines() if line.startswith("cut and good"))
    assert first.count(",") == len(layout.placements) - 2
    assert code == 1  # all is cut, so the lost one wants another sheet


@pytest.mark.parametrize("option", ["--layout", "--step", "--blank"])
def test_what_the_plan_does_not_have_is_refused_in_words(demo_plan, tmp_path, option):
    (tmp_path / "plan.json").write_bytes(plan_bytes(demo_plan))
    asked = {"--layout": 1, "--step": 1, "--blank": 1} | {option: 99}
    words, code = told(tmp_path, *(word for pair in asked.items() for word in pair))
    assert code == 2
    assert "99" in words
