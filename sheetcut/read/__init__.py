"""Everything people write, read into a job: lengths, sizes, orders, drawer and settings."""

from sheetcut.read.blank import write_blank_studio
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
from sheetcut.read.refusal import Refused
from sheetcut.read.studio import Settings

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
    "TwoFiles",
    "read_length",
    "read_size",
    "read_studio",
    "write_blank_studio",
]
