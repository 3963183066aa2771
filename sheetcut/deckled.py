"""Blanks that keep a deckle, where the plan found leaves them no edge: sheets of their own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from sheetcut.cuts import can_carry, settled, without_needless_levels
from sheetcut.job import Job, Piece, Sheet, blank_size, offcut_of, reading_step, ways
from sheetcut.layout import Answer, Bound, Candidate, Part, Short
from sheetcut.nest import Stop, lay_out


def keeping_deckles(job: Job, answer: Answer, *, seed: int = 0, stop: Stop | None = None) -> Answer:
    """Return an answer with a candidate in which every deckle that is asked for can be kept.

    That is the answer itself, if blanks of one size need only change places and parts their
    order. Otherwise each blank that keeps a deckle gets a sheet of its own, everything else
    is laid out again on what these leave and on the rest of the drawer, and a note says so.

    Args:
        stop: ends that second search early; its rounds are then the answer's.
    """
    lines = [n for n, one in enumerate(job.pieces) if one.paper == answer.paper and one.deckles]
    if not lines:
        return answer
    fine = tuple(one for one in answer.candidates if _can_keep(job, one))
    if fine:
        return replace(answer, candidates=fine)
    own = _OwnSheets(job, answer.paper)
    for line in lines:
        own.add(line)
    rest = _rest(job, answer, lines, own, seed=seed, stop=stop)
    short = (*own.short, *rest.short)
    was_short = Counter({one.piece: one.count for one in answer.short})
    is_short = Counter({one.piece: one.count for one in short})
    bound = answer.bound if was_short == is_short else _nothing_proved(answer)
    return replace(
        answer,
        candidates=tuple(dict.fromkeys(own.with_rest(candidate) for candidate in rest.candidates)),
        bound=bound,
        short=tuple(sorted(short, key=lambda one: one.piece)),
        notes=tuple(_notes(job, lines, own)),
        rounds=rest.rounds if rest.stopped else answer.rounds,
        stopped=answer.stopped or rest.stopped,
    )


def _can_keep(job: Job, candidate: Candidate) -> bool:
    sheets = {sheet.id: sheet for sheet in job.sheets}
    trees = [(sheets[name], without_needless_levels(tree)) for name, tree in candidate.trees]
    return settled(trees, job) is not None


def _nothing_proved(answer: Answer) -> Bound:
    return Bound(answer.bound.measure, 0, "nothing is known for blanks that keep a deckle")


def _notes(job: Job, lines: list[int], own: _OwnSheets) -> Iterator[str]:
    missing = {one.piece for one in own.short}
    for line in lines:
        piece = job.pieces[line]
        edges = " and ".join(piece.deckles)
        if line in missing:
            yield f"{piece.order} is to keep its deckle at the {edges}; no sheet left lets it"
        else:
            yield f"{piece.order} has a sheet found for it alone, to keep its deckle at the {edges}"


@dataclass(slots=True)
class _OwnSheets:
    """Sheets taken for one blank each."""

    job: Job
    paper: str
    used: Counter[str] = field(default_factory=Counter)
    trees: list[tuple[str, Part]] = field(default_factory=list)
    short: list[Short] = field(default_factory=list)

    def add(self, line: int) -> None:
        """Take a sheet for each piece of an order line, the cheapest that will do."""
        piece = self.job.pieces[line]
        fitting = [
            (sheet, turned)
            for sheet in self.job.sheets_of(self.paper)
            if (turned := _way_on(self.job, piece, sheet)) is not None
        ]
        fitting.sort(key=lambda one: (one[0].kind == "full", one[0].price or 0, one[0].area))
        missing = 0
        for _ in range(piece.count):
            found = next((one for one in fitting if self._is_left(one[0])), None)
            if found is None:
                missing += 1
                continue
            self.used[found[0].id] += 1
            self.trees.append((found[0].id, _alone(self.job, line, *found)))
        if missing:
            self.short.append(Short(line, missing, "paper ran out" if fitting else "fits no sheet"))

    def leftovers(self) -> Iterator[Sheet]:
        """Yield what the sheets taken leave, each as an offcut with a name of its own."""
        for number, (name, tree) in enumerate(self.trees):
            sheet = next(one for one in self.job.sheets if one.id == name)
            for path, leaf in _rests(tree):
                yield offcut_of(sheet, _offcut_name(number, path), leaf.width, leaf.height)

    def with_rest(self, candidate: Candidate) -> Candidate:
        """Return all trees, with what is cut from leftovers of the sheets taken put in there."""
        cut = dict(candidate.trees)
        own = tuple(
            (name, _grafted(tree, number, cut, ()))
            for number, (name, tree) in enumerate(self.trees)
        )
        names = {one.id for one in self.leftovers()}
        return Candidate((*own, *(one for one in candidate.trees if one[0] not in names)))

    def _is_left(self, sheet: Sheet) -> bool:
        return sheet.on_hand is None or self.used[sheet.id] < sheet.on_hand


def _rests(part: Part, path: tuple[int, ...] = ()) -> Iterator[tuple[tuple[int, ...], Part]]:
    if part.along is None and part.piece is None:
        yield path, part
    for n, one in enumerate(part.parts):
        yield from _rests(one, (*path, n))


def _offcut_name(number: int, path: tuple[int, ...]) -> str:
    # A character that no drawer can hold keeps it apart from every other name.
    return f"\0{number}.{'.'.join(map(str, path))}"


def _grafted(part: Part, number: int, cut: dict[str, Part], path: tuple[int, ...]) -> Part:
    if part.along is None:
        return part if part.piece is not None else cut.get(_offcut_name(number, path), part)
    parts = (_grafted(one, number, cut, (*path, n)) for n, one in enumerate(part.parts))
    return replace(part, parts=tuple(parts))


def _way_on(job: Job, piece: Piece, sheet: Sheet) -> bool | None:
    """Return how a piece may lie on a sheet with its deckles kept, or None if it may not."""
    for turned in ways(piece.turn, sheet.grain):
        if not can_carry(job, sheet, piece, turned=turned):
            continue
        width, height = _lying(job, piece, turned=turned)
        if width <= sheet.usable_width and height <= sheet.usable_height:
            return turned
    return None


def _lying(job: Job, piece: Piece, *, turned: bool) -> tuple[int, int]:
    width, height = blank_size(piece, reading_step(job, piece.paper))
    return (height, width) if turned else (width, height)


def _alone(job: Job, line: int, sheet: Sheet, turned: bool) -> Part:
    """Return the cut tree of a sheet that gives one blank."""
    width, height = _lying(job, job.pieces[line], turned=turned)
    tree = Part(width, height, piece=line, turned=turned)
    if height < sheet.usable_height:
        rest = Part(width, sheet.usable_height - height)
        tree = Part(width, sheet.usable_height, "y", (tree, rest))
    if width < sheet.usable_width:
        rest = Part(sheet.usable_width - width, sheet.usable_height)
        tree = Part(sheet.usable_width, sheet.usable_height, "x", (tree, rest))
    return tree


def _rest(
    job: Job,
    answer: Answer,
    lines: list[int],
    own: _OwnSheets,
    *,
    seed: int,
    stop: Stop | None,
) -> Answer:
    """Return how everything else on the paper is cut from the sheets that are left."""
    kept = [n for n, one in enumerate(job.pieces) if one.paper == answer.paper and n not in lines]
    if not kept:
        return replace(answer, candidates=(Candidate(()),), short=(), notes=(), stopped=False)
    sheets = tuple(
        sheet
        if sheet.on_hand is None
        else replace(sheet, on_hand=sheet.on_hand - own.used[sheet.id])
        for sheet in job.sheets
    )
    smaller = replace(
        job, sheets=(*sheets, *own.leftovers()), pieces=tuple(job.pieces[n] for n in kept)
    )
    rest = lay_out(smaller, answer.paper, seed=seed, rounds=answer.rounds, stop=stop)
    return replace(
        rest,
        candidates=tuple(
            Candidate(tuple((name, _renumbered(tree, kept)) for name, tree in one.trees))
            for one in rest.candidates
        ),
        short=tuple(replace(one, piece=kept[one.piece]) for one in rest.short),
    )


def _renumbered(part: Part, numbers: list[int]) -> Part:
    return replace(
        part,
        parts=tuple(_renumbered(one, numbers) for one in part.parts),
        piece=None if part.piece is None else numbers[part.piece],
    )
