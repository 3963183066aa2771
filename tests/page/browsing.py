"""A browser without a screen: it asks as our own pages do, and reads what forms hold."""

import io
import re
from dataclasses import dataclass
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

from flask.testing import FlaskClient

PORT = 8765
HERE = f"http://127.0.0.1:{PORT}"


@dataclass
class Browsing:
    """A client that sends what a browser sends."""

    client: FlaskClient
    folder: Path

    def get(self, path: str):
        """Ask for a page."""
        return self.client.get(path, base_url=HERE)

    def post(self, path: str, **fields: str):
        """Send a form, as our own page would."""
        return self.client.post(path, base_url=HERE, data=fields, headers={"Origin": HERE})

    def choose(self, table: str, name: str, data: bytes):
        """Choose a file, as the form for tables does."""
        fields = {"table": table, "file": (io.BytesIO(data), name)}
        headers = {"Origin": HERE}
        return self.client.post("/exchange/choose", base_url=HERE, data=fields, headers=headers)

    def said(self) -> list[str]:
        """Return the sentences at the top of the next page."""
        page = self.get("/orders").get_data(as_text=True)
        return [unescape(one) for one in re.findall(r'<p class="said"[^>]*>(.*?)</p>', page)]

    def form(self, path: str, action: str) -> dict[str, str]:
        """Return what a page's form would send if nothing were typed into it."""
        forms = Forms()
        forms.feed(self.get(path).get_data(as_text=True))
        return next(fields for where, fields in forms.found if where == action)


class Forms(HTMLParser):
    """The forms of a page: what each sends to, and what it would send as it stands."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str]]] = []
        self._fields: dict[str, str] = {}
        self._select = ""
        self._is_first = False
        self._option: str | None = None

    def handle_starttag(self, tag, attrs):
        """Read what a browser would take from a tag."""
        given = dict(attrs)
        name, value = given.get("name") or "", given.get("value")
        if tag == "form":
            self._fields = {}
            self.found.append((given.get("action") or "", self._fields))
        elif tag == "input" and name:
            if given.get("type") not in ("radio", "checkbox") or "checked" in given:
                self._fields[name] = value or ""
        elif tag == "select":
            self._select, self._is_first = name, True
        elif tag == "option" and self._select:
            if self._is_first or "selected" in given:
                self._fields[self._select] = value or ""
                self._option = None if value is not None else self._select
            self._is_first = False

    def handle_data(self, data):
        """Take an option's words where it has no value of its own."""
        if self._option:
            self._fields[self._option] += data

    def handle_endtag(self, tag):
        """End an option or what it was chosen from."""
        if tag == "option":
            self._option = None
        elif tag == "select":
            self._select = ""
