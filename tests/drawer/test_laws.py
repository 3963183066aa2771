"""What must hold for every studio and any sequence of changes."""

import random
import tempfile
from contextlib import contextmanager
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetcut.drawer import (
    AsCut,
    Leftover,
    Store,
    add_order,
    add_sheet,
    balances,
    correct_order,
    correct_sheet,
    cut_plan,
    differences,
    found_otherwise,
    hold,
    move,
    receive,
    release,
    remove_order,
    remove_sheet,
    spoil,
    take_in,
    work_list,
)
from sheetcut.errors import SheetcutError
from sheetcut.job import EDGES, Job, Pack, Paper, Piece, Rules, Sheet
from sheetcut.units import Edges, mm
from tests.drawer.conftest import PLACE
from tests.drawer.studio import (
    FILES,
    NOW,
    SMOOTH,
    begun,
    demo_drawing_paper,
    drawing,
    exported,
    random_plan,
    replayed,
    state,
)

few = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))

lengths = st.one_of(st.integers(1, mm(3000)), st.integers(1, 3000).map(mm))
small = st.one_of(st.just(0), st.integers(0, mm(20)))
four = st.builds(Edges, small, small, small, small)
money = st.one_of(st.none(), st.integers(0, 2**40))
text = st.text(max_size=8)
deckles = st.lists(st.sampled_from(EDGES), unique=True).map(tuple)
units = st.sampled_from(["mm", "cm", "in"])


def unique(names: st.SearchStrategy[str], most: int) -> st.SearchStrategy[list[str]]:
    """Return lists of different names."""
    return st.lists(names, unique=True, max_size=most)


@st.composite
def jobs(draw) -> Job:
    """Return any job at all, likely or not."""
    sheets = [
        Sheet(
            id=name,
            paper=draw(text),
            width=draw(lengths) + 2 * mm(20),
            height=draw(lengths) + 2 * mm(20),
            on_hand=draw(st.one_of(st.none(), st.integers(0, 2**40))),
            price=draw(money),
            edge_loss=draw(four),
            deckles=draw(deckles),
            side=draw(st.sampled_from(["one", "both"])),
            grain=draw(st.sampled_from(["along width", "along height", "none", "not known"])),
            packs=tuple(
                Pack(n, n * 7, or_more=n % 2 > 0)
                for n in draw(st.lists(st.integers(1, 99), max_size=2, unique=True))
            ),
            kind=draw(st.sampled_from(["full", "offcut"])),
            name=draw(text),
            unit=draw(units),
            note=draw(text),
        )
        for name in draw(unique(text, 4))
    ]
    pieces = [
        Piece(
            order=name,
            label=draw(text),
            paper=draw(text),
            width=draw(lengths) + 2 * mm(20),
            height=draw(lengths) + 2 * mm(20),
            count=draw(st.integers(1, 10**9)),
            turn=draw(st.sampled_from(["yes", "no", "grain up", "grain across", "alike"])),
            kind=draw(st.sampled_from(["drawing", "print", "card"])),
            margin=draw(four),
            border=draw(four),
            client=draw(text),
            deckles=draw(deckles),
            due=draw(st.one_of(st.none(), st.dates())),
            price=draw(money),
            unit=draw(units),
            note=draw(text),
        )
        for name in draw(unique(text, 4))
    ]
    maybe = st.one_of(st.none(), lengths)
    rules = Rules(
        reading_step=draw(maybe),
        narrowest_strip=draw(maybe),
        keep_short=1,
        keep_long=draw(lengths),
        mat=draw(st.one_of(st.none(), st.tuples(lengths, lengths))),
        ruler=draw(maybe),
        printer_width=draw(maybe),
        aim=draw(st.sampled_from([None, "least cost", "fewest sheets"])),
        preference=draw(st.sampled_from(["quicker to cut", "better leftover"])),
    )
    papers = [
        Paper(name, draw(st.one_of(st.none(), st.integers(1, 900))), 3, draw(st.just(rules.aim)))
        for name in draw(unique(text, 3))
    ]
    return Job(sheets, pieces, rules, papers, draw(text), draw(text))


@contextmanager
def fresh_store(job: Job):
    with (
        tempfile.TemporaryDirectory(dir=PLACE, prefix="sheetcut-") as folder,
        begun(Path(folder), job) as store,
    ):
        yield store


@few
@given(jobs(), jobs())
def test_what_was_taken_in_comes_out(first, second):
    with fresh_store(first) as store:
        assert store.recorded() == first
        kept = tuple(s for s in first.sheets if s.kind == "full" or s.on_hand != 0)
        assert store.job().sheets == kept
        assert store.job().pieces == first.pieces
        assert differences(store, first, FILES) == ()
        told = differences(store, second, FILES)
        assert take_in(store, second, FILES, now=NOW) == told
        recorded = store.recorded()
        assert {one.id: one for one in recorded.sheets} == {one.id: one for one in second.sheets}
        assert {p.order: p for p in recorded.pieces} == {p.order: p for p in second.pieces}
        assert {p.name: p for p in recorded.papers} == {p.name: p for p in second.papers}
        assert recorded.rules == second.rules
        assert all(balance.is_even for balance in balances(store).values())
        if told:
            store.undo(now=NOW)
        assert store.recorded() == first


