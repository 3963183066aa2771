"""A plan with more to cut, in which as few layouts as can be are other than they were."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Literal

from sheetcut import document
from sheetcut.answers.kept_layouts import (
    as_it_was,
    fewer_copies,
    likeness,
    staying,
    together,
    tree_of,
    turn_as_laid,
)
from sheetcut.answers.supply import Effort
from sheetcut.choosing import preferred, ways_of
from sheetcut.deckled import keeping_deckles
from sheetcut.drawn import layouts_of
from sheetcut.job import Job, Sheet, offcut_of
from sheetcut.laying import value_of
from sheetcut.layout import (
    Answer,
    Bound,
    Candidate,
    Layout,
    PaperPlan,
    Part,
    Plan,
    Rectangle,
    Short,
)
from sheetcut.nest import Stop, lay_out
from sheetcut.plan import code_of, sound, with_layouts
from sheetcut.tags import new_tags
from sheetcut.version import VERSION

Word = Literal["stays", "changed", "new"]

FEWER_ROUNDS = 200  # of search for doing with fewer changed layouts
MOST_TRIED = 12  # layouts that are tried alone


@dataclass(frozen=True, slots=True)
class Kept:
    """A plan made from one that stood.

    Attributes:
        plan: the new plan; it has passed its check.
        words: for each of its layouts, whether it stays as it was, has more on it than before,
            or is cut from a sheet that the old plan did not cut.
        gone: places in the old plan's layouts of those of which a copy could not stay.
    """

    plan: Plan
    words: tuple[Word, ...]
    gone: tuple[int, ...]


def keeping(
    job: Job,
    plan: Plan,
    *,
    effort: Effort | None = None,
    stop: Stop | None = None,
    made: str = "",
    input_hash: str = "",
) -> Kept:
    """Return a plan for a job that keeps every layout of a plan that can be kept.

    What else is wanted is laid on the leftovers of these layouts where that spends less, and
    on as few of them as will do; else on sheets that are left in the drawer.
    """
    effort = effort or Effort()
    stop = stop or Stop(effort.seconds)
    before = {paper.paper: paper for paper in plan.papers}
    names = [sheet.id for sheet in job.sheets]
    names += [name for one in plan.layouts for keeper in one.keepers for name in keeper.names]
    tags = new_tags(names)
    papers: list[PaperPlan] = []
    short: list[Short] = []
    words: list[Word] = []
    for done, name in enumerate(job.papers_ordered):
        share = stop.share(of=len(job.papers_ordered) - done)
        one = _Keeping(job, plan, before.get(name) or _nothing_yet(name), effort, share)
        paper, said = one.paper(tags)
        papers.append(paper)
        words += said
        short += one.short
    new = Plan(
        job=job,
        papers=tuple(papers),
        short=tuple(sorted(short, key=lambda one: one.piece)),
        seed=effort.seed,
        rounds=max((paper.rounds for paper in papers), default=0),
        stopped=any(paper.stopped for paper in papers),
        version=VERSION,
        made=made,
        input_hash=input_hash or hashlib.sha256(document.job_bytes(job)).hexdigest(),
    )
    return Kept(sound(replace(new, code=code_of(new))), tuple(words), tuple(_gone(job, plan)))


def _gone(job: Job, plan: Plan) -> Iterator[int]:
    first = 0
    for paper in plan.papers:
        yield from (first + place for place in staying(job, plan, paper).gone)
        first += len(paper.layouts)


def _nothing_yet(paper: str) -> PaperPlan:
    return PaperPlan(
        paper=paper,
        aim="fewest sheets",
        sheets_used={},
        cost=None,
        bound=Bound("sheets", 0, "no piece is in the plan"),
        layouts=(),
        shares={},
    )


class _Keeping:
    """One paper: what stays, and where the rest goes.

    Attributes:
        short: pieces for which there was no paper.
        spots: leftovers that may be cut further, each by a name of its own: the place of its
            layout among those that stay, and where it lies there.
    """

    def __init__(self, job: Job, plan: Plan, old: PaperPlan, effort: Effort, stop: Stop) -> None:
        self.job = job
        self.plan = plan
        self.old = old
        self.effort = effort
        self.stop = stop
        self.stays = staying(job, plan, old)
        self.lines = [
            line for line, n in self.stays.left.items() if n and not job.pieces[line].if_room
        ]
        self.short: tuple[Short, ...] = ()
        self.spots: Mapping[str, tuple[int, Rectangle]] = {
            # A character that no drawer can hold keeps it apart from every other name.
            f"\0{place}.{number}": (place, leftover)
            for place, layout in enumerate(self.stays.layouts)
            if not any(job.pieces[one.piece].deckles for one in layout.placements)
            for number, leftover in enumerate(layout.leftovers)
        }

    def paper(self, tags: Iterator[str]) -> tuple[PaperPlan, list[Word]]:
        """Return the paper's plan, and for each of its layouts what became of it."""
        same = as_it_was(self.job, self.plan, self.old)
        if same is not None and not self.lines and not self.stays.gone:
            return same, ["stays"] * len(same.layouts)
        afresh = keeping_deckles(
            self.job,
            lay_out(
                self.job,
                self.old.paper,
                seed=self.effort.seed,
                rounds=self.effort.rounds,
                stop=self.stop.share(of=2),
            ),
            seed=self.effort.seed,
            stop=self.stop.share(of=2),
        )
        layouts, words = self._layouts(tags)
        is_alike = {one.piece: one.count for one in afresh.short} == {
            one.piece: one.count for one in self.short
        }
        nothing = Bound(afresh.bound.measure, 0, "nothing is known for the pieces that are cut")
        plan = replace(
            _nothing_yet(self.old.paper),
            aim=afresh.aim,
            bound=afresh.bound if is_alike else nothing,
            kind=self.job.rules.preference,
            rounds=afresh.rounds,
            stopped=self.stop.is_due(),
        )
        plan = with_layouts(self.job, plan, layouts)
        less = plan.value(self.job) - value_of(self.job, afresh)
        if is_alike and less > 0:
            note = f"planned afresh, nothing kept, it takes {self._amount(plan, less)} less"
            plan = replace(plan, notes=(note,))
        return plan, words

    def _amount(self, plan: PaperPlan, less: int) -> str:
        if plan.bound.measure == "cost":
            return f"{self.job.currency}{less // 100}.{less % 100:02d}"
        return f"{less} sheet{'s' if less > 1 else ''}"

    def _layouts(self, tags: Iterator[str]) -> tuple[list[Layout], list[Word]]:
        """Return all layouts, what stays among them, with what became of each."""
        stay, changed, new = list(self.stays.layouts), [], []
        if self.lines:
            answer = self._fewest_changed()
            self.short = tuple(replace(one, piece=self.lines[one.piece]) for one in answer.short)
            fillings = self._fillings(answer)
            trees = [
                (stay[place].sheet, tree_of(self.job, stay[place], filled))
                for place, filled in fillings
            ]
            fresh = [(name, self._named(tree)) for name, tree in _cut(answer, but=self.spots)]
            ways = ways_of(self.job, [Candidate((*trees, *fresh))])
            sheets = preferred(self.job, ways)
            changed = list(layouts_of(self.job, sheets[: len(trees)], tags))
            new = list(layouts_of(self.job, sheets[len(trees) :], tags))
            for place, _ in fillings:
                stay[place] = fewer_copies(stay[place])
        kinds: tuple[tuple[Word, list[Layout]], ...] = (
            ("new", new),
            ("changed", changed),
            ("stays", [layout for layout in stay if layout.copies]),
        )
        word_of = {likeness(one): word for word, layouts in kinds for one in layouts}
        layouts = list(together(self.job, [one for _, some in kinds[::-1] for one in some]))
        return layouts, [word_of[likeness(one)] for one in layouts]

    def _fewest_changed(self) -> Answer:
        """Return how the rest is cut, from leftovers of as few layouts as do for the same."""
        best = self._laid_out(self.spots, self.effort.rounds)
        if len(self._places(best)) > 1:
            for place in self._roomiest()[:MOST_TRIED]:
                other = self._without_worse(best, {place})
                if other is not None:
                    return other
        for place in sorted(self._places(best)):
            other = self._without_worse(best, self._places(best) - {place})
            best = other or best
        return best

    def _without_worse(self, best: Answer, places: Collection[int]) -> Answer | None:
        """Return an answer that cuts only these layouts further and is as good; None if none is."""
        if self.stop.is_due():
            return None
        names = [name for name, (place, _) in self.spots.items() if place in places]
        other = self._laid_out(names, FEWER_ROUNDS)
        return other if self._merit(other) <= self._merit(best) else None

    def _merit(self, answer: Answer) -> tuple[int, int, int]:
        """Return what is lacking, what it takes, and what is spent of the offcuts in the drawer."""
        pieces = [self.job.pieces[line] for line in self.lines]
        lack = sum(pieces[one.piece].asked_area * one.count for one in answer.short)
        offcuts = {one.id: one.area for one in self.job.sheets if one.kind == "offcut"}
        spent = sum(offcuts.get(name, 0) for name, _ in answer.candidates[0].trees)
        return lack, value_of(self.job, answer), spent

    def _roomiest(self) -> list[int]:
        """Return the layouts that may be cut further, the one with most left over first."""
        room: dict[int, int] = defaultdict(int)
        for place, (_, _, width, height) in self.spots.values():
            room[place] += width * height
        return sorted(room, key=lambda place: -room[place])

    def _places(self, answer: Answer) -> set[int]:
        return {self.spots[name][0] for name, _ in _cut(answer, only=self.spots)}

    def _laid_out(self, spots: Collection[str], rounds: int | None) -> Answer:
        """Return how what is not cut yet is laid on some leftovers and the rest of the drawer."""
        layouts = self.stays.layouts
        pieces = tuple(
            replace(
                self.job.pieces[line],
                count=self.stays.left[line],
                turn=turn_as_laid(self.job, line, layouts),
            )
            for line in self.lines
        )
        used = self.stays.used
        sheets = tuple(
            one if one.on_hand is None else replace(one, on_hand=one.on_hand - used.get(one.id, 0))
            for one in self.job.sheets
        )
        there = tuple(self._offcut(name) for name in spots)
        rest = replace(self.job, sheets=(*sheets, *there), pieces=pieces)
        stop = self.stop.share(of=2)
        paper, seed = self.old.paper, self.effort.seed
        answer = lay_out(rest, paper, seed=seed, rounds=rounds, stop=stop)
        return keeping_deckles(rest, answer, seed=seed, stop=self.stop.share(of=2))

    def _offcut(self, name: str) -> Sheet:
        place, (_, _, width, height) = self.spots[name]
        layout = self.stays.layouts[place]
        sheet = next(one for one in self.job.sheets if one.id == layout.sheet)
        return replace(offcut_of(sheet, name, width, height, on_hand=layout.copies), name="")

    def _fillings(self, answer: Answer) -> list[tuple[int, dict[Rectangle, Part]]]:
        """Return, for each copy of a layout that is cut further, what its leftovers become."""
        trees: dict[int, dict[Rectangle, list[Part]]] = defaultdict(lambda: defaultdict(list))
        for name, tree in _cut(answer, only=self.spots):
            place, leftover = self.spots[name]
            trees[place][leftover].append(self._named(tree))
        fillings = []
        for place, found in sorted(trees.items()):
            for copy in zip_longest(*found.values()):
                pairs = zip(found, copy, strict=True)
                fillings.append((place, {spot: tree for spot, tree in pairs if tree is not None}))
        return fillings

    def _named(self, part: Part) -> Part:
        """Return a tree with the lines of the whole job on its blanks."""
        return replace(
            part,
            parts=tuple(self._named(one) for one in part.parts),
            piece=None if part.piece is None else self.lines[part.piece],
        )


def _cut(
    answer: Answer, *, only: Collection[str] | None = None, but: Collection[str] = ()
) -> list[tuple[str, Part]]:
    """Return the sheets that an answer cuts, of some names only or of all but some."""
    return [
        (name, tree)
        for name, tree in answer.candidates[0].trees
        if (only is None or name in only) and name not in but
    ]
