"""The drawer and the orders, kept in one file per studio, with all that was done to them."""

from sheetcut.drawer.as_cut import AsCut, Done
from sheetcut.drawer.books import (
    FIGURE_HEADINGS,
    Balance,
    Figures,
    balances,
    figure_rows,
    figures,
)
from sheetcut.drawer.cutting import LayoutState, cut_plan, hold, layout_states, release, try_cut
from sheetcut.drawer.difference import Difference
from sheetcut.drawer.intake import (
    STUDIO_FILES,
    Part,
    SourceFile,
    differences,
    newer_files,
    note_written,
    take_in,
)
from sheetcut.drawer.lines import add_order, add_orders, correct_order, remove_order
from sheetcut.drawer.mirror import write_whole
from sheetcut.drawer.reading import Entry, diary
from sheetcut.drawer.registers import (
    KeptEdition,
    KeptPrint,
    begin_edition,
    enter_prints,
    kept_edition,
    kept_editions,
    remove_edition,
)
from sheetcut.drawer.sheets import (
    InDrawer,
    add_sheet,
    correct_sheet,
    found_otherwise,
    free_tag,
    in_drawer,
    receive,
    remove_sheet,
    watch_stock,
)
from sheetcut.drawer.spoiling import Leftover, spoil
from sheetcut.drawer.store import FILE_NAME, Store
from sheetcut.drawer.tables import (
    DRAWER_HEADINGS,
    ORDER_HEADINGS,
    csv_bytes,
    drawer_rows,
    order_rows,
)
from sheetcut.drawer.telling import told_of
from sheetcut.drawer.work import STAGES, InWork, move, work_list

__all__ = [
    "DRAWER_HEADINGS",
    "FIGURE_HEADINGS",
    "FILE_NAME",
    "ORDER_HEADINGS",
    "STAGES",
    "STUDIO_FILES",
    "AsCut",
    "Balance",
    "Difference",
    "Done",
    "Entry",
    "Figures",
    "InDrawer",
    "InWork",
    "KeptEdition",
    "KeptPrint",
    "LayoutState",
    "Leftover",
    "Part",
    "SourceFile",
    "Store",
    "add_order",
    "add_orders",
    "add_sheet",
    "balances",
    "begin_edition",
    "correct_order",
    "correct_sheet",
    "csv_bytes",
    "cut_plan",
    "diary",
    "differences",
    "drawer_rows",
    "enter_prints",
    "figure_rows",
    "figures",
    "found_otherwise",
    "free_tag",
    "hold",
    "in_drawer",
    "kept_edition",
    "kept_editions",
    "layout_states",
    "move",
    "newer_files",
    "note_written",
    "order_rows",
    "receive",
    "release",
    "remove_edition",
    "remove_order",
    "remove_sheet",
    "spoil",
    "take_in",
    "told_of",
    "try_cut",
    "watch_stock",
    "work_list",
    "write_whole",
]
