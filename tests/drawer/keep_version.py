"""Writes the stored file of the present version; run before the tables change again."""

import shutil
import sqlite3
import tempfile
from pathlib import Path

from sheetcut.drawer import AsCut, cut_plan, hold, move, schema, watch_stock
from tests.drawer.studio import NOW, begun, demo_drawing_paper, demo_plan

VERSIONS = Path(__file__).parent / "versions"


def main() -> None:
    """Tell the tale that ``test_a_file_of_every_version_opens`` reads back."""
    with tempfile.TemporaryDirectory(prefix="sheetcut-") as made:
        with begun(Path(made), demo_drawing_paper()) as store:
            cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1)])
            move(store, "D01", "drawn", now=NOW)
            hold(store, demo_plan(), now=NOW, layouts=[2])
            watch_stock(store, "HP-DE", 1, now=NOW)
            watch_stock(store, "HP-IMP", 1, now=NOW)
            store.undo(now=NOW)
        kept = VERSIONS / f"version-{schema.VERSION}.sqlite"
        shutil.copy(store.path, kept)
        with sqlite3.connect(kept) as connection:
            connection.execute("VACUUM")


if __name__ == "__main__":
    main()
