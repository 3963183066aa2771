"""One page composed: the scale and the places of drawing, reminders, key and steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import copy
from dataclasses import dataclass

from sheetcut.draw import account, heading, rows
from sheetcut.draw.labels import Key
from sheetcut.draw.lettering import NOTE, SIZE, shortened, width
from sheetcut.draw.measures import money_text
from sheetcut.draw.names import Names
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import Line, Page, Primitive, Text, moved
from sheetcut.draw.reminders import reminders
from sheetcut.draw.scale import COARSEST, scale_text, standard_scale
from sheetcut.draw.sheet import Picture, sheet_box, sheet_picture
from sheetcut.draw.steps import Step
from sheetcut.draw.view import View
from sheetcut.draw.weights import RULE
from sheetcut.errors import SheetcutError
from sheetcut.layout import Layout, PaperPlan, Plan
from sheetcut.units import TICKS_PER_MM

MARGIN_MM = 10.0  # what a poor office printer still reaches
GAP_MM = 5.5
STEPS_HEAD_MM = 8.4
WIDEST_COLUMN_MM = 62.0
WIDEST_BELOW_MM = 96.0
LEAST_FRAME_MM = 20.0
MOST_COLUMNS = 5
MOST_CLASHING = 2  # coarser scales have no more room for words
NO_STEPS = "Nothing to cut: the sheet is the blank."
KEY_COLUMN_MM = 60.0
KEY_PITCH_MM = 4.4


class NoRoomOnPage(SheetcutError):
    """A layout has more steps than a page can hold at any scale."""

    def __init__(self, page: Page, steps: int) -> None:
        self.page = page
        self.steps = steps
        super().__init__(
            f"A layout with {steps} steps has no room on {page.name}; draw it on a larger page."
        )


@dataclass(frozen=True, slots=True)
class _Asked:
    """What an arrangement has to find room for."""

    box: Box
    keys: tuple[Key, ...]
    has_grain: bool


@dataclass(frozen=True, slots=True)
class _Arranged:
    """How far the picture is moved, and all words that stand around it, in their places."""

    picture: tuple[float, float]
    words: tuple[Primitive, ...]


class Composer:
    """Finds the scale and the places of drawing, reminders, key and steps on one page."""

    def __init__(
        self,
        *,
        plan: Plan,
        paper: PaperPlan,
        layout: Layout,
        view: View,
        names: Names,
        steps: tuple[Step, ...],
        inches: bool,
        page: Page,
    ) -> None:
        self.no_steps = NO_STEPS
        self.plan, self.layout, self.view = plan, layout, view
        self.names, self.steps, self.inches = names, steps, inches
        self.sheet = plan.sheet(layout.sheet)
        self.paper = plan.job.paper(paper.paper)
        self.left, self.right = MARGIN_MM, page.width_mm - MARGIN_MM
        self.top = MARGIN_MM + heading.HEIGHT_MM
        self.page = page
        self.caution_top = page.height_mm - MARGIN_MM - heading.CAUTION_HEIGHT_MM
        self.account_top = self.caution_top - account.HEIGHT_MM
        self.foot = self.account_top - 3.0
        self.may_clash = self.sparse = False
        self._boxes: dict[int, Box] = {}
        self._pictures: dict[int, Picture] = {}

    def without_steps(self, words: str) -> Composer:
        """Return a composer of the same page with words where the steps would stand.

        Where the sheet went is then told under the steps, and the sheet has that room.
        """
        other = copy(self)
        other.steps, other.no_steps = (), words
        other.foot = self.caution_top - 3.0
        return other

    def heading(self, title: str, sheet_numbers: str, made: str, n: int) -> list[Primitive]:
        """Return the title block."""
        name = self.paper.name
        if self.paper.grammage is not None:
            name = f"{name} {self.paper.grammage} g/m²"
        code = f"plan {self.plan.code}" if self.plan.code else ""
        words = heading.Heading(
            self.plan.job.studio,
            title,
            (code, sheet_numbers, made),
            (name, scale_text(n), f"figures in {'inches' if self.inches else 'mm'}"),
        )
        return heading.heading(words, self.left, self.right, MARGIN_MM)

    def footing(self) -> list[Primitive]:
        """Return where the sheet went, and the caution line."""
        return [*self.account(), *self.caution()]

    def caution(self) -> list[Primitive]:
        """Return the caution line."""
        return heading.caution(self.left, self.right, self.caution_top)

    def account(self) -> list[Primitive]:
        """Return where the sheet went, in area and money."""
        price, currency = self.sheet.price, self.plan.job.currency
        told = ""
        if price is not None:
            money = money_text(price, currency)
            told = (
                f"book value {money}" if self.sheet.kind == "offcut" else f"paper {money} a sheet"
            )
        at = (self.left, self.account_top, self.right)
        return account.account(self.layout.waste, price, told, currency, at)

    def body(self) -> tuple[int, list[Primitive]]:
        """Return the scale 1:n and all that stands between title block and account.

        Rows that can be read from further off are worth a smaller drawing, up to a point.
        Where the readings at a ruler find no room at any scale, some stand with the steps only.
        """
        for self.sparse in (False, True):
            if self.sparse:
                self._boxes, self._pictures = {}, {}
            for self.may_clash in (False, True):
                best = self._best(rows.STYLES)
                if best is not None:
                    n = self._standard(*best)
                    return n, list(self._put(n, best[1]))
        raise NoRoomOnPage(self.page, len(self.steps))

    def is_readable(self) -> bool:
        """Whether drawing and steps fit one page in letters that can be read from a step away."""
        self.may_clash = False
        return self._best(rows.READABLE) is not None

    def _best(self, styles: Sequence[rows.Style]) -> tuple[int, rows.Style] | None:
        best: tuple[float, int, rows.Style] | None = None
        for n in range(1, COARSEST + 1):
            # Finer scales were tried, and no style counts for less than its scale.
            if best is not None and n >= best[0]:
                break
            if self._clashing(n) >= MOST_CLASHING:
                break
            for style in styles:
                score = n * style.handicap
                if (best is None or score < best[0]) and self._fits(n, style):
                    best = score, n, style
        return best and best[1:]

    def _clashing(self, n: int) -> int:
        """Return how many scales finer than 1:n are out, because words found no room in them."""
        if self.may_clash:
            return 0
        return sum(one.clashes > 0 for finer, one in self._pictures.items() if finer < n)

    def _fits(self, n: int, style: rows.Style) -> bool:
        """Whether drawing and steps fit; most scales are ruled out before the sheet is drawn."""
        if not self._may_fit(n):
            return False
        if n not in self._boxes:
            self._boxes[n] = sheet_box(self.view, n, inches=self.inches, sparse=self.sparse)
        if self._arranged(style, _Asked(self._boxes[n], self._keys_at_least(n), True)) is None:
            return False
        if self._picture(n).clashes and not self.may_clash:
            return False
        return self._arranged(style, self._asked(n)) is not None

    def _keys_at_least(self, n: int) -> tuple[Key, ...]:
        """Return a key that a drawing at 1:n has too: on a crowded sheet that of a finer scale."""
        finer = [one for one in self._pictures if one < n]
        return self._pictures[max(finer)].keys if self.may_clash and finer else ()

    def _standard(self, largest: int, style: rows.Style) -> int:
        return standard_scale(largest, lambda n: self._is_as_good(n, largest, style))

    def _is_as_good(self, n: int, largest: int, style: rows.Style) -> bool:
        """Whether a coarser scale fits too, and no blank there is too small for its note."""
        if not self._fits(n, style):
            return False
        return len(self._picture(n).keys) <= len(self._picture(largest).keys)

    def _asked(self, n: int) -> _Asked:
        picture = self._picture(n)
        return _Asked(picture.box, picture.keys, picture.has_grain)

    def _put(self, n: int, style: rows.Style) -> Iterator[Primitive]:
        arranged = self._arranged(style, self._asked(n))
        assert arranged is not None  # the scale was chosen by this
        for item in self._picture(n).items:
            yield moved(item, *arranged.picture)
        yield from arranged.words

    def _may_fit(self, n: int) -> bool:
        measured = self.view.measured
        wide, high = (side / TICKS_PER_MM / n for side in (measured.width, measured.height))
        return wide < self.right - self.left - 10 and high < self.foot - self.top - 20

    def _picture(self, n: int) -> Picture:
        if n not in self._pictures:
            self._pictures[n] = sheet_picture(
                self.view, n, self.names, inches=self.inches, sparse=self.sparse
            )
        return self._pictures[n]

    def _arranged(self, style: rows.Style, asked: _Asked) -> _Arranged | None:
        return self._beside(style, asked) or self._below(style, asked)

    def _beside(self, style: rows.Style, asked: _Asked) -> _Arranged | None:
        """Return the places with the steps at the right, or None where they do not fit."""
        left, top, right, foot = asked.box
        free = self.right - self.left - (right - left) - GAP_MM
        column = min(free, WIDEST_COLUMN_MM)
        if column < style.least_mm:
            return None
        col_left = self.right - column
        under = self._under(asked, col_left - GAP_MM - self.left)
        below = self.top + foot - top + 3
        spare_top = below + under.height_mm
        if spare_top > self.foot:
            return None
        frames = [(col_left, self.top + STEPS_HEAD_MM, self.right, self.foot)]
        if self.foot - spare_top > LEAST_FRAME_MM:
            room = col_left - GAP_MM - self.left
            count = max(1, int((room + GAP_MM) / (column * 0.9 + GAP_MM)))
            frames += columns_of(self.left, col_left - GAP_MM, spare_top + 4, self.foot, count)
        steps = self._steps(style, frames)
        if steps is None:
            return None
        words = [
            *(moved(item, self.left, below) for item in under.items),
            *steps_head(col_left, self.right, self.top),
            *steps,
        ]
        shift = (self.left - left + (free - column) / 2, self.top - top)
        return _Arranged(shift, tuple(words))

    def _below(self, style: rows.Style, asked: _Asked) -> _Arranged | None:
        """Return the places with the steps under the drawing, or None where they do not fit."""
        left, top, right, foot = asked.box
        free = self.right - self.left - (right - left)
        under = self._under(asked, self.right - self.left)
        below = self.top + foot - top + 3
        steps_top = below + under.height_mm + 2
        head = steps_top + STEPS_HEAD_MM
        if free < 0 or head > self.foot:
            return None
        steps = None
        for count in range(1, MOST_COLUMNS + 1):
            frames = columns_of(self.left, self.right, head, self.foot, count)
            wide = frames[0][2] - frames[0][0]
            if steps is None and style.least_mm <= wide <= WIDEST_BELOW_MM:
                steps = self._steps(style, frames)
        if steps is None:
            return None
        words = [
            *(moved(item, self.left, below) for item in under.items),
            *steps_head(self.left, self.right, steps_top),
            *steps,
        ]
        return _Arranged((self.left - left + free / 2, self.top - top), tuple(words))

    def _steps(self, style: rows.Style, frames: Sequence[Box]) -> list[Primitive] | None:
        left, top, right, _ = frames[0]
        if not self.steps:
            said = rows.paragraph(self.no_steps, right - left, first_mm=1)
            return [moved(item, left, top) for item in said.items]
        return rows.flow(self.steps, self.view, style, frames)

    def _under(self, asked: _Asked, width_mm: float) -> rows.Row:
        """Return the reminders and the key, set to a width."""
        said = reminders(
            self.view, self.sheet, self.paper, inches=self.inches, has_grain=asked.has_grain
        )
        items: list[Primitive] = []
        y = 0.0
        for sentence in said:
            made = rows.paragraph(sentence, width_mm)
            items += [moved(item, 0, y) for item in made.items]
            y += made.height_mm
        columns = max(1, min(3, int(width_mm / KEY_COLUMN_MM), len(asked.keys)))
        deep = -(-len(asked.keys) // columns)
        for n, key in enumerate(asked.keys):
            wide = width_mm / columns
            items += _key(key, (n // deep * wide, y + n % deep * KEY_PITCH_MM), wide - 3)
        return rows.Row(tuple(items), y + deep * KEY_PITCH_MM)


def steps_head(left: float, right: float, top: float) -> Iterator[Primitive]:
    """Yield the heading over the steps."""
    yield Text("Steps", (left, top + SIZE + 1.2), SIZE, "serif")
    yield Line(((left, top + STEPS_HEAD_MM - 1.2), (right, top + STEPS_HEAD_MM - 1.2)), RULE)


def _key(key: Key, at: tuple[float, float], width_mm: float) -> Iterator[Text]:
    x, y = at
    indent = max(6.0, width(key.letter, NOTE, "serif") + 2)
    size = f", {key.size}"
    room = width_mm - indent - width(size, NOTE, "serif italic")
    words = shortened(key.names, room, NOTE, "serif italic") + size
    yield Text(key.letter, (x, y + NOTE + 0.6), NOTE, "serif")
    yield Text(words, (x + indent, y + NOTE + 0.6), NOTE, "serif italic")


def columns_of(left: float, right: float, top: float, foot: float, count: int) -> list[Box]:
    """Return so many frames side by side."""
    wide = (right - left - GAP_MM * (count - 1)) / count
    lefts = [left + n * (wide + GAP_MM) for n in range(count)]
    return [(x, top, x + wide, foot) for x in lefts]
