"""Plans for one paper whose supply may hold more full sheets than are on hand.

A question such as "what if one more were ordered" must not fail for want of a sheet. So full
sheets beyond those on hand may be supposed, at their price: as little as can be is spent on
supposed sheets, and only then is the whole plan as cheap as can be.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import islice

from sheetcut.answers.money import rounded_up, sheet_price
from sheetcut.if_room import Trees
from sheetcut.job import Aim, Job, Piece, Sheet, aim_for, blank_size, reading_step, ways
from sheetcut.layout import Answer, Bound, Candidate, Measure, Plan
from sheetcut.nest import Stop, lay_out
from sheetcut.nest.gives import most_pieces
from sheetcut.nest.proof import bound_of, proofs
from sheetcut.nest.task import stocks_of, task_of
from sheetcut.plan import plan_from

PLAIN_ARGUMENTS = 2  # areas, and blanks that cannot share a sheet: the ones that cost no time


@dataclass(frozen=True, slots=True)
class Effort:
    """How much may be spent on a search; see ``make_plan``.

    Attributes:
        tidy: whether fewer cuts and larger leftovers are looked for as well.
    """

    seed: int = 0
    rounds: int | None = None
    seconds: float | None = 5
    tidy: bool = True


@dataclass(frozen=True, slots=True)
class Supplied:
    """An answer together with the supply it is cut from.

    Attributes:
        job: one paper alone; its sheets on hand are the supply.
        supposed: by sheet id, how many of the supply are supposed; only those above none.
    """

    job: Job
    answer: Answer
    supposed: Mapping[str, int]
    effort: Effort = Effort()

    @property
    def trees(self) -> Trees:
        """The sheets that are cut, each with its cut tree."""
        return self.answer.candidates[0].trees

    @property
    def value(self) -> int:
        """Its cash in cents, or its full sheets where a price is not known."""
        return value_of(self.job, self.trees)

    @property
    def proved(self) -> bool:
        """Whether no plan from this supply does better."""
        return self.value == self.answer.bound.value

    @property
    def full_sheets(self) -> int:
        """How many full sheets it cuts."""
        full = {sheet.id for sheet in self.job.sheets if sheet.kind == "full"}
        return sum(name in full for name, _ in self.trees)

    def plan(self, *, stop: Stop | None = None) -> Plan:
        """Return it as a plan that has passed its check.

        Args:
            stop: ends a search that kept deckles ask for; None for as long as the effort says.
        """
        stop = stop or Stop(self.effort.seconds)
        return plan_from(self.job, [self.answer], seed=self.effort.seed, stop=stop)


def question(job: Job, paper: str) -> Job:
    """Return one paper of a job alone, judged by cash where every price is known.

    Where a full sheet has no price, full sheets are counted instead. Order lines that no
    sheet in the drawer is large enough for are left out, as they are in no plan; and so are
    those that are cut only if there is room, as they change none.
    """
    sheets = tuple(_priced(sheet) for sheet in job.sheets_of(paper))
    aim: Aim = "least cost" if _has_prices(sheets) else "fewest sheets"
    known = replace(job.paper(paper), aim=aim)
    alone = replace(job, sheets=sheets, papers=(known,))
    pieces = tuple(
        piece for piece in job.pieces_of(paper) if not piece.if_room and fits_a_sheet(alone, piece)
    )
    return replace(alone, pieces=pieces)


def fits_a_sheet(job: Job, piece: Piece) -> bool:
    """Whether any sheet of the piece's paper is large enough for it, on hand or not."""
    step = reading_step(job, piece.paper)
    width, height = blank_size(piece, step)
    return any(
        most_pieces(
            sheet.usable_width // step,
            sheet.usable_height // step,
            width // step,
            height // step,
            ways=ways(piece.turn, sheet.grain),
        )
        for sheet in job.sheets_of(piece.paper)
    )


def supplied(
    asked: Job,
    effort: Effort,
    *,
    sizes: Collection[str] | None = None,
    stop: Stop | None = None,
) -> Supplied:
    """Return the plan for a question with the least price of supposed sheets, then of all.

    Args:
        sizes: the ids of the sheets that may be supposed; None for every full sheet.
    """
    paper = asked.papers[0].name
    names = {
        _supposed_name(asked, sheet): sheet.id
        for sheet in _limited(asked)
        if sizes is None or sheet.id in sizes
    }
    answer = lay_out(
        _with_supposed(asked, names),
        paper,
        seed=effort.seed,
        rounds=effort.rounds,
        stop=stop or Stop(effort.seconds),
        tidy=effort.tidy,
    )
    taken = Counter(name for name, _ in answer.candidates[0].trees)
    trees = tuple((names.get(name, name), tree) for name, tree in answer.candidates[0].trees)
    beyond = Counter({names[name]: n for name, n in taken.items() if name in names})
    # The search may have left a sheet on hand lying while it supposed its like.
    supposed = {
        name: n
        for name, n in (
            (sheet.id, taken[sheet.id] + beyond[sheet.id] - (sheet.on_hand or 0))
            for sheet in _limited(asked)
        )
        if n > 0
    }
    job = with_more(asked, supposed)
    proved = answer.bound.value == _value(_with_supposed(asked, names), answer.candidates[0].trees)
    bound = _bound(job, answer, value_of(job, trees) if proved else None)
    aim = aim_for(job, paper)
    answer = replace(answer, aim=aim, candidates=(Candidate(trees),), bound=bound)
    return Supplied(job, answer, supposed, effort)


