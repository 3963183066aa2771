"""Small jobs for the engine, and what must hold for every answer."""

from __future__ import annotations

from collections import Counter

from sheetcut.job import Job, Piece, Rules, Sheet, blank_size, reading_step, ways
from sheetcut.layout import Part
from sheetcut.nest import Stop


def job_of(pieces, sheets, turn="yes", **rules):
    """Return a job in plain numbers: one tick is one unit, and so is the reading step.

    Args:
        pieces: (width, height) or (width, height, count) of each line.
        sheets: (width, height) or (width, height, price) of each full sheet.
    """
    return Job(
        sheets=tuple(
            Sheet(f"S{i}", "rag", w, h, price=price[0] if price else None, grain="none")
            for i, (w, h, *price) in enumerate(sheets)
        ),
        pieces=tuple(
            Piece(f"P{i}", "", "rag", w, h, count=count[0] if count else 1, turn=turn)
            for i, (w, h, *count) in enumerate(pieces)
        ),
        rules=Rules(reading_step=1, keep_short=1, keep_long=1, **rules),
    )


def sizes(text):
    """Return pieces from the form the literature's tables are typed in: ``4x12*3, 7x12``."""
    pieces = []
    for word in text.split(","):
        size, _, count = word.strip().partition("*")
        width, _, height = size.partition("x")
        pieces.append((int(width), int(height), int(count or 1)))
    return pieces


def value_of(job, answer):
    """Return what the bound speaks of, counted from the trees."""
    full = {sheet.id: sheet for sheet in job.sheets if sheet.kind == "full"}
    used = [full[name] for name, _ in answer.candidates[0].trees if name in full]
    return len(used) if answer.bound.measure == "sheets" else sum(one.price for one in used)


def blanks_in(part):
    """Yield every blank of a tree."""
    if part.piece is not None:
        yield part
    for one in part.parts:
        yield from blanks_in(one)


def assert_sound(job, answer):
    """Check everything an answer promises, from the records alone."""
    sheets = {sheet.id: sheet for sheet in job.sheets}
    lines = {i: piece for i, piece in enumerate(job.pieces) if piece.paper == answer.paper}
    short = Counter()
    for one in answer.short:
        short[one.piece] += one.count
    values = set()
    for candidate in answer.candidates:
        placed = Counter()
        used = Counter(name for name, _ in candidate.trees)
        for name, tree in candidate.trees:
            sheet = sheets[name]
            assert (tree.width, tree.height) == (sheet.usable_width, sheet.usable_height)
            assert not tree.is_leftover
            _assert_exact(tree)
            for blank in blanks_in(tree):
                placed[blank.piece] += 1
                _assert_lies_well(job, answer.paper, sheet, blank)
        for name, n in used.items():
            assert sheets[name].on_hand is None or n <= sheets[name].on_hand
        assert placed + short == Counter({i: piece.count for i, piece in lines.items()})
        values.add(
            sum(
                (sheets[name].price if answer.bound.measure == "cost" else 1) * n
                for name, n in used.items()
                if sheets[name].kind == "full"
            )
        )
    assert len(values) == 1
    assert answer.bound.value <= values.pop()
    assert answer.bound.reason
    _assert_alike(job, answer)


def _assert_exact(part: Part):
    assert part.width > 0
    assert part.height > 0
    if not part.parts:
        assert part.along is None
        return
    assert part.piece is None
    assert len(part.parts) > 1
    for one in part.parts:
        if part.along == "x":
            assert one.height == part.height
        else:
            assert one.width == part.width
        assert one.along != part.along or not one.parts
        _assert_exact(one)
    side = (lambda one: one.width) if part.along == "x" else (lambda one: one.height)
    assert sum(map(side, part.parts)) == side(part)


def _assert_lies_well(job, paper, sheet, blank):
    piece = job.pieces[blank.piece]
    width, height = blank_size(piece, reading_step(job, paper))
    lies = (height, width) if blank.turned else (width, height)
    assert lies == (blank.width, blank.height)
    assert blank.turned in ways(piece.turn, sheet.grain)


def _assert_alike(job, answer):
    """All pieces of an "alike" line lie the same way relative to the grain."""
    sheets = {sheet.id: sheet for sheet in job.sheets}
    for candidate in answer.candidates:
        seen: dict[int, set[bool]] = {}
        for name, tree in candidate.trees:
            grain = sheets[name].grain
            for blank in blanks_in(tree):
                if job.pieces[blank.piece].turn == "alike" and grain != "none":
                    up = blank.turned == (grain == "along width")
                    seen.setdefault(blank.piece, set()).add(up)
        assert all(len(both) == 1 for both in seen.values())


class After(Stop):
    """Due once it has been asked so many times."""

    def __init__(self, times):
        super().__init__()
        self.left = times

    def is_due(self):
        self.left -= 1
        return self.left < 0
