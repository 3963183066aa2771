"""Setting up on a fresh machine: what is missing is said in one sentence, and exit 2."""

import importlib.util
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture
def environment(monkeypatch, tmp_path):
    """Return the set-up module, working in a folder of its own."""
    spec = importlib.util.spec_from_file_location("environment", ROOT / "demo" / "environment.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    for name, path in (("PLACE", tmp_path), ("LOG", tmp_path / "log"), ("STAMP", tmp_path / "s")):
        monkeypatch.setattr(module, name, path)
    return module


def refusal(capsys, task) -> str:
    """Return the one sentence that a task gives up with."""
    with pytest.raises(SystemExit) as ended:
        task()
    assert ended.value.code == 2
    return capsys.readouterr().err.strip().splitlines()[-1]


@pytest.mark.parametrize("module", ["venv", "ensurepip"])
def test_a_python_without_its_own_tools_is_told_what_to_install(
    environment, monkeypatch, capsys, module
):
    real = importlib.util.find_spec
    monkeypatch.setattr(
        environment.importlib.util,
        "find_spec",
        lambda name: None if name == module else real(name),
    )
    assert "python3-venv" in refusal(capsys, environment.ready)


def test_an_old_python_is_told_which_is_needed(environment, monkeypatch, capsys):
    monkeypatch.setattr(environment, "OLDEST", (99, 0))
    assert "or later is needed" in refusal(capsys, environment.ready)


def test_without_a_registry_the_log_and_the_way_out_are_named(environment, monkeypatch, capsys):
    monkeypatch.setenv("PIP_INDEX_URL", "http://127.0.0.1:9/nothing-listens-here")
    monkeypatch.setenv("PIP_EXTRA_INDEX_URL", "")
    monkeypatch.setenv("PIP_FIND_LINKS", "")
    monkeypatch.setenv("PIP_NO_CACHE_DIR", "1")
    monkeypatch.setenv("PIP_RETRIES", "0")
    monkeypatch.setenv("PIP_CONFIG_FILE", "/dev/null")
    sentence = refusal(capsys, environment.ready)
    assert "no package registry could be reached" in sentence
    assert "log" in sentence


def test_an_environment_is_used_again_until_its_sources_change(environment, monkeypatch):
    made = []
    monkeypatch.setattr(environment, "_make", lambda extras: made.append(list(extras)))
    monkeypatch.setattr(environment, "_python", lambda: Path(sys.executable))
    environment.ready()
    environment.ready()
    assert made == [[]]
    environment.ready("test")
    environment.ready()
    assert made == [[], ["test"]]
    monkeypatch.setattr(environment, "_fingerprint", lambda: "something else")
    environment.ready()
    assert made == [[], ["test"], []]


@pytest.fixture
def runner(monkeypatch):
    """Return ``python3 tests`` with nothing installed, and a list of what it would run."""
    spec = importlib.util.spec_from_file_location("runner", ROOT / "tests" / "__main__.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    module.ran = []
    monkeypatch.setattr(module, "ready", lambda *extras: Path("python"))
    monkeypatch.setattr(
        module,
        "begin",
        lambda python, *given: SimpleNamespace(wait=lambda: module.ran.append("made")),
    )
    monkeypatch.setattr(module, "run", lambda python, *given: module.ran.append(given) or 0)
    return module


def test_tests_hand_their_arguments_to_pytest(runner):
    assert runner.main(["tests/cuts", "-x"]) == 0
    assert runner.ran == [("-m", "pytest", "tests/cuts", "-x")]


def test_without_arguments_all_is_checked_and_tested_side_by_side(runner):
    assert runner.main([]) == 0
    *style, made, tests = runner.ran
    assert [check[:2] for check in style] == [("-m", "ruff"), ("-m", "ruff"), ("-m", "mypy")]
    assert made == "made"  # the inner loops, before two workers would each compile them
    assert tests[:2] == ("-m", "pytest")
    assert "--numprocesses" in tests


def test_the_campaign_and_the_count_of_branches_run_instead(runner):
    assert runner.main(["--campaign", "laws", "--size", "9"]) == 0
    assert runner.main(["--coverage", "tests/cuts"]) == 0
    campaign, count = runner.ran
    assert campaign == ("-m", "tests.campaign", "laws", "--size", "9")
    assert count[:2] == ("-m", "tests.branches")
    assert count[-1] == "tests/cuts"


@pytest.mark.parametrize("broken", ["mypy", "pytest"])
def test_a_fault_in_style_or_tests_fails_the_whole_run(runner, monkeypatch, broken):
    monkeypatch.setattr(runner, "run", lambda python, *given: int(broken in given))
    assert runner.main([]) == 1


def test_the_ci_runs_what_the_readme_says():
    assert "exec python3 tests" in (ROOT / ".ci" / "run").read_text()
