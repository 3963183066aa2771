"""What can go wrong: problems in what was written, faults in a layout, and errors raised."""

from __future__ import annotations

import errno
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in a file that its owner has to mend.

    Attributes:
        source: the file's name as the user typed it.
        row: as a spreadsheet counts, so the headings are row 1; None for the file as a whole.
        cell: "G7" where the file has cells; None elsewhere.
        field: the heading or setting it stands under; empty for the row or file as a whole.
        message: what is wrong, quoting what was found.
        remedy: what to write instead.
    """

    source: str
    row: int | None
    cell: str | None
    field: str
    message: str
    remedy: str

    def __str__(self) -> str:
        where = [self.source]
        if self.row is not None:
            where.append(f"row {self.row}")
        if self.field:
            where.append(f"{self.field} ({self.cell})" if self.cell else self.field)
        elif self.cell:
            where.append(self.cell)
        return f"{', '.join(where)}: {self.message}; {self.remedy}"


@dataclass(frozen=True, slots=True)
class Fault:
    """Something in a plan that would spoil paper or money.

    Attributes:
        where: the paper and layout, or the part of the plan, as its reader knows it.
        message: what is wrong, with the figures found and the figures expected.
    """

    where: str
    message: str

    def __str__(self) -> str:
        return f"{self.where}: {self.message}"


class SheetcutError(Exception):
    """Something the user can put right; shown without a traceback."""


class UnusableRecord(SheetcutError, ValueError):
    """A record was asked for that can never be right, such as a sheet without width.

    Attributes:
        record: what it is and is called, as "sheet HP-IMP".
        message: what of it cannot be, quoting what was given.
        remedy: what to give instead.
    """

    def __init__(self, record: str, message: str, remedy: str) -> None:
        self.record = record
        self.message = message
        self.remedy = remedy
        super().__init__(f"{record}: {message}; {remedy}")


class ProblemsFound(SheetcutError):
    """Files have problems; all of them at once, in the order they stand in."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


class FaultsFound(SheetcutError):
    """A plan failed its check, so it is neither shown nor written."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        lines = "\n".join(f"  {fault}" for fault in faults)
        super().__init__(
            "The plan failed its own check and was not kept; nothing was written. "
            f"Please report this, with the studio folder:\n{lines}"
        )


_FOUND = {errno.ENOENT: "it is not there"}
_LOOK = "see that the name is right and the place one you may use, then try again"
_REMEDIES = {
    errno.ENOENT: "see that the name is right, and that the folder round it is there",
    errno.ENOSPC: "make room on the disk and try again",
    errno.EDQUOT: "make room on the disk and try again",
    **dict.fromkeys(
        (errno.EACCES, errno.EPERM, errno.EROFS), "allow it there, or name another place"
    ),
}


class SystemRefused(SheetcutError):
    """The system did not let a file be read or written; shown for what nobody worded nearer."""

    def __init__(self, error: OSError) -> None:
        said = f"the system refused it ({error.strerror or error or 'no reason given'})"
        found = _FOUND.get(error.errno or 0, said)
        remedy = _REMEDIES.get(error.errno or 0, _LOOK)
        super().__init__(f"{error.filename or 'a file'}: {found}; {remedy}. Nothing was changed")
