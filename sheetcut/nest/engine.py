"""One paper of a job, from the order lines to named cut trees with a bound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from sheetcut.job import Job, Turn, aim_for, blank_size, reading_step, ways
from sheetcut.layout import Answer, Bound, Candidate, Measure, Short
from sheetcut.nest.best import Best, whole
from sheetcut.nest.board import Board, Solution, Tree
from sheetcut.nest.deal import candidate_of
from sheetcut.nest.proof import bound_of
from sheetcut.nest.reasons import amount
from sheetcut.nest.search import Search, Tell
from sheetcut.nest.short import lengthened, shorten
from sheetcut.nest.stop import Stop
from sheetcut.nest.task import Stock, Task, stocks_of, task_of
from sheetcut.nest.tidy import tidied

MOST_ALIKE_WAYS = 8  # ways of deciding "alike" lines that are searched side by side
LEAST_ROUNDS = 2_000
DEFAULT_WORK = 16_000_000  # rounds times blanks, about, where nobody says how many rounds


def lay_out(
    job: Job,
    paper: str,
    *,
    seed: int = 0,
    rounds: int | None = None,
    stop: Stop | None = None,
    tell: Tell | None = None,
    cores: int | None = None,
    tidy: bool = True,
) -> Answer:
    """Return how everything ordered on one paper can be cut from the drawer.

    The same job, seed and rounds give the same answer on every machine; ``stop`` only ends
    the search early, and the answer says after how many rounds.

    Args:
        rounds: of search at most; None for as many as a job of this size deserves.
        stop: asked now and then whether it is time to end.
        tell: is given a few words about what is being tried.
        cores: how many may search at once; None for two where there are two. It changes how
            soon, not what.
        tidy: whether the sheets found are cut anew for fewer cuts and larger leftovers; who
            asks only what it takes does without.

    Raises:
        PriceMissing: if the plan is to cost least and a full sheet has no price.
    """
    stocks = stocks_of(job, paper)
    wanted = {
        i: piece.count
        for i, piece in enumerate(job.pieces)
        if piece.paper == paper and not piece.if_room
    }
    outside = tuple(_unfit(job, paper, wanted, stocks))
    counts = {line: n for line, n in wanted.items() if line not in {one.piece for one in outside}}
    notes = tuple(_grain_notes(job, paper, stocks, wanted))
    if not counts:
        return _nothing(job, paper, outside, notes)

    def search_for(counts: Mapping[int, int], known: Best | None = None) -> Search:
        free = {line: job.pieces[line].turn for line in counts}
        search = Search(
            [task_of(job, paper, stocks, turns, counts) for turns in decided(job, stocks, counts)],
            task_of(job, paper, stocks, free, counts),
            seed=seed,
            limit=default_rounds(sum(counts.values())) if rounds is None else rounds,
            stop=stop or Stop(),
            tell=tell,
            cores=cores,
        )
        search.begin(known)
        return search

    search = search_for(counts)
    missing: Counter[int] = Counter()
    before = 0
    if not search.fill():
        before = search.used
        task, start = _fullest(search)
        lines, solution = shorten(task, _open_board(task), start, seed)
        missing = Counter(counts) - lines
        counts = {line: n for line, n in lines.items() if n}
        if not counts:
            short = _ran_out(missing)
            return _nothing(job, paper, (*outside, *short), notes)
        smaller = task_of(job, paper, stocks, task.turns, counts)
        solution = renumbered(solution, task, smaller)
        search = search_for(counts, whole(smaller, solution))
        search.limit = max(0, search.limit - before)
    search.improve()
    best = search.best
    assert best is not None
    while missing and (more := _with_more(job, best, task, missing, seed)) is not None:
        missing -= Counter(more.task.counts) - Counter(best.task.counts)
        before += search.used
        search = search_for(more.task.counts, more)
        search.limit = max(0, search.limit - before)
        search.improve()
        best = search.best
        assert best is not None
    plain = [best.found.solution]
    tidier = tidied(best, seed, before + search.used) if tidy else plain
    if missing:
        # One that leaves a sheet whole could have held what is short.
        used = best.found.solution.used()
        tidier = [one for one in tidier if one.used() == used] or plain
    candidates = [candidate_of(best.task, one) for one in tidier]
    return Answer(
        paper=paper,
        aim=aim_for(job, paper),
        candidates=tuple(dict.fromkeys(candidates)),
        bound=bound_of(search.relaxed, search.proof, partly=bool(missing or outside)),
        short=(*outside, *_ran_out(missing)),
        rounds=before + search.used,
        stopped=search.stopped,
        notes=(*notes, *offcut_notes(search, best)),
    )


def _with_more(
    job: Job, best: Best, all_of_it: Task, missing: Counter[int], seed: int
) -> Best | None:
    """Return a plan with some of the pieces that were missing in it; None if none finds room.

    Args:
        all_of_it: the task of everything, with its own way of deciding "alike" lines.
    """
    old = best.task
    task = task_of(job, old.paper, old.stocks, {**all_of_it.turns, **old.turns}, all_of_it.counts)
    start = renumbered(best.found.solution, old, task)
    more, solution = lengthened(task, _open_board(task), start, missing, seed)
    if not more:
        return None
    counts = Counter(old.counts) + more
    smaller = task_of(job, old.paper, old.stocks, task.turns, counts)
    solution = renumbered(solution, task, smaller)
    return whole(smaller, solution)


def default_rounds(n_blanks: int) -> int:
    """Return how many rounds a job of so many blanks is worth, unless somebody says."""
    return max(LEAST_ROUNDS, DEFAULT_WORK // (20 + n_blanks))


def decided(
    job: Job, stocks: Sequence[Stock], counts: Mapping[int, int]
) -> Iterator[dict[int, Turn]]:
    """Yield the turn rules of all lines with every "alike" line decided, up to a few ways.

    Where there are too many such lines to try all ways, later lines follow the first ones.
    """
    turns: dict[int, Turn] = {line: job.pieces[line].turn for line in counts}
    alike = [line for line, turn in turns.items() if turn == "alike"]
    free = MOST_ALIKE_WAYS.bit_length() - 1
    choices: tuple[Turn, Turn] = ("grain up", "grain across")
    for ways_ in product(choices, repeat=min(len(alike), free)):
        yield turns | {line: ways_[place % free] for place, line in enumerate(alike)}


def renumbered(solution: Solution, old: Task, new: Task) -> Solution:
    """Return a plan with its blanks' kinds numbered as another task numbers them."""
    place = {(one.wide, one.high, one.ways): i for i, one in enumerate(new.blanks)}
    kinds = {i: place.get((one.wide, one.high, one.ways), -1) for i, one in enumerate(old.blanks)}

    def moved(tree: Tree) -> Tree:
        if tree.kind is not None:
            return Tree(tree.wide, tree.high, kind=kinds[tree.kind])
        members = tuple(moved(member) for member in tree.members)
        return Tree(tree.wide, tree.high, tree.along, members, tree.free)

    return Solution(tuple((stock, moved(tree)) for stock, tree in solution.sheets))


