"""A first evening with sheetcut: each command in a process of its own, as it would be typed."""

import csv
import re
import signal
import subprocess
import sys
import urllib.request
from http.cookiejar import CookieJar

import pypdfium2 as pdfium

from tests.cli.shell import plan_of, shell

DRAWER = (
    {
        "sheet": "BIG",
        "paper": "Harbour Board",
        "size": "560 x 760",
        "edge loss": "8",
        "grain": "along height",
        "on hand": "4",
        "price": "15.20",
    },
    {"sheet": "SMALL", "paper": "Harbour Board", "size": "400 x 560", "on hand": "", "price": "8"},
)
ORDERS = (
    {
        "order": "1",
        "client": "N. Ferry",
        "piece": "Slipway",
        "paper": "Harbour Board",
        "kind": "drawing",
        "size": "A4",
        "margin": "15",
        "count": "3",
    },
    {
        "order": "2",
        "piece": "Mooring post",
        "paper": "Harbour Board",
        "kind": "drawing",
        "size": "148 x 210",
        "margin": "12,5",
        "count": "2",
    },
)


def fill_in(path, rows):
    """Write rows under the headings that a new studio's table has, as a person would."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        headings = next(csv.reader(file))
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, headings, restval="")
        writer.writeheader()
        writer.writerows(rows)


def said(done):
    """Return what a command printed, which ended well."""
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_from_an_empty_folder_to_a_drawer_that_is_kept(tmp_path):
    studio = tmp_path / "my studio"  # with a space, as folders have
    said(shell("start", studio))
    fill_in(studio / "drawer.csv", DRAWER)
    fill_in(studio / "orders.csv", ORDERS)

    planned = said(shell("plan", studio))
    assert "proved: no plan for these pieces costs less" in planned
    plan = plan_of(studio)
    assert said(shell("check", plan))

    printed = tmp_path / "to print.pdf"
    said(shell("print", plan, "-o", printed))
    with pdfium.PdfDocument(printed) as pages:
        assert len(pages) >= 1
        assert [round(side / 72 * 25.4) for side in pages[0].get_size()] in ([210, 297], [297, 210])

    said(shell("drawer", "import", "--yes", cwd=studio))
    said(shell("plan", cwd=studio))
    before = said(shell("drawer", cwd=studio))
    said(shell("cut", plan_of(studio), "--yes", cwd=studio))
    assert said(shell("drawer", cwd=studio)) != before
    assert "Took back" in said(shell("undo", cwd=studio))
    assert said(shell("drawer", cwd=studio)) == before

    quoted = said(shell("quote", "A5", "--paper", "Harbour Board", "--margin", "15", cwd=studio))
    assert "blank 178 x 240 mm" in quoted  # 148 + 15 + 15 by 210 + 15 + 15
    said(shell("quote", "A5", "--paper", "Harbour Board", "--margin", "15", "--take", cwd=studio))
    assert "Q1" in said(shell("orders", cwd=studio))
    assert "My studio" in first_page(studio)


def test_the_page_makes_the_folder_of_a_new_studio(tmp_path):
    """The README's first steps name a folder that is not there yet."""
    assert "An empty folder" in first_page(tmp_path / "my-studio")
    assert (tmp_path / "my-studio").is_dir()
    done = shell("page", tmp_path / "not there" / "my-studio", "--no-browser")
    assert done.returncode == 2
    assert "this folder is not there" in done.stderr


def first_page(studio):
    """Return the studio's page as a browser shows it first, and end it as Ctrl-C does."""
    command = [sys.executable, "-m", "sheetcut.cli", "page", str(studio), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as served:
        try:
            address = served.stdout.readline().decode().strip()
            assert re.match(r"http://127\.0\.0\.1:\d+/", address)
            cookies = urllib.request.HTTPCookieProcessor(CookieJar())
            with urllib.request.build_opener(cookies).open(address, timeout=20) as answer:
                shown = answer.read().decode()
        finally:
            served.send_signal(signal.SIGINT)
            _, words = served.communicate(timeout=20)
    assert b"Traceback" not in words
    return shown
