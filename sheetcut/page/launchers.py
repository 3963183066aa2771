"""What a double click starts, as each system writes it: a .desktop, a .command or a .pyw file."""

from __future__ import annotations

import re
import shlex
from collections.abc import Sequence
from dataclasses import dataclass

MARK = "Written by: sheetcut page --desktop"

LONGEST_NAME = 80
RESERVED = {
    "con",
    "prn",
    "aux",
    "nul",
    *(f"{name}{n}" for name in ("com", "lpt") for n in range(10)),
}
"""Names that Windows keeps for devices."""


@dataclass(frozen=True, slots=True)
class Launcher:
    """A file to be double-clicked.

    Attributes:
        ending: of its name, with the dot.
        opens: what its owner should know of opening it.
    """

    ending: str
    text: str
    opens: str


def launcher(system: str, command: Sequence[str], title: str, icon: str = "") -> Launcher:
    """Return the file that starts a command on a system, as ``sys.platform`` names it."""
    if system == "win32":
        return Launcher(".pyw", windows_text(command, title), "")
    if system == "darwin":
        opens = "It opens with a small Terminal window; closing that closes the studio."
        return Launcher(".command", mac_text(command, title), opens)
    opens = "If the desktop asks first: right-click it and choose Allow Launching."
    return Launcher(".desktop", linux_text(command, title, icon), opens)


def linux_text(command: Sequence[str], title: str, icon: str = "") -> str:
    """Return a desktop entry.

    Source:
        freedesktop.org, Desktop Entry Specification 1.5: "Values" for the escapes of a string,
        "The Exec key" for quotation marks and per cent signs.

    >>> print(linux_text(["/opt/py", "50 %"], "Studio").splitlines()[-2])
    Exec="/opt/py" "50 %%"
    """
    lines = [
        "[Desktop Entry]",
        f"# {MARK}",
        "Type=Application",
        "Version=1.5",
        f"Name={_entry_string(title)}",
        f"Exec={_entry_string(' '.join(map(_entry_argument, command)))}",
        "Terminal=false",
    ]
    if icon:
        lines.insert(-2, f"Icon={_entry_string(icon)}")
    return "\n".join(lines) + "\n"


def _entry_argument(text: str) -> str:
    return '"' + re.sub(r'(["`$\\])', r"\\\1", text).replace("%", "%%") + '"'


def _entry_string(text: str) -> str:
    """Return a string value; only what it would be misread without is escaped."""
    for plain, escaped in (("\\", "\\\\"), ("\n", "\\n"), ("\t", "\\t"), ("\r", "\\r")):
        text = text.replace(plain, escaped)
    return f"\\s{text[1:]}" if text.startswith(" ") else text


def mac_text(command: Sequence[str], title: str) -> str:
    """Return a script for the shell that Terminal opens.

    >>> print(mac_text(["/opt/py", "it's"], "Studio").splitlines()[-1])
    exec /opt/py 'it'"'"'s'
    """
    return f"#!/bin/sh\n# {_one_line(title)}\n# {MARK}\nexec {shlex.join(command)}\n"


def windows_text(command: Sequence[str], title: str) -> str:
    """Return a Python program that opens no window of its own.

    Every character outside ASCII is escaped, so that no code page can change it.
    """
    return f"""# {ascii(_one_line(title))[1:-1]}
# {MARK}
import ctypes
import subprocess

COMMAND = [
{"".join(f"    {word!a},{chr(10)}" for word in command)}]
NO_WINDOW = 0x08000000

try:
    subprocess.Popen(COMMAND, creationflags=NO_WINDOW, stdin=subprocess.DEVNULL,
                     stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
except OSError as error:
    words = f"{{error}}\\n\\nWas sheetcut moved? In its new place run: sheetcut page --desktop"
    ctypes.windll.user32.MessageBoxW(None, words, "sheetcut", 0x10)
"""


def _one_line(text: str) -> str:
    return " ".join(text.split())


def file_stem(title: str) -> str:
    """Return a title as a name that every file system takes.

    >>> file_stem('Ink/Wash: "Tern" '), file_stem("CON"), file_stem("..."), file_stem("Atelier Été")
    ('Ink Wash Tern', 'CON studio', 'sheetcut', 'Atelier Été')
    """
    plain = re.sub(r'[<>:"/\\|?*%]', " ", "".join(c if c.isprintable() else " " for c in title))
    stem = _one_line(plain)[:LONGEST_NAME].strip(". ")
    return f"{stem} studio" if stem.split(".")[0].casefold() in RESERVED else stem or "sheetcut"
