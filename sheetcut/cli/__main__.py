"""Runs the commands as `python -m sheetcut.cli`."""

from sheetcut.cli import main

main(prog_name="sheetcut")
