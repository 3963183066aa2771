"""The shopping from the shell, as a table and where buying does not help."""

import csv

from tests.cli.shell import here
from tests.cli.test_money import on_hand, set_up


def test_what_to_buy_is_written_as_a_table(unkept, tmp_path):
    """A pack of ten for 114.00 and the carriage of 9.50 are what the answer adds up to 123.50."""
    on_hand(unkept, "RAG-L", 3)
    on_hand(unkept, "RAG-A2", 0)
    set_up(unkept, '\n[buying]\ncarriage = ["9.50", "free from 114.01"]\n')
    file = tmp_path / "buy.csv"
    done = here("buy", "--in", unkept, "-o", file)
    assert done.returncode == 0, done.stderr
    pack, carriage = csv.DictReader(file.read_text(encoding="utf-8-sig").splitlines())
    assert pack == {
        "sheet": "RAG-L", "paper": "Marram Rag", "number": "1", "of": "10",
        "price": "114.00", "sheets": "10", "cost": "114.00",
    }  # fmt: skip
    assert (carriage["sheet"], carriage["cost"]) == ("carriage", "9.50")


def test_no_purchase_helps_what_fits_no_sheet(unkept):
    orders = unkept / "orders.csv"
    text = orders.read_text(encoding="utf-8-sig").replace("550 x 780", "1100 x 780")
    orders.write_text(text, encoding="utf-8-sig")
    done = here("buy", "--in", unkept)
    assert done.returncode == 1
    said = "fits no sheet: D10, Chart of the narrows, Slatehouse Smooth; buy a larger size"
    assert said in done.stdout