def offcut_notes(search: Search, best: Best) -> Iterator[str]:
    """Yield what should be known about the offcuts: which are spent, and whether they must be."""
    if not search.has_offcuts:
        return
    rows = search.relaxed.stocks
    used = best.found.solution.used()
    spent = [rows[i].sheet.title for i in sorted(used) if not rows[i].is_full]
    if not spent:
        names = [
            stock.sheet.title
            for i, stock in enumerate(rows)
            if not stock.is_full and any(blank.ways[i] for blank in search.relaxed.blanks)
        ]
        stays = "stays" if len(names) == 1 else "stay"
        head = f"{_listed(names)} {stays} in the drawer: "
        if best.price == search.proof.value:
            yield head + "spending an offcut saves nothing (proved)"
        else:
            yield head + "no plan was found that an offcut makes better"
        return
    it = "it" if len(spent) == 1 else "them"
    head = f"{_listed(spent)} {'is' if len(spent) == 1 else 'are'} spent: "
    floor = search.bound_without_offcuts()
    if floor is None:
        yield head + "the full sheets on hand cannot hold everything (proved)"
    elif floor > best.price:
        yield head + f"without {it} every plan takes {amount(best.task, floor)} or more (proved)"
    elif search.standing.bare is None:
        yield head + "no way was found to cut everything from the full sheets on hand"
    else:
        without = amount(best.task, search.standing.bare.price)
        yield head + f"without {it} the best plan found takes {without}"


def _unfit(
    job: Job, paper: str, wanted: Mapping[int, int], stocks: Sequence[Stock]
) -> Iterator[Short]:
    """Yield the lines that no sheet on hand can hold, and whether any sheet in the drawer could."""
    for line, n in wanted.items():
        if _fits_any(job, paper, line, [stock.sheet.id for stock in stocks]):
            continue
        known = _fits_any(job, paper, line, [sheet.id for sheet in job.sheets_of(paper)])
        yield Short(line, n, "paper ran out" if known else "fits no sheet")


def _fits_any(job: Job, paper: str, line: int, sheets: Sequence[str]) -> bool:
    step = reading_step(job, paper)
    piece = job.pieces[line]
    width, height = blank_size(piece, step)
    for sheet in job.sheets_of(paper):
        if sheet.id not in sheets:
            continue
        room = sheet.usable_width // step * step, sheet.usable_height // step * step
        for turned in ways(piece.turn, sheet.grain):
            w, h = (height, width) if turned else (width, height)
            if w <= room[0] and h <= room[1]:
                return True
    return False


def _grain_notes(
    job: Job, paper: str, stocks: Sequence[Stock], wanted: Mapping[int, int]
) -> Iterator[str]:
    """Yield which sheets are not used for which lines because their grain is not known."""
    bound_to_grain = [
        job.pieces[line].order
        for line in wanted
        if job.pieces[line].turn in ("grain up", "grain across", "alike")
    ]
    unknown = [stock.sheet.title for stock in stocks if stock.sheet.grain == "not known"]
    if bound_to_grain and unknown:
        yield (
            f"{_listed(unknown)}: the grain is not known, so no blank of "
            f"{_listed(bound_to_grain)} is cut from {'it' if len(unknown) == 1 else 'them'}"
        )


def _ran_out(missing: Counter[int]) -> tuple[Short, ...]:
    return tuple(Short(line, n, "paper ran out") for line, n in sorted(missing.items()) if n)


def _open_board(task: Task) -> Board:
    return Board(task, [stock.price for stock in task.stocks], [True] * len(task.stocks))


def _fullest(search: Search) -> tuple[Task, Solution]:
    fullest = search.standing.fullest
    if fullest is None:
        return search.tasks[0], Solution(())
    return fullest.task, fullest.found.solution


def _nothing(job: Job, paper: str, short: tuple[Short, ...], notes: tuple[str, ...]) -> Answer:
    aim = aim_for(job, paper)
    measure: Measure = "cost" if aim == "least cost" else "sheets"
    return Answer(
        paper=paper,
        aim=aim,
        candidates=(Candidate(()),),
        bound=Bound(measure, 0, "no piece is in the plan"),
        short=short,
        notes=notes,
    )


def _listed(names: Sequence[str]) -> str:
    """Return names as a list in words.

    >>> _listed(["a", "b", "c"])
    'a, b and c'
    """
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
