"""The files of a new studio, to be filled in; as they stand they can be planned."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from sheetcut.read.failures import FilesInTheWay, NotWritten

ORDERS = """\
order,client,piece,paper,kind,size,margin,left,right,top,foot,count,turn,deckle,due,price,note
1,A. Example,Two herons,Example Smooth 300,drawing,210 x 297,15,,,,,1,yes,,,120.00,your first order
2,,The same as a print,Example Smooth 300,print,150 x 200,,25,25,25,35,4,yes,,,35.00,\
size is the image of a print; the borders lie round it
"""

DRAWER = """\
sheet,paper,size,edge loss,left,right,top,foot,deckle,side,grain,on hand,price,packs,kind,note
FULL,Example Smooth 300,560 x 760,5,,,,,,both,not known,3,6.50,5 for 30.00; 20+ at 5.20,full,\
write the size as you measured it
wren 1,Example Smooth 300,300 x 400,0,,,,,,both,not known,1,,,offcut,a piece left over
"""

SETTINGS = """\
# The settings of this studio. A line that begins with # is not read: take the # away to use it.
# Lengths may carry a unit, as "600 mm" or "23 1/2 in"; a bare number counts the unit below.

name = "My studio"
currency = "£"
unit = "mm"                       # what bare numbers count: mm, cm or in

# reading-step = "1 mm"           # what your ruler is read to: 1 mm, 0.5 mm or 1/16 in
# mat = "600 x 450"               # your cutting mat
# ruler = 1000                    # your longest ruler
# printer-width = 432             # the widest sheet your printer takes
# narrowest-strip = 10            # narrower than this you would not cut off on purpose
# narrow-strips = "allowed"       # or "refused": no plan with a narrower strip beside a print
# keep-size = "150 x 200"         # the smallest offcut you would keep
# deckle-trim = 8                 # what a deckle edge loses where the drawer does not say
# aim = "least cost"              # or "fewest sheets"
# preference = "quicker to cut"   # between equal plans; "better leftover" or "strips only"
# sizes-sold = ["A5", "A4", "A3", "300 x 300"]

# Margins where an order gives none: one length, or left, right, top and foot.
# [usual-margins]
# drawing = 15
# print = [25, 25, 25, 35]
# card = 0

# What a quote charges for besides paper, and what it is rounded up to.
# [charging]
# hours = 3.5                     # what one piece usually takes you
# rate = "22.00"                  # for an hour
# mark-up = 1.5                   # what the cost of paper is multiplied by
# round-up-to = "0.50"

# What sending costs where you buy paper, by the value of the goods.
# [buying]
# carriage = ["9.50", "free from 150.00"]

# What your printer leaves blank: at both sides, at the edge that goes in first, at the last.
# [printer]
# sides = 5
# lead = 5
# tail = 17

# Your scanner's glass, and how much of a drawing neighbouring scans share.
# [scanner]
# bed = "216 x 297"
# overlap = 30

# What packing adds: the mailer at each edge, boards and mailer in thickness, all in grams.
# [packing]
# wall = 4
# boards = 6
# grams = 120

# What may be sent, the cheapest first. Check the current tariff: carriers change it.
# [parcel."large letter"]
# flat = "353 x 250"
# thick = 25
# grams = 750
# [parcel."small parcel"]
# flat = "450 x 350"
# thick = 160
# grams = 2000
# [parcel."small parcel, rolled"]
# rolled = 450                    # how long; thick is its diameter
# thick = 80
# grams = 2000
# [parcel.tube]
# rolled = 900
# girth = 1040                    # its length and twice its diameter
# grams = 2000

# What is known of each paper: its weight in g/m² and the knife strokes a cut needs.
[paper."Example Smooth 300"]
grammage = 300
passes = 2
"""


def write_blank_studio(folder: Path) -> tuple[Path, ...]:
    """Write orders.csv, drawer.csv and studio.toml into a folder, made if it is not there.

    Raises:
        FilesInTheWay: if one of them, or a workbook in its place, is there; nothing is written.
        NotWritten: if the folder cannot be written into; nothing is left behind.
    """
    return write_studio(
        folder,
        {
            "orders.csv": _table(ORDERS),
            "drawer.csv": _table(DRAWER),
            "studio.toml": SETTINGS.encode(),
        },
    )


def write_studio(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write the files of a new studio by their names, all of them or none.

    Raises:
        FilesInTheWay, NotWritten: as for a blank one.
    """
    contents = {folder / name: content for name, content in files.items()}
    workbooks = (folder / "orders.xlsx", folder / "drawer.xlsx")
    written: list[Path] = []
    try:
        there = tuple(path.name for path in (*contents, *workbooks) if path.exists())
        if there:
            raise FilesInTheWay(folder, there)
        folder.mkdir(parents=True, exist_ok=True)
        for path, content in contents.items():
            with path.open("xb") as file:
                written.append(path)
                file.write(content)
    except OSError as error:
        for path in written:
            path.unlink(missing_ok=True)
        raise NotWritten(folder, error.strerror or str(error)) from None
    return tuple(contents)


def _table(text: str) -> bytes:
    # With the mark and line ends that spreadsheets on every system read as UTF-8.
    return text.replace("\n", "\r\n").encode("utf-8-sig")
