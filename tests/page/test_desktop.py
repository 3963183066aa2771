"""A double click opens the studio: what is written survives any name, and nothing is written over.

The Linux entry is really started, by GLib, which is what desktops start it with.
"""

import re
import shlex
import shutil
import stat
import subprocess
import sys
import time
from types import SimpleNamespace

import pytest

from sheetcut.page.desktop import NoDesktop, put_on_desktop
from sheetcut.page.launchers import file_stem, linux_text, mac_text, windows_text
from tests.cli.shell import shell

HOSTILE = (
    "/plain",
    "/with two  spaces",
    '/it\'s "quoted"',
    "/$HOME `whoami` $(whoami)",
    "/back\\slash\\\\two",
    "/100 %f %% %U",
    "/semi;colon&amp|pipe>out#hash!~*?[x]",
    "/Ateliér 雪 ŝ",
    " /begins with a space",
    "/new\nline",
)
WRITES = "import sys; open(sys.argv[1], 'w', encoding='utf-8').write(repr(sys.argv[2:]))"


@pytest.mark.parametrize("word", HOSTILE)
def test_a_shell_is_given_each_word_as_it_is(word, tmp_path):
    """Run by a real shell, as Terminal would."""
    told = tmp_path / "told"
    script = tmp_path / "Studio.command"
    script.write_text(mac_text([sys.executable, "-c", WRITES, str(told), word, "--last"], word))
    script.chmod(0o755)
    subprocess.run([script], check=True, timeout=30)
    assert told.read_text(encoding="utf-8") == repr([word, "--last"])


@pytest.mark.parametrize("word", HOSTILE)
def test_windows_is_given_each_word_as_it_is(word, monkeypatch):
    """The file is Python, so Python is asked what it would start; its bytes are all ASCII."""
    started = []
    monkeypatch.setattr(subprocess, "Popen", lambda command, **_options: started.append(command))
    monkeypatch.setitem(sys.modules, "ctypes", SimpleNamespace())
    text = windows_text(["C:\\Program Files\\python.exe", "page", word], word)
    assert text.isascii()
    exec(compile(text, "Studio.pyw", "exec"), {})
    assert started == [["C:\\Program Files\\python.exe", "page", word]]


def test_windows_is_told_when_the_program_was_moved(monkeypatch):
    told = []
    box = SimpleNamespace(MessageBoxW=lambda *words: told.append(words[1]))
    windll = SimpleNamespace(user32=box)
    monkeypatch.setitem(sys.modules, "ctypes", SimpleNamespace(windll=windll))
    monkeypatch.setattr(subprocess, "Popen", _no_such_file)
    exec(compile(windows_text(["gone.exe"], "Studio"), "Studio.pyw", "exec"), {})
    assert "sheetcut page --desktop" in told[0]


def _no_such_file(*_words, **_options):
    raise FileNotFoundError("gone.exe")


@pytest.mark.skipif(shutil.which("gio") is None, reason="no gio on this machine")
@pytest.mark.parametrize("word", HOSTILE)
def test_a_desktop_is_given_each_word_as_it_is(word, tmp_path):
    told = tmp_path / "told"
    entry = tmp_path / "Studio.desktop"
    command = [sys.executable, "-c", WRITES, str(told), word, "--last"]
    entry.write_text(linux_text(command, word), encoding="utf-8")
    subprocess.run(["gio", "launch", entry], check=True, timeout=30)
    assert waited_for(told) == repr([word, "--last"])


@pytest.mark.parametrize("word", HOSTILE)
def test_an_entry_reads_back_by_the_specification(word):
    """Value escapes first, then quotation marks, then per cent signs: in that order."""
    command = ["/opt/py", word, "--last"]
    (line,) = [one for one in linux_text(command, word).splitlines() if one.startswith("Exec=")]
    value = line.removeprefix("Exec=")
    for escape, plain in (("\\\\", "\0"), ("\\s", " "), ("\\n", "\n"), ("\\t", "\t")):
        value = value.replace(escape, plain)
    words = re.findall(r'"((?:[^"\\]|\\.)*)"', value.replace("\0", "\\"), re.DOTALL)
    assert [re.sub(r"\\(.)", r"\1", one).replace("%%", "%") for one in words] == command


def waited_for(path, seconds=60.0):
    """Return what a program that was just started writes into a file."""
    for _ in range(int(seconds / 0.05)):
        if path.exists() and path.read_text(encoding="utf-8"):
            return path.read_text(encoding="utf-8")
        time.sleep(0.05)
    raise AssertionError(f"{path.name} was never written")


