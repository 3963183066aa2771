"""Setting up on a fresh machine: what is missing is said in one sentence, and exit 2."""

import importlib.util
import sys
from pathlib import Path

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


def test_tests_hand_their_arguments_to_pytest(monkeypatch):
    spec = importlib.util.spec_from_file_location("runner", ROOT / "tests" / "__main__.py")
    runner = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(runner)
    ran = []
    monkeypatch.setattr(runner, "ready", lambda *extras: Path("python"))
    monkeypatch.setattr(runner, "run", lambda python, *arguments: ran.append(arguments) or 0)
    assert runner.main(["tests/cuts", "-x"]) == 0
    assert ran == [("-m", "pytest", "tests/cuts", "-x")]


def test_a_style_fault_fails_the_whole_run(monkeypatch):
    spec = importlib.util.spec_from_file_location("runner", ROOT / "tests" / "__main__.py")
    runner = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(runner)
    monkeypatch.setattr(runner, "ready", lambda *extras: Path("python"))
    monkeypatch.setattr(runner, "run", lambda python, *arguments: int("mypy" in arguments))
    assert runner.main([]) == 1


def test_the_ci_runs_what_the_readme_says():
    assert "exec python3 tests" in (ROOT / ".ci" / "run").read_text()
