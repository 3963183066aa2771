"""The command that prints: where the file goes, what is told, what is refused."""

import json
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner

from sheetcut.cli import main
from sheetcut.document import plan_bytes, read_plan
from sheetcut.printout import sheaves


@pytest.fixture
def folder(tmp_path, demo_plan) -> Path:
    """Return a plan's folder."""
    (tmp_path / "plan.json").write_bytes(plan_bytes(demo_plan))
    return tmp_path


def run(*arguments: object):
    return CliRunner().invoke(main, ["print", *map(str, arguments)])


@pytest.mark.parametrize(
    ("on", "size"), [("A4", (210, 297)), ("A3", (297, 420)), ("Letter", (215.9, 279.4))]
)
def test_it_prints_on_the_paper_that_is_asked_for(folder, tmp_path, on, size):
    target = tmp_path / "out.pdf"
    done = run(folder, "--on", on, "-o", target, "--only", "pin-up")
    assert done.exit_code == 0, done.output
    assert done.stdout.strip() == str(target)
    for page in pypdfium2.PdfDocument(target):
        found = tuple(side * 25.4 / 72 for side in page.get_size())
        assert found == pytest.approx(size, abs=0.001)


def test_without_options_the_file_stands_beside_the_plan(folder):
    done = run(folder / "plan.json")
    assert done.exit_code == 0, done.output
    assert (folder / "print-A4.pdf").read_bytes().startswith(b"%PDF-")


def test_printing_again_gives_the_same_file(folder):
    run(folder)
    first = (folder / "print-A4.pdf").read_bytes()
    run(folder)
    assert (folder / "print-A4.pdf").read_bytes() == first


def test_a_file_that_is_no_pdf_is_kept(folder):
    before = (folder / "plan.json").read_bytes()
    done = run(folder, "-o", folder / "plan.json")
    assert done.exit_code == 2
    assert "no PDF" in done.stderr
    assert (folder / "plan.json").read_bytes() == before


def test_mirrored_sheets_come_when_asked(folder, tmp_path):
    def said(*options: str) -> str:
        run(folder, "-o", tmp_path / "x.pdf", *options)
        pages = pypdfium2.PdfDocument(tmp_path / "x.pdf")
        return " ".join(page.get_textpage().get_text_range() for page in pages)

    assert "from behind" not in said()
    assert "from behind" in said("--mirrored")


def test_letters_the_font_lacks_are_told_on_stderr(folder):
    plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    plan["orders"][0]["piece"] = "漁船"
    (folder / "plan.json").write_text(json.dumps(plan), encoding="utf-8")
    done = run(folder, "--only", "labels")
    assert done.exit_code == 0, done.output
    assert '"漁船" has letters the printed font lacks (漁 船)' in done.stderr


def test_a_plan_that_is_not_there_is_told(tmp_path):
    done = run(tmp_path / "nowhere.json")
    assert done.exit_code == 2
    assert "nowhere.json" in done.stderr


def test_a_plan_comes_with_its_pin_up_sheets_in_one_file(tmp_path):
    """The summary, then every sheet that is drawn, each title in the text of its page."""
    demo = Path(__file__).resolve().parent.parent.parent / "demo"
    for name in ("orders.csv", "drawer.csv", "studio.toml"):
        (tmp_path / name).write_bytes((demo / name).read_bytes())
    done = CliRunner().invoke(main, ["plan", str(tmp_path), "--seconds", "2"])
    assert done.exit_code == 0, done.output
    (folder,) = (tmp_path / "out").iterdir()
    pages = pypdfium2.PdfDocument(folder / "pin-up.pdf")
    said = [page.get_textpage().get_text_range() for page in pages]
    plan = read_plan((folder / "plan.json").read_bytes())
    drawn = sheaves(plan)
    assert "Summary" in said[0]
    for sheaf, words in zip(drawn, said[-len(drawn) :], strict=True):
        assert sheaf.title in words
