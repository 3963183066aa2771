"""One writer among the readers: orders, cutting and settings, each as its form is sent."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from threading import Event

from tests.load.served import Answered, Visitor


@dataclass(slots=True)
class Acknowledged:
    """What the page said it has done.

    Attributes:
        orders: each order line that was added, with the note it was given last.
        entries: how many changes the diary must have more.
        name: what the studio was called last; empty where that was let be.
        refused: what was answered otherwise.
    """

    orders: dict[str, str] = field(default_factory=dict)
    entries: int = 0
    name: str = ""
    refused: list[str] = field(default_factory=list)


class Writer:
    """Writes in turn: an order added, one corrected, a sheet ticked off and put back, a setting."""

    def __init__(self, visitor: Visitor, done_page: str, mark: str = "L") -> None:
        self.visitor, self.done_page, self.mark = visitor, done_page, mark
        self.known = Acknowledged()

    def write_until(self, over: Event, *, rate: float) -> Acknowledged:
        """Write at a steady rate until the readers are done; what is begun is finished."""
        began, number = time.monotonic(), 0
        turns = (self.add_order, self.correct_order, self.cut, self.take_back, self.rename)
        while not over.is_set() or number % len(turns):
            over.wait(max(0.0, began + number / rate - time.monotonic()))
            turns[number % len(turns)](number)
            number += 1
        return self.known

    def add_order(self, number: int) -> None:
        """Add an order line of its own name."""
        name = f"{self.mark}{number:05d}"
        fields = self.visitor.get("/orders").form("/orders/add") | {
            "order": name, "piece": "Under load", "paper": "Marram Rag", "size": "100 x 150",
            "count": "1",
        }  # fmt: skip
        if self._done("/orders/add", fields):
            self.known.orders[name] = ""

    def correct_order(self, number: int) -> None:
        """Give the line that was added last a note."""
        name, note = f"{self.mark}{number - 1:05d}", f"corrected at {number}"
        fields = self.visitor.get(f"/orders?order={name}").form("/orders/correct")
        if self._done("/orders/correct", fields | {"note": note}):
            self.known.orders[name] = note

    def cut(self, _number: int) -> None:
        """Tick sheets off as cut."""
        action = self.done_page.rsplit("/", 1)[0] + "/cut"
        self._done(action, self.visitor.get(self.done_page).form(action))

    def take_back(self, _number: int) -> None:
        """Take back what was ticked off."""
        self._done("/diary/undo", self.visitor.get("/diary").form("/diary/undo"))

    def rename(self, number: int) -> None:
        """Give the studio another name, by way of the page that shows what would change."""
        name = f"Tern Point {number}"
        fields = self.visitor.get("/studio").form("/studio/look") | {"name": name}
        looked = self.visitor.post("/studio/look", fields)
        if looked.status != 200:  # somebody wrote between the form and the look at it
            self.known.refused.append(f"/studio/look: {looked.status} {looked.words}")
            return
        if self._done("/studio/keep", looked.form("/studio/keep")):
            self.known.name = name

    def _done(self, action: str, fields: dict[str, str]) -> bool:
        """Send a form and return whether the page said it was done."""
        answer: Answered = self.visitor.post(action, fields)
        if answer.status != 303:
            self.known.refused.append(f"{action}: {answer.status} {answer.words}")
            return False
        self.known.entries += 1
        return True
