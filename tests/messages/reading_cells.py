"""Every message that a cell of orders or drawer can be answered with."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

import csv
import io
from pathlib import Path

from sheetcut.read import read_studio
from sheetcut.read.tables import address
from tests.messages.cases import Case, Says

ORDER = {
    "order": "D1", "client": "Ottery", "piece": "Winch", "paper": "Rag", "kind": "drawing",
    "size": "210 x 297", "margin": "15", "left": "", "right": "", "top": "", "foot": "",
    "count": "2", "turn": "yes", "deckle": "", "due": "2026-12-03", "if room": "", "price": "160",
    "note": "",
}  # fmt: skip
SHEET = {
    "sheet": "L", "paper": "Rag", "size": "610 x 914", "edge loss": "", "left": "", "right": "",
    "top": "", "foot": "", "deckle": "", "leave": "", "keep": "", "watermark": "", "side": "both",
    "grain": "along height", "on hand": "4", "price": "11.40", "packs": "", "kind": "full",
    "note": "", "top width": "", "right height": "", "diagonal": "",
}  # fmt: skip
TABLES = {"orders": ORDER, "drawer": SHEET}


def table_text(*rows: dict[str, str]) -> str:
    """Return rows under the headings of the first."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(rows[0])
    writer.writerows(row.values() for row in rows)
    return out.getvalue()


def studio_of(folder: Path, **files: str | bytes) -> Path:
    """Write a small studio whose files are sound but for those that are given."""
    sound = {
        "orders_csv": table_text(ORDER),
        "drawer_csv": table_text(SHEET),
        "studio_toml": 'currency = "£"\n',
    }
    for name, text in (sound | files).items():
        data = text if isinstance(text, bytes) else text.encode()
        (folder / name.replace("_", ".")).write_bytes(data)
    return folder


def _case(table: str, heading: str, cells: dict[str, str], found: str, remedy: str) -> Case:
    row = {**TABLES[table], **cells}
    place = f" ({address(list(row).index(heading), 2)})" if heading else ""
    field = f", {heading}{place}" if heading else ""

    def provoke(folder: Path) -> object:
        return read_studio(studio_of(folder, **{f"{table}_csv": table_text(row)}))

    shown = "; ".join(f"{name} = {text[:40]!r}" for name, text in cells.items())
    return Case(f"{table}: {shown}", provoke, Says(f"{table}.csv, row 2{field}", found, remedy))


A_LENGTH = "write a number and a unit, as in 210 mm or 8 1/4 in"
A_SIZE = "write two lengths or a name, as in 297 x 420 mm, 11 x 14 in or A3"
A_DAY = "write a day as in 2026-12-03 or 3 Dec 2026"
NO_DATE = "set the cell to text and type the length again, as in 5/8 in or 0.625 in"
PACKS = 'write packs as in "5 for 76.00; 20+ at 13.90"'
A_UNIT = "write the unit after it, as in 8 x 10 in, 56 x 76 cm or 50 x 40 mm"

