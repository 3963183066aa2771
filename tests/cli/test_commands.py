"""The commands, as a shell sees them: words, documents and exit codes."""

import copy
import csv
import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from xml.etree import ElementTree

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "demo"


def sheetcut(*arguments: object, **options) -> subprocess.CompletedProcess[str]:
    """Run a command as a shell would."""
    return subprocess.run(
        [sys.executable, "-m", "sheetcut.cli", *map(str, arguments)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        timeout=120,
        check=False,
        **options,
    )


@pytest.fixture
def studio(tmp_path) -> Path:
    """Return a copy of the demo studio that a test may write into."""
    for name in ("orders.csv", "drawer.csv", "studio.toml"):
        (tmp_path / name).write_bytes((DEMO / name).read_bytes())
    return tmp_path


@pytest.fixture(scope="module")
def planned(tmp_path_factory) -> dict:
    """Return the demo's plan document, as printed."""
    folder = tmp_path_factory.mktemp("planned")
    for name in ("orders.csv", "drawer.csv", "studio.toml"):
        (folder / name).write_bytes((DEMO / name).read_bytes())
    return json.loads(sheetcut("plan", folder, "--json").stdout)


def only_plan(studio: Path) -> Path:
    """Return the one plan folder of a studio."""
    (made,) = (studio / "out").iterdir()
    return made


def test_plan_writes_a_folder_and_says_where(studio):
    done = sheetcut("plan", studio)
    assert done.returncode == 0, done.stderr
    made = only_plan(studio)
    assert str(made) in done.stderr
    assert "£122.44" in done.stdout
    assert "plover 3" in done.stdout
    names = {path.name for path in made.iterdir()}
    assert {"plan.json", "waste.csv"} <= names
    for drawing in made.glob("*.svg"):
        ElementTree.parse(drawing)
    assert sum(name.endswith(".svg") for name in names) >= 5


def test_the_same_studio_planned_twice_overwrites_nothing(studio):
    sheetcut("plan", studio)
    before = {path: path.read_bytes() for path in only_plan(studio).iterdir()}
    sheetcut("plan", studio)
    assert len(list((studio / "out").iterdir())) == 2
    assert before == {path: path.read_bytes() for path in before}


def test_what_was_typed_is_not_touched(studio):
    before = {path.name: path.read_bytes() for path in studio.iterdir()}
    sheetcut("plan", studio)
    assert before == {name: (studio / name).read_bytes() for name in before}


def test_json_prints_one_document_with_the_keys_that_stay(studio):
    done = sheetcut("plan", studio, "--json", "--seconds", 60, "--seed", 1)
    assert done.returncode == 0
    document = json.loads(done.stdout)
    assert document["form"] == "sheetcut plan 1"
    assert document["unit"] == "mm"
    assert document["seed"] == 1
    used = {paper["paper"]: paper["sheets_used"] for paper in document["papers"]}
    # The demo scenario: three Imperial, one double elephant and the offcut heron 7; four
    # large rag sheets; three certificate sheets. Exact search over all edge-to-edge patterns.
    assert used == {
        "Slatehouse Smooth": {"HP-IMP": 3, "HP-DE": 1, "heron 7": 1},
        "Marram Rag": {"RAG-L": 4},
        "Gullwing Laid": {"CERT": 3},
    }
    assert [paper["cost"] for paper in document["papers"]] == [75.40, 45.60, 1.44]
    assert document["short"] == []
    layout = document["papers"][0]["layouts"][0]
    assert set(layout) >= {
        "sheet", "copies", "twins", "start", "width", "height", "usable", "squaring",
        "blanks", "cuts", "keepers", "waste",
    }  # fmt: skip
    assert {"number", "along", "at", "from", "to", "level", "setting", "edge", "reading"} == set(
        layout["cuts"][0]
    )


def test_waste_adds_up_in_the_table(studio):
    sheetcut("plan", studio)
    text = (only_plan(studio) / "waste.csv").read_text(encoding="utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    for row in rows:
        parts = [float(row[f"{name} mm2"]) for name in ("finished", "margins", "keepers", "scrap")]
        assert sum(parts) == pytest.approx(float(row["measured mm2"]))
    assert rows[-1]["paper"] == "all papers"
    assert rows[-1]["paper cost"] == "122.44"


def test_check_needs_the_document_alone(studio, tmp_path_factory):
    sheetcut("plan", studio)
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "plan.json"
    elsewhere.write_bytes((only_plan(studio) / "plan.json").read_bytes())
    done = sheetcut("check", elsewhere)
    assert done.returncode == 0, done.stdout
    assert "no faults" in done.stdout


def spoil(document, *, where):
    """Change one figure of a plan document, far down in it."""
    layout = document["papers"][0]["layouts"][0]
    match where:
        case "blank":
            layout["blanks"][0]["x"] += 1
        case "reading":
            layout["cuts"][-1]["reading"] += 1
        case "order":
            layout["cuts"] = layout["cuts"][::-1]
        case "lost":
            layout["blanks"].pop()
        case "stopped cut":
            layout["cuts"][0]["to"] -= 10
        case "sum":
            layout["waste"]["scrap"] += 1
        case "cash":
            document["papers"][0]["cost"] -= 1
        case "finished":
            layout["blanks"][0]["finished"][0] -= 10
        case "proof":
            document["papers"][0]["bound"]["value"] += 1000
        case "stock":
            document["sheets"][0]["on_hand"] = 1


@pytest.mark.parametrize(
    "where",
    [
        "blank",
        "reading",
        "order",
        "lost",
        "stopped cut",
        "sum",
        "cash",
        "finished",
        "proof",
        "stock",
    ],
)
def test_a_spoiled_plan_fails_its_check_with_a_sentence(planned, tmp_path, where):
    document = copy.deepcopy(planned)
    spoil(document, where=where)
    path = tmp_path / "spoiled.json"
    path.write_text(json.dumps(document))
    done = sheetcut("check", path, "--json")
    assert done.returncode == 1, done.stderr
    faults = json.loads(done.stdout)["faults"]
    assert faults
    assert all(fault["where"] and len(fault["message"]) > 10 for fault in faults)


@pytest.mark.parametrize(
    "data",
    [b"", b"{}", b"[1]", b"\xff\xfe", b'{"form": 3}', b"null", b"[" * 5000, b"plan", b'"' * 3],
)
def test_what_is_no_plan_is_refused_in_a_sentence(tmp_path, data):
    path = tmp_path / "plan.json"
    path.write_bytes(data)
    done = sheetcut("check", path)
    assert done.returncode == 2
    assert str(path) in done.stderr
    assert "Traceback" not in done.stderr


def test_a_missing_plan_is_named(tmp_path):
    done = sheetcut("check", tmp_path / "nothing.json")
    assert done.returncode == 2
    assert "nothing.json" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_new_studio_can_be_planned_as_it_stands(tmp_path):
    folder = tmp_path / "my studio"
    assert sheetcut("start", folder).returncode == 0
    done = sheetcut("plan", folder)
    assert done.returncode == 0, done.stderr + done.stdout


def test_start_never_overwrites(studio):
    done = sheetcut("start", studio)
    assert done.returncode == 2
    assert "orders.csv" in done.stderr


def test_a_short_drawer_is_a_no(studio):
    path = studio / "drawer.csv"
    lines = path.read_text(encoding="utf-8-sig").splitlines()
    path.write_text("\n".join(line for line in lines if "RAG-L" not in line), encoding="utf-8")
    done = sheetcut("plan", studio)
    assert done.returncode == 1, done.stdout + done.stderr
    assert "short" in done.stdout


def test_all_problems_of_all_files_come_at_once(studio):
    for name in ("orders.csv", "drawer.csv"):
        path = studio / name
        path.write_text(
            path.read_text(encoding="utf-8-sig").replace("297", "21O").replace("560", "x")
        )
    done = sheetcut("plan", studio)
    assert done.returncode == 2
    assert "orders.csv, row" in done.stderr and "drawer.csv, row" in done.stderr
    assert not (studio / "out").exists()


def test_a_table_wrong_in_every_row_is_not_listed_for_ever(tmp_path):
    (tmp_path / "drawer.csv").write_text("sheet,paper,size\nFull,Rag,610 x 914 mm\n")
    rows = "\n".join(f"{n},p,Rag,2I0 x 297 mm,1" for n in range(500))
    (tmp_path / "orders.csv").write_text(f"order,piece,paper,size,count\n{rows}\n")
    done = sheetcut("plan", tmp_path)
    assert done.returncode == 2
    lines = done.stderr.splitlines()
    assert len(lines) == 201
    assert lines[-1].startswith("and 300 more")


def test_sizes_carry_their_standard():
    done = sheetcut("sizes", "A4", "--json")
    (a4,) = json.loads(done.stdout)["sizes"]
    assert (a4["width"], a4["height"]) == (210, 297)
    assert "216" in a4["standard"]
    assert sheetcut("sizes", "no such size").returncode == 1
    assert "Imperial" in sheetcut("sizes").stdout


@pytest.mark.skipif(os.name == "nt", reason="Ctrl-C is not sent like this on Windows")
def test_ctrl_c_keeps_what_was_found(tmp_path):
    (tmp_path / "drawer.csv").write_text("sheet,paper,size\nFull,Rag,610 x 914\n")
    sizes = [(61 + 7 * n % 90, 83 + 11 * n % 120) for n in range(150)]
    rows = "\n".join(f"{n},p,Rag,{w} x {h},1" for n, (w, h) in enumerate(sizes))
    (tmp_path / "orders.csv").write_text(f"order,piece,paper,size,count\n{rows}\n")
    running = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "sheetcut.cli",
            "plan",
            str(tmp_path),
            *["--seconds", "60", "--rounds", "900000000"],
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        time.sleep(4)
        assert running.poll() is None, "the search ended by itself; give it a harder job"
        running.send_signal(signal.SIGINT)
        _, err = running.communicate(timeout=30)
    finally:
        running.kill()
        running.communicate()
    assert running.returncode == 0, err
    assert "That will do" in err
    assert "Traceback" not in err
    assert "trying for" in err
    assert json.loads((only_plan(tmp_path) / "plan.json").read_text())["stopped"] is True


def test_help_says_what_each_command_is_for():
    text = sheetcut("-h").stdout
    for word in ("start", "plan", "check", "sizes"):
        assert word in text
        assert sheetcut(word, "-h").returncode == 0
