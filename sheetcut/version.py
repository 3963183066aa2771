"""The version of sheetcut, in one place."""

VERSION = "0.1.0"