CELLS: dict[tuple[str, str], dict[str, tuple[str, str]]] = {
    ("orders", "margin"): {
        "1\x075": (
            '"1<U+0007>5" holds a character that cannot be seen (U+0007)',
            "type it again, as in 210 mm or 8 1/4 in",
        ),
        "9" * 100: (
            '"999999999999999999999999999999999999999…" goes on for 100 characters',
            "write a length, as in 210 mm or 8 1/4 in",
        ),
        "=B2*2": (
            '"=B2*2" is a formula left as text',
            "write its result, as in 210 mm or 8 1/4 in",
        ),
        "1,500": ('"1,500" can mean 1.5 mm or 1500 mm', "write 1.5 mm or 1500 mm"),
        "12,500 m": (
            '"12,500 m" has three figures after its comma, as thousands have',
            "write 12.5 m, with a point, if that is meant",
        ),
        "1.000": ('"1.000" can mean 1 mm or 1 m', "write 1 mm or 1000 mm"),
        "1/0 in": ('"1/0 in" divides by zero', "write a fraction, as in 1/2 in"),
        "81/2 in": ('"81/2 in" can mean 8 1/2 in or 40.5 in', "write 8 1/2 in or 40.5 in"),
        "3/2 in": (
            '"3/2 in" has a fraction of one or more',
            "write the whole number first, as in 8 1/2 in",
        ),
        "2 ft 3 cm": (
            '"2 ft 3 cm" starts as feet and does not go on as inches',
            "write feet and inches, as in 2 ft 6 in, or inches alone, as in 30 in",
        ),
        "11 m": (
            '"11 m" is longer than 10 m, longer than any sheet sold flat',
            "write the length with its unit, as in 760 mm",
        ),
        "1/3 in": (
            '"1/3 in" is finer than can be held (1/8 µm)',
            "write fewer decimals, as in 8.467 mm",
        ),
        "-5": ('"-5" is less than nothing', A_LENGTH),
        "5-Oct": ('"5-Oct" is a date: a spreadsheet may have turned a fraction into it', NO_DATE),
        "1E+03": ('"1E+03" is how a spreadsheet shortens a number', "write it out, as in 1000 mm"),
        "1 200": (
            '"1 200" has its figures in groups',
            "write the number in one run, as in 1200 mm",
        ),
        "1.234,5": (
            '"1.234,5" has its figures in groups',
            "write the number in one run, as in 1234.5 mm",
        ),
        "15, 20, 25": (
            '"15, 20, 25" holds several lengths',
            "write one; where the edges differ, write each under left, right, top and foot",
        ),
        "l5": (
            '"l5" is not a length: a letter stands among the figures',
            "write figures and a unit, as in 15 mm if that is meant",
        ),
        "210 x 297": ('"210 x 297" is a size; one length is wanted', A_LENGTH),
        "wide": ('"wide" is not a length', A_LENGTH),
        "12 pt": (
            '"12 pt" has a unit that is not known here',
            "write mm, cm, m, in or ft, as in 12 mm",
        ),
        "5 oct": ('"5 oct" is a date: a spreadsheet may have turned a fraction into it', NO_DATE),
        "21o": (
            '"21o" is not a length: a letter stands among the figures',
            "write figures and a unit, as in 210 mm if that is meant",
        ),
        "5/8": (
            '"5/8" is a fraction without a unit, so it may be mm or inches',
            "write 5/8 in, or 5/8 mm",
        ),
    },
    ("orders", "size"): {
        "": ("no size is given", "write one, as in 297 x 420, 11 x 14 in or A3"),
        "portrait": ('"portrait" is not a size', A_SIZE),
        "8 x 10": ('"8 x 10" is very small in mm, so it may be inches or cm', A_UNIT),
        "B4": (
            '"B4" can mean ISO B4 (250 x 353 mm) or JIS B4 (257 x 364 mm)',
            'write "ISO B4" or "JIS B4", or the size as you measured it',
        ),
        "210 x 297 x 3": (
            '"210 x 297 x 3" has 3 lengths',
            "write two, as in 297 x 420 mm, 11 x 14 in or A3",
        ),
        "12 Dec": ('"12 Dec" is a date: a spreadsheet may have turned a fraction into it', NO_DATE),
        "210": (
            '"210" is no size: two lengths are wanted',
            "write them with an x between, as in 297 x 420 mm, 11 x 14 in or A3",
        ),
        "A33": ('"A33" is not a size', "did you mean A3 (297 x 420 mm)?"),
        "poster": ('"poster" is not a size', A_SIZE),
        "A4 x 2": (
            '"A4 x 2" joins a name and a number',
            "write the name alone, as in A4, and how many under count",
        ),
        "210 x 29O": (
            'in "210 x 29O", "29o" is not a length: a letter stands among the figures',
            "write figures and a unit, as in 290 mm if that is meant",
        ),
        "8 1/2 x 11": (
            '"8 1/2 x 11" has a fraction and no unit, so it may be mm or inches',
            "write 8 1/2 x 11 in, or 8 1/2 x 11 mm",
        ),
        "8 in x 10": (
            '"8 in x 10" has a unit after the first length only',
            "write 8 in x 10 in, or a unit after each",
        ),
        "0 x 210": (
            '"0 x 210" has a side of nothing',
            "write a size, as in 297 x 420 mm, 11 x 14 in or A3",
        ),
        "297 x 420 landscape": (
            '"297 x 420 landscape" says landscape, and its lengths say otherwise',
            "write the width first and leave the word out, as in 420 x 297",
        ),
    },
    ("orders", "due"): {
        "45992": (
            '"45992" is a number; a spreadsheet shows 2025-12-01 so when the cell lost its date format',
            "write the day, as in 2025-12-01",
        ),
        "12": ('"12" is a number, not a day', A_DAY),
        "3 Dec 26": ('"3 Dec 26" has no year in four figures', A_DAY),
        "3 Dec": ('"3 Dec" has no year', A_DAY),
        "soon": ('"soon" is not a day', A_DAY),
        "05/06/2026": (
            '"05/06/2026" can be 5 June 2026 or 6 May 2026',
            "write 2026-06-05 or 2026-05-06",
        ),
        "3 Dec 1999": ('"3 Dec 1999" is in the year 1999', A_DAY),
        "31 Feb 2026": ('"31 Feb 2026" is a day that no calendar has', A_DAY),
    },
    ("orders", "count"): {
        "0": ("0 pieces are wanted", "delete the row, or give 1 or more"),
        "three": ('"three" is not written in figures', "write 3"),
        "2.5": ('"2.5" is not whole', "write a whole number of pieces, as in 4"),
        "many": ('"many" is not a number', "write a whole number of pieces, as in 4"),
        "200000": ('"200000" is more than 100000 pieces', "write a whole number up to that"),
    },
    ("orders", "price"): {
        "dear": ('"dear" is not a price', "write one, as in 15.20"),
        "$5": ('"$5" is not in £, the studio\'s currency', "write the price in £"),
        "1,2345": ('"1,2345" is finer than a hundredth', "write two decimals at most"),
        "2000000": ('"2000000" is more than a million', "write what one costs"),
        "1.234": (
            '"1.234" has three decimals, or thousands parted by a point',
            "write 1234 or 1.23",
        ),
        "1.2.3": ('"1.2.3" is not a price', "write one, as in 15.20"),
        "-5": ('"-5" is less than nothing', "write a price of 0 or more"),
        "2 x 3.00": ('"2 x 3.00" is a sum', "write what one costs, as in 85.00"),
    },
    ("orders", "deckle"): {
        "2": ('"2" does not say which edges', 'name them, as "left right"'),
        "north": (
            '"north" names an edge that is not known',
            'write left, right, top, foot, or "all" or "none"',
        ),
    },
    ("orders", "turn"): {
        "yess": ('the turn rule is "yess"', 'did you mean "yes"?'),
        "sideways?": (
            'the turn rule is "sideways?"',
            "write yes, no, grain up, grain across or alike",
        ),
    },
    ("orders", "kind"): {
        "sculpture": ('the kind is "sculpture"', "write drawing, print or card"),
    },
    ("orders", "if room"): {
        "perhaps": ('if room is "perhaps"', "write yes or no"),
    },
    ("orders", "paper"): {
        "L": ('"L" is a sheet, not a paper', 'did you mean "Rag"?'),
        "Ragg": ('"Ragg" is not in the drawer', 'did you mean "Rag"?'),
        "Vellum": (
            '"Vellum" is not in the drawer',
            'write one of "Rag", or give the drawer a row for it',
        ),
    },
    ("orders", "note"): {
        "a\x07b": ('"a<U+0007>b" holds a character that cannot be seen (U+0007)', "type it again"),
        "a" * 2001: (
            '"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa…" goes on for 2001 characters',
            "keep it under 2000",
        ),
    },
    ("drawer", "paper"): {
        "": ("no paper is named", "write the paper's name, as the orders have it"),
    },
    ("drawer", "on hand"): {
        "-1": ("-1 sheets are on hand", 'give 0 or more, or write "any"'),
    },
    ("drawer", "packs"): {
        "5 for 76.00; " * 60: (
            '"5 for 76.00; 5 for 76.00; 5 for 76.00;…" is too long for packs',
            PACKS,
        ),
        "5 for 76.00; 5 for 80.00": ("a pack of 5 is priced twice", "keep one of the two prices"),
        "box of ten": ('"box of ten" is not a pack', PACKS),
        "0 for 5.00": ('"0 for 5.00" is a pack of 0', PACKS),
        "3+ for 10.00": (
            '"3+ for 10.00" is no whole price a sheet',
            'write the price of one, as in "20+ at 13.90"',
        ),
        "5 for dear": ('"dear" is not a price', "write one, as in 15.20"),
    },
    ("drawer", "grain"): {
        "along 500": (
            'the grain runs along "along 500", which is not one side of the sheet',
            "write along width or along height",
        ),
        "diagonal": (
            'the grain is "diagonal"',
            "write along width, along height, none or not known",
        ),
    },
    ("drawer", "edge loss"): {
        "400": (
            "the losses at left and right come to 800 mm and leave nothing of the width",
            "write what one edge loses, as in 8 mm",
        ),
    },
    ("drawer", "watermark"): {
        "middle": (
            'the watermark is "middle"',
            "write top left, top right, foot left or foot right",
        ),
    },
    ("drawer", "side"): {
        "inner": ('the side is "inner"', "write one or both"),
    },
    ("drawer", "kind"): {
        "scrap": ('the kind is "scrap"', "write full or offcut"),
    },
    ("drawer", "size"): {
        "61 x 91": ('"61 x 91" is very small in mm, so it may be inches or cm', A_UNIT),
    },
}
"""By table and heading: what is typed, and what is said of it."""