class Acting:
    """Does one thing of a kind to a store, by chance; it may be refused."""

    def __init__(self, store: Store, chance: random.Random, number: int) -> None:
        self.store, self.chance, self.number = store, chance, number
        job = store.recorded()
        self.sheet = chance.choice(job.sheets).id if job.sheets else ""
        self.order = chance.choice([*(piece.order for piece in job.pieces), ""])
        self.side = mm(chance.randint(1, 300))

    def cut(self):
        plan = random_plan(self.store, self.chance, made=str(self.number))
        if not plan:
            return
        kept = (Leftover(self.side, self.side),) if self.chance.random() < 0.3 else None
        first = plan.piece(plan.layouts[0].placements[0].piece).order
        lost = ((first, 1),) if self.chance.random() < 0.4 else ()
        told = AsCut(1, kept=kept, **{self.chance.choice(["spoiled", "left_out"]): lost})
        cut_plan(self.store, plan, now=NOW, as_cut=[told])

    def hold(self):
        plan = random_plan(self.store, self.chance, made=str(self.number))
        if not plan:
            return
        hold(self.store, plan, now=NOW)
        if self.chance.random() < 0.5:
            self.chance.choice([cut_plan, release])(self.store, plan, now=NOW)

    def spoil(self):
        leftover = Leftover(self.side, self.side) if self.chance.random() < 0.5 else None
        stage = self.chance.choice([None, "cut", "drawn", "sent"])
        count = self.chance.randint(1, 2)
        spoil(self.store, self.order, now=NOW, count=count, state=stage, leftover=leftover)

    def move(self):
        stage = self.chance.choice(["drawn", "signed", "sent"])
        for work in work_list(self.store)[:1]:
            move(self.store, work.piece.order, stage, now=NOW)

    def receive(self):
        measured = (mm(560), self.side) if self.chance.random() < 0.3 else None
        count = self.chance.randint(1, 5)
        receive(self.store, self.sheet, count, now=NOW, measured=measured, paid=100)

    def found(self):
        found_otherwise(self.store, self.sheet, now=NOW, measured=(mm(500), mm(700)))

    def correct(self):
        change = {
            "on_hand": self.chance.choice([None, 0, 2]),
            "width": mm(300) + self.side,
            "paper": self.chance.choice([SMOOTH, "Marram Rag"]),
        }
        correct_sheet(self.store, self.sheet, now=NOW, **change)

    def reorder(self):
        count = self.chance.randint(1, 6)
        correct_order(self.store, self.order, now=NOW, count=count, width=self.side)

    def add(self):
        new = Sheet(f"S{self.number}", SMOOTH, mm(300), mm(400), 2, price=500)
        add_order(self.store, drawing(f"N{self.number}", 50, 60, 2), now=NOW)
        add_sheet(self.store, new, now=NOW)

    def remove(self):
        if self.chance.random() < 0.5:
            remove_sheet(self.store, self.sheet, now=NOW)
        else:
            remove_order(self.store, self.order, now=NOW)

    def bring_in(self):
        take_in(self.store, demo_drawing_paper(), FILES, now=NOW)

    def undo(self):
        if standing(self.store):
            self.store.undo(now=NOW)

    def redo(self):
        self.store.redo(now=NOW)


def standing(store: Store) -> int:
    """Return how many changes stand after the first import."""
    changes = [entry for entry in store.history()[1:] if entry.kind == "change"]
    return sum(not entry.is_undone for entry in changes)


KINDS = ("cut", "cut", "cut", "hold", "spoil", "spoil", "move", "receive", "found", "correct",
         "reorder", "add", "remove", "bring_in", "undo", "redo")  # fmt: skip


@few
@given(st.lists(st.sampled_from(KINDS), max_size=14), st.integers(0, 2**32))
def test_any_changes_keep_the_books_even_and_can_all_be_taken_back(kinds, seed):
    """Paper: bought + corrections = on hand + finished + margins + scrap, in mm², per paper."""
    chance = random.Random(seed)
    with fresh_store(demo_drawing_paper()) as store:
        first = exported(store), state(store)
        for number, kind in enumerate(kinds):
            entries, before = len(store.history()), state(store)
            try:
                getattr(Acting(store, chance, number), kind)()
            except SheetcutError:
                if len(store.history()) == entries:
                    assert state(store) == before  # refused means: nothing was done
            assert all(balance.is_even for balance in balances(store).values())
        last, changes = (exported(store), state(store)), standing(store)
        for _ in range(changes):
            store.undo(now=NOW)
        assert (exported(store), state(store)) == first
        for _ in range(changes):
            store.redo(now=NOW)
        assert (exported(store), state(store)) == last
        replayed(store.path)
