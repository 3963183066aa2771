"""Trees of parts for the tests, written as they lie: blanks, leftovers, and both side by side."""

from sheetcut.layout import Part


def blank(width, height, piece=0):
    return Part(width, height, piece=piece)


def rest(width, height):
    return Part(width, height)


def beside(*parts):
    return Part(sum(part.width for part in parts), parts[0].height, "x", parts)


def above(*parts):
    return Part(parts[0].width, sum(part.height for part in parts), "y", parts)