TOGETHER: list[tuple[str, str, dict[str, str], str, str]] = [
    (
        "orders",
        "if room",
        {"if room": "yes"},
        "it is cut only if there is room, and has a day or keeps a deckle",
        "leave one of them out",
    ),
    (
        "drawer",
        "packs",
        {"packs": "single", "price": ""},
        '"single" is sold alone, and no price is given',
        "give its price",
    ),
    (
        "drawer",
        "grain",
        {"size": "600 x 600", "grain": "long"},
        'the grain is "long" on a square sheet',
        "write along width or along height",
    ),
    (
        "drawer",
        "leave",
        {"leave": "left"},
        "there is no deckle at left",
        "name the edge under deckle as well, or take it out here",
    ),
    (
        "drawer",
        "keep",
        {"deckle": "all", "edge loss": "5", "keep": "left right"},
        "the deckles at left and right are both kept, and readings need one true edge",
        "keep one of them, and take the other out",
    ),
    (
        "drawer",
        "left",
        {"left": "400", "right": "300"},
        "the losses at left and right come to 700 mm and leave nothing of the width",
        "write what one edge loses, as in 8 mm",
    ),
    (
        "drawer",
        "diagonal",
        {"top width": "612", "diagonal": "500"},
        "no sheet measures so: its edges lean far more than those of any sheet sold",
        "measure the two widths, the two heights and the diagonal from lower left again",
    ),
    (
        "orders",
        "",
        {"kind": "print", "size": "9990 x 297", "margin": "15"},
        "its width is 10020 mm",
        "give more than 0 and at most 10 m",
    ),
]
"""Cells that are answered only beside others: the row is blamed at the heading named first."""

CASES = [
    *(
        _case(table, heading, {heading: typed}, *parts)
        for (table, heading), cells in CELLS.items()
        for typed, parts in cells.items()
    ),
    *(_case(*cells) for cells in TOGETHER),
]
