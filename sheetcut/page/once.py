"""What takes long and depends on one plan alone is worked out once, while the page shows that."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import lru_cache, wraps
from typing import Concatenate, Generic, ParamSpec, TypeVar

Thing = TypeVar("Thing")
Asked = ParamSpec("Asked")
Answer = TypeVar("Answer")

Of = Callable[Concatenate[Thing, Asked], Answer]


class _Itself(Generic[Thing]):
    """A thing known by being the very same: to compare two plans takes as long as to draw one."""

    __slots__ = ("thing",)

    def __init__(self, thing: Thing) -> None:
        self.thing = thing

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and other.thing is self.thing

    def __hash__(self) -> int:
        return id(self.thing)


def once_for(most: int) -> Callable[[Of[Thing, Asked, Answer]], Of[Thing, Asked, Answer]]:
    """Return what has a function remember its last answers, by the very thing it is given first.

    The thing is held as long as its answer is, so no other can come to be taken for it.

    Args:
        most: how many answers are kept.
    """

    def remembering(work_out: Of[Thing, Asked, Answer]) -> Of[Thing, Asked, Answer]:
        @lru_cache(maxsize=most)
        def known(own: _Itself[Thing], *asked: Hashable) -> Answer:
            return work_out(own.thing, *asked)  # type: ignore[call-arg, arg-type]

        @wraps(work_out)
        def answered(thing: Thing, /, *asked: Asked.args, **_named: Asked.kwargs) -> Answer:
            return known(_Itself(thing), *asked)

        return answered

    return remembering
