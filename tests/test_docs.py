"""The pages say what the program does: every quoted output is made again and compared."""

import contextlib
import doctest
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

import sheetcut
from sheetcut.cli import main
from tests.cli.shell import here, write_studio
from tests.gallery import (
    PUBLISHED,
    ROOT,
    STUDIO,
    pages,
    published_files,
    published_plan,
    studio_files,
    studio_plan,
)
from tests.published.problems import problems
from tests.quoted import Terminal


@pytest.fixture(scope="module")
def published():
    """Return the plans of all published problems, made now."""
    return {problem: published_plan(problem) for problem in problems()}


def stale(folder, files):
    """Return the names of kept files that are not what is made today."""
    kept = {path.name: path.read_bytes() for path in folder.iterdir()}
    return sorted(name for name in kept | files if kept.get(name) != files.get(name))


def test_the_kept_layouts_are_what_is_planned_today(published):
    plan = studio_plan()
    assert not stale(STUDIO, studio_files(plan)), "run python3 layouts, and look at what changed"
    for path, text in pages(plan, published).items():
        assert path.read_text(encoding="utf-8") == text, f"{path.name}: run python3 layouts"


def test_the_kept_published_plans_are_what_is_planned_today(published):
    files: dict[str, bytes] = {}
    for problem, plan in published.items():
        files |= published_files(problem, plan)
    assert not stale(PUBLISHED, files), "run python3 layouts, and look at what changed"


def test_no_published_optimum_is_missed_and_no_bound_is_above_it(published):
    for problem, plan in published.items():
        (paper,) = plan.papers
        assert paper.bound.value <= problem.least <= paper.value(plan.job), problem.name
        if len(problem.sheets) == 1:
            assert paper.value(plan.job) <= problem.least + 1, problem.name


def test_the_readme_names_every_command():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    for name in main.commands:
        assert f"`sheetcut {name}" in text


def test_the_readme_programme_runs():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (programme,) = re.findall(r"```python\n(.*?)```", text, re.DOTALL)
    done = subprocess.run(
        [sys.executable, "-c", programme], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "proved" in done.stdout


def test_every_link_leads_somewhere():
    for page in (ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "layouts" / "README.md"):
        text = page.read_text(encoding="utf-8")
        for target in re.findall(r"\]\(([^)#]+)\)|src=\"([^\"]+)\"", text):
            path = page.parent / (target[0] or target[1])
            assert path.exists(), f"{page.name} points to {path}"


def test_the_first_screen_says_what_it_is_for():
    opening = (ROOT / "README.md").read_text(encoding="utf-8")[:2000]
    for word in ("heavy paper", "ruler", "proof", "python3 demo", "<img"):
        assert word in opening


def test_units_explain_themselves():
    import sheetcut.units  # noqa: PLC0415

    assert doctest.testmod(sheetcut.units).failed == 0


def named(text, heading):
    """Return what the table under a heading names in its first column."""
    table = text.split(f"| {heading} | holds |", 1)[1].split("\n\n", 1)[0]
    cells = re.findall(r"^\| ((?:`[a-z_/]+`(?:, )?)+) \|", table, re.MULTILINE)
    return {name for cell in cells for name in re.findall(r"`([a-z_/]+)`", cell)}


def entries(folder):
    """Return the modules and packages of a folder, without their endings."""
    return {
        path.stem
        for path in folder.iterdir()
        if not path.name.startswith(("_", ".")) and (path.is_dir() or path.suffix == ".py")
    }


def test_the_table_of_modules_is_the_tree():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert named(text, "module") == entries(Path(sheetcut.__file__).parent)


def test_the_table_of_folders_is_the_tree():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    tracked = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    ).stdout.splitlines()
    if not tracked:
        pytest.skip("not a checkout, so it cannot be told which folders belong to it")
    folders = {name.split("/")[0] for name in tracked if "/" in name}
    assert named(text, "folder") | {"sheetcut"} == {
        name for name in folders if not name.startswith(".")
    }


def test_the_way_of_one_blank_is_as_told(monkeypatch):
    monkeypatch.chdir(ROOT)
    told = doctest.testfile(str(ROOT / "DEVELOPERS.md"), module_relative=False)
    assert told.attempted > 10
    assert told.failed == 0


# What stands for something in the table of commands, and what a person would type there.
TYPED = {
    "FOLDER": "my-studio",
    "SIZE": "A4",
    "NUMBER": '50 --size "300 x 400" --paper "Marram Rag"',
    "ORDER": "D05",
    "STAGE": "packed",
    "NAME": "Imperial",
    "N": "1",
}
SERVES = ("page",)  # does not end by itself; its own tests start it


def command_rows():
    """Return the commands of the README's table, each with the words beside it."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ((?:`sheetcut [^`]+`(?:, )?)+) \| (.*) \|$", text, re.MULTILINE)
    return [(name, words) for names, words in rows for name in re.findall(r"`(.+?)`", names)]


def test_every_command_of_the_table_runs(tmp_path):
    """In the table's order, in a studio that begins as the demo's."""
    terminal = Terminal(tmp_path)
    terminal.run("cd demo")
    terminal.run("sheetcut drawer import --yes")
    for command, _ in command_rows():
        if command.split()[1] in SERVES:
            continue
        line = command.replace("[FOLDER]", "").replace("[", "").replace("]", "")
        for word, value in TYPED.items():
            line = re.sub(rf"\b{word}\b", value, line)
        with contextlib.chdir(terminal.folder):
            if "PLAN" in line:
                line = line.replace("PLAN", str(next(Path("out").iterdir())))
            done = here(*shlex.split(line)[1:], typed="y\n")
        # A "no" is an answer too: after a slip, say, one blank may find no paper left.
        assert done.returncode in (0, 1), f"{line}\n{done.stdout}{done.stderr}"
        assert done.stdout or done.stderr


@pytest.mark.parametrize(("command", "words"), command_rows(), ids=lambda text: text[:40])
def test_every_option_of_the_table_is_in_the_help(command, words):
    name = command.split()[1]
    for option in re.findall(r"(--[a-z-]+)", f"{command} {words}"):
        assert option in here(name, "-h").stdout, f"{name} knows no {option}"


def test_the_refusal_shown_is_what_is_said(tmp_path):
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"^    (orders\.csv, row .*)$", text, re.MULTILINE)
    studio = write_studio(tmp_path / "studio")
    rows = (studio / "orders.csv").read_text(encoding="utf-8").splitlines()
    headings = rows[0].split(",")
    cells = rows[6].split(",")
    cells[headings.index("margin")] = '"1,000 mm"'
    rows[6] = ",".join(cells)
    (studio / "orders.csv").write_text("\n".join(rows), encoding="utf-8")
    assert shown in here("plan", studio).stderr