@pytest.mark.skipif(shutil.which("gio") is None, reason="no gio on this machine")
def test_the_entry_on_the_desktop_opens_the_studio(studio, tmp_path, monkeypatch):
    """As a person has it: the command, a double click, the browser with the studio, Close."""
    desk, seen = tmp_path / "Schreib tisch", tmp_path / "seen"
    desk.mkdir()
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\nprintf %s "$1" > {shlex.quote(str(seen))}\n')
    browser.chmod(0o755)
    monkeypatch.setenv("XDG_DESKTOP_DIR", str(desk))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("BROWSER", str(browser))
    put = shell("page", studio, "--desktop")
    (entry,) = desk.iterdir()
    assert put.stdout.strip() == str(entry)
    assert entry.name == "Tern Point Drawing Room.desktop"
    assert entry.stat().st_mode & stat.S_IXUSR
    subprocess.run(["gio", "launch", entry], check=True, timeout=30)
    address = waited_for(seen)
    seen.unlink()
    subprocess.run(["gio", "launch", entry], check=True, timeout=30)
    assert waited_for(seen) == address  # the page that is open already, and not a second one
    assert "Tern Point" in closed(address)


def closed(address):
    """Look at a page that is served, close it by its own button, and return what was seen."""
    script = """
import http.client, http.cookiejar, sys, time, urllib.request
jar = http.cookiejar.CookieJar(http.cookiejar.DefaultCookiePolicy(rfc2965=True))
opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
here = sys.argv[1].split("/enter/")[0]
page = opener.open(sys.argv[1], timeout=10).read().decode()
asked = urllib.request.Request(here + "/close", data=b"", headers={"Origin": here})
assert "closed" in opener.open(asked, timeout=10).read().decode()
for _ in range(200):
    try:
        opener.open(sys.argv[1], timeout=10).close()
    except (OSError, http.client.HTTPException):  # refused, or cut short while it ends
        break
    time.sleep(0.05)
else:
    raise SystemExit("it goes on answering")
print(page)
"""
    done = subprocess.run(
        [sys.executable, "-c", script, address],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.parametrize(
    ("system", "ending"), [("linux", ".desktop"), ("darwin", ".command"), ("win32", ".pyw")]
)
def test_nothing_on_a_desktop_is_written_over(studio, tmp_path, system, ending):
    other = tmp_path / f"Tern Point Drawing Room{ending}"
    other.write_text("somebody else's")
    put = put_on_desktop(studio, system=system, desktop=tmp_path)
    assert put.path.name == f"Tern Point Drawing Room 2{ending}"
    assert other.read_text() == "somebody else's"
    again = put_on_desktop(studio, system=system, desktop=tmp_path)
    assert again.path == put.path
    assert "already" in again.says[0]
    for_a_tablet = put_on_desktop(studio, tablet=True, system=system, desktop=tmp_path)
    assert "--tablet" in for_a_tablet.path.read_text(encoding="utf-8")
    assert for_a_tablet.path.name == f"Tern Point Drawing Room 3{ending}"


def test_a_link_that_leads_nowhere_is_not_followed(studio, tmp_path):
    """Somebody's dangling link is theirs, too; writing through it would make a file elsewhere."""
    (tmp_path / "Tern Point Drawing Room.desktop").symlink_to(tmp_path / "elsewhere")
    put = put_on_desktop(studio, system="linux", desktop=tmp_path)
    assert put.path.name == "Tern Point Drawing Room 2.desktop"
    assert not (tmp_path / "elsewhere").exists()


def test_an_account_without_a_desktop_is_told_so(studio, tmp_path):
    with pytest.raises(NoDesktop, match="no such folder"):
        put_on_desktop(studio, desktop=tmp_path / "none")


@pytest.mark.parametrize(
    "name", ["a/b\\c", "LPT1", "x" * 300, "..", ' :*?"<>|', "tab\tname", "\u202eevil"]
)
def test_a_studios_name_makes_a_file_name(name, tmp_path):
    stem = file_stem(name)
    path = tmp_path / f"{stem}.desktop"
    path.write_text("x")
    assert path.parent == tmp_path
    assert not set(stem) & set('<>:"/\\|?*')
    assert stem.isprintable()


def test_what_goes_wrong_at_a_double_click_is_shown_in_the_browser(tmp_path, monkeypatch):
    seen, browser = tmp_path / "seen", tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\nprintf %s "$1" > {shlex.quote(str(seen))}\n')
    browser.chmod(0o755)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("BROWSER", str(browser))
    done = shell("page", tmp_path / "moved <away>", "--double-click")
    assert done.returncode == 2
    page = tmp_path / "cache" / "sheetcut" / "not-opened.html"
    assert waited_for(seen) == page.as_uri()
    assert "moved &lt;away&gt;" in page.read_text(encoding="utf-8")