def laid_out(
    job: Job, effort: Effort, *, seeds: Iterable[Trees] = (), stop: Stop | None = None
) -> Supplied:
    """Return the best plan for one paper from exactly this supply.

    Args:
        seeds: plans for the same pieces that are known already. The search is spared where the
            best of them meets a plain bound, and never does worse than the best of them.
    """
    paper = job.papers[0].name
    best = min(seeds, key=lambda trees: value_of(job, trees), default=None)
    if best is not None and job.pieces:
        bound = plain_bound(job)
        if bound.value == value_of(job, best):
            return _seeded(job, best, bound, effort)
    answer = lay_out(
        job,
        paper,
        seed=effort.seed,
        rounds=effort.rounds,
        stop=stop or Stop(effort.seconds),
        tidy=effort.tidy,
    )
    if best is not None and answer.short:
        return _seeded(job, best, plain_bound(job), effort)
    if best is not None and value_of(job, best) < value_of(job, answer.candidates[0].trees):
        answer = replace(answer, candidates=(Candidate(best),))
    return Supplied(job, answer, {}, effort)


def plain_bound(job: Job) -> Bound:
    """Return the bound that areas alone give, or blanks of which no two share a sheet."""
    paper = job.papers[0].name
    counts = {line: piece.count for line, piece in enumerate(job.pieces)}
    turns = {line: piece.turn for line, piece in enumerate(job.pieces)}
    task = task_of(job, paper, stocks_of(job, paper), turns, counts)
    *_, proof = islice(proofs(task), PLAIN_ARGUMENTS)
    return bound_of(task, proof, partly=False)


def bound_with_more(bound: Bound) -> Bound:
    """Return what a bound says once more pieces are wanted: they never need less.

    Its certificate speaks of the pieces it was made for, so it is left behind.
    """
    return replace(bound, certificate=None)


def value_of(job: Job, trees: Trees) -> int:
    """Return the cash for the full sheets cut, or their number where a price is not known."""
    return _value(job, trees)


def with_more(job: Job, more: Mapping[str, int]) -> Job:
    """Return the job with so many sheets more on hand."""
    sheets = tuple(
        sheet
        if sheet.on_hand is None
        else replace(sheet, on_hand=sheet.on_hand + more.get(sheet.id, 0))
        for sheet in job.sheets
    )
    return replace(job, sheets=sheets)


def _seeded(job: Job, trees: Trees, bound: Bound, effort: Effort) -> Supplied:
    paper = job.papers[0].name
    answer = Answer(paper, aim_for(job, paper), (Candidate(trees),), bound)
    return Supplied(job, answer, {}, effort)


def _priced(sheet: Sheet) -> Sheet:
    """Return a sheet whose price is its own, else the unit price of its cheapest pack."""
    price = sheet_price(sheet)
    return sheet if price is None else replace(sheet, price=rounded_up(price))


def _has_prices(sheets: Iterable[Sheet]) -> bool:
    full = [sheet for sheet in sheets if sheet.kind == "full"]
    return bool(full) and all(sheet.price is not None for sheet in full)


def _limited(job: Job) -> Iterator[Sheet]:
    """Yield the full sheets of which only some are on hand."""
    return (one for one in job.sheets if one.kind == "full" and one.on_hand is not None)


def _supposed_name(job: Job, sheet: Sheet) -> str:
    taken = {one.id for one in job.sheets}
    name = f"{sheet.id}, supposed"
    while name in taken:
        name += "'"
    return name


def _with_supposed(job: Job, names: Mapping[str, str]) -> Job:
    """Return the job with any number of supposed sheets, dearer than all that is on hand.

    A supposed sheet costs its price so many times over that a plan that supposes for a cent
    less is better, whatever it takes from the drawer.
    """
    pieces = sum(piece.count for piece in job.pieces)
    full = [sheet for sheet in job.sheets if sheet.kind == "full"]
    price = {sheet.id: _price(job, sheet) for sheet in full}
    all_on_hand = sum(
        price[one.id] * (pieces if one.on_hand is None else min(one.on_hand, pieces))
        for one in full
    )
    of = {sheet.id: sheet for sheet in job.sheets}
    sheets = [replace(sheet, price=price.get(sheet.id, sheet.price)) for sheet in job.sheets]
    sheets += [
        replace(of[own], id=name, on_hand=None, price=price[own] * (all_on_hand + 2))
        for name, own in names.items()
    ]
    paper = replace(job.papers[0], aim="least cost")
    return replace(job, sheets=tuple(sheets), papers=(paper,))


def _price(job: Job, sheet: Sheet) -> int:
    if job.papers[0].aim != "least cost":
        return 1
    return sheet.price or 0


def _value(job: Job, trees: Trees) -> int:
    full = {one.id: _price(job, one) for one in job.sheets if one.kind == "full"}
    return sum(full.get(name, 0) for name, _ in trees)


def _bound(job: Job, answer: Answer, value: int | None) -> Bound:
    """Return the bound for the supply: the value itself where the search has proved it."""
    measure: Measure = "cost" if job.papers[0].aim == "least cost" else "sheets"
    if value is not None:
        reason = (
            "the least price of sheets beyond those on hand, and with them the least in all, "
            "are both proved"
        )
        return Bound(measure, value, reason)
    if answer.short:
        return Bound(measure, 0, "some pieces are not in the plan, and nothing was proved")
    return plain_bound(job)
