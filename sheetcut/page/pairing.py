"""A tablet is let in by a short code that the computer shows: used once, and five tries at most."""

from __future__ import annotations

import secrets
from threading import Lock

MOST_TRIES = 5
DIGITS = 6


class Pairing:
    """The code that lets the next tablet in, and the tablets that were let in.

    Six digits and five tries leave somebody who guesses one chance in 200 000; then the code is
    gone, and only the computer can show a new one.

    Attributes:
        host: the address and port that tablets open.
    """

    def __init__(self, host: str) -> None:
        self.host = host
        self._lock = Lock()
        self._code = ""
        self._tries = 0
        self._pass_words: list[str] = []
        self.renew()

    @property
    def code(self) -> str:
        """What a tablet has to type; empty once it was used, or guessed at too often."""
        return self._code

    @property
    def is_spoilt(self) -> bool:
        """Whether the code was guessed at too often."""
        return self._tries >= MOST_TRIES

    @property
    def let_in(self) -> int:
        """How many tablets were let in."""
        return len(self._pass_words)

    def renew(self) -> None:
        """Make a new code."""
        with self._lock:
            self._tries = 0
            self._code = f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"

    def answer(self, typed: str) -> str | None:
        """Return the pass word for a tablet that typed the code; None if it is not the code."""
        plain = "".join(typed.split())
        with self._lock:
            if not self._code:
                return None
            if not secrets.compare_digest(plain.encode(), self._code.encode()):
                self._tries += 1
                if self._tries >= MOST_TRIES:
                    self._code = ""
                return None
            self._code = ""
            self._pass_words.append(secrets.token_urlsafe(32))
            return self._pass_words[-1]

    def knows(self, pass_word: str) -> bool:
        """Whether a tablet with this pass word was let in."""
        shown = pass_word.encode()
        with self._lock:
            # All are compared, so that the time it takes tells nothing.
            same = [secrets.compare_digest(shown, one.encode()) for one in self._pass_words]
        return any(same)

    def forget(self) -> None:
        """Let none of the tablets in any more."""
        with self._lock:
            self._pass_words.clear()
