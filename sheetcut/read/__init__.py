"""Everything people write, read into a job: lengths, sizes, orders, drawer and settings."""

from sheetcut.read.alone import orders_in, settings_in, sheets_in
from sheetcut.read.blank import write_blank_studio, write_studio
from sheetcut.read.dimensions import Size, read_size
from sheetcut.read.failures import (
    FileMissing,
    FilesInTheWay,
    FileUnreadable,
    NoFolder,
    NotWritten,
    TwoFiles,
)
from sheetcut.read.folder import Studio, read_studio
from sheetcut.read.lengths import read_length
from sheetcut.read.lines import read_words
from sheetcut.read.refusal import Refused
from sheetcut.read.studio import Settings
from sheetcut.read.typed import Told, typed_order, typed_sheet
from sheetcut.read.values import read_count, read_money, read_number

__all__ = [
    "FileMissing",
    "FileUnreadable",
    "FilesInTheWay",
    "NoFolder",
    "NotWritten",
    "Refused",
    "Settings",
    "Size",
    "Studio",
    "Told",
    "TwoFiles",
    "orders_in",
    "read_count",
    "read_length",
    "read_money",
    "read_number",
    "read_size",
    "read_studio",
    "read_words",
    "settings_in",
    "sheets_in",
    "typed_order",
    "typed_sheet",
    "write_blank_studio",
    "write_studio",
]
