"""Forty spoiled files: none of them changes the store, and each is told where and why."""

import pytest

from sheetcut.drawer import Store, take_in
from sheetcut.errors import ProblemsFound
from sheetcut.read import read_studio
from tests.drawer.studio import FILES, NOW, begun, demo_drawing_paper

SHEET = "sheet,paper,size,edge loss,deckle,side,grain,on hand,price,packs,kind"
ORDER = "order,piece,paper,kind,size,margin,count,turn,deckle,due,price"
DRAWER_ROWS = (
    "HP-IMP,Smooth,560 by,8,,,,3,,,",
    "HP-IMP,Smooth,0 x 760,8,,,,3,,,",
    "HP-IMP,Smooth,-560 x 760,8,,,,3,,,",
    "HP-IMP,Smooth,560 x 760,300,,,,3,,,",
    "HP-IMP,Smooth,560 x 760,-8,,,,3,,,",
    "HP-IMP,Smooth,56O x 760,8,,,,3,,,",
    'HP-IMP,Smooth,560 x 760,"1,000 mm",,,,3,,,',
    "HP-IMP,Smooth,560 x 760,5/8,,,,3,,,",
    "HP-IMP,Smooth,560 x 760,8,bottomless,,,3,,,",
    "HP-IMP,Smooth,560 x 760,8,,inside,,3,,,",
    "HP-IMP,Smooth,560 x 760,8,,,sideways,3,,,",
    "HP-IMP,Smooth,560 x 760,8,,,,three,,,",
    "HP-IMP,Smooth,560 x 760,8,,,,-1,,,",
    "HP-IMP,Smooth,560 x 760,8,,,,2.5,,,",
    "HP-IMP,Smooth,560 x 760,8,,,,3,a lot,,",
    "HP-IMP,Smooth,560 x 760,8,,,,3,-15.20,,",
    "HP-IMP,Smooth,560 x 760,8,,,,3,15.205,,",
    "HP-IMP,Smooth,560 x 760,8,,,,3,15.20,five for a song,",
    "HP-IMP,Smooth,560 x 760,8,,,,3,15.20,,quarter",
    "HP-IMP,Smooth,=1+1,8,,,,3,15.20,,",
    "HP-IMP,,560 x 760,8,,,,3,15.20,,",
    "HP-IMP,Smooth,560 x 760,8,,,,3,15.20,,,,stray",
    "HP-IMP,Smooth,560 x 760,8,,,,3,,,\nHP-IMP,Smooth,10 x 10,0,,,,3,,,",
    "HP-IMP,Smooth,\x07560 x 760,8,,,,3,,,",
)
ORDER_ROWS = (
    "D01,Ketch,Smooth,drawing,,15,1,,,,",
    "D01,Ketch,Smooth,drawing,297 x,15,1,,,,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,0,,,,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,-2,,,,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,1,perhaps,,,",
    "D01,Ketch,Smooth,etching of sorts,297 x 420,15,1,,,,",
    "D01,Ketch,Smoooth and other,drawing,297 x 420,15,1,,,,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,1,,,31.2.2026,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,1,,,soon,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,1,,,,free",
    "D01,Ketch,Smooth,drawing,297 x 420,-15,1,,,,",
    "D01,Ketch,Smooth,drawing,12 m x 420,15,1,,,,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,1,,,,\nD01,Sloop,Smooth,drawing,9 x 9,,1,,,,",
    "D01,Ketch,Smooth,drawing,297 x 420,15,1,,round,,",
)
WHOLE_FILES = (
    ("orders.csv", b""),
    ("orders.csv", b"\x00\x01\x02\x03" * 40),
    ("drawer.csv", b"nothing,to,see\n1,2,3\n"),
    ("studio.toml", b"name = [unclosed"),
)
CASES = [
    *[("drawer.csv", f"{SHEET}\n{row}\n".encode()) for row in DRAWER_ROWS],
    *[("orders.csv", f"{ORDER}\n{row}\n".encode()) for row in ORDER_ROWS],
    *WHOLE_FILES,
]


@pytest.mark.parametrize(("name", "data"), CASES)
def test_a_spoiled_file_changes_nothing(folder, name, data):
    begun(folder, demo_drawing_paper()).close()
    before = (folder / "studio.sqlite").read_bytes()
    (folder / "drawer.csv").write_text(f"{SHEET}\nHP-IMP,Smooth,560 x 760,8,,,,3,,,\n")
    (folder / "orders.csv").write_text(f"{ORDER}\nD01,Ketch,Smooth,drawing,297 x 420,15,1,,,,\n")
    (folder / name).write_bytes(data)
    with Store.open(folder) as store, pytest.raises(ProblemsFound) as refused:
        take_in(store, read_studio(folder).job, FILES, now=NOW)
    assert str(refused.value).startswith(name)
    assert (folder / "studio.sqlite").read_bytes() == before
