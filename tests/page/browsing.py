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
        return self.form_of(self.get(path), action)

    def form_of(self, answer, action: str) -> dict[str, str]:
        """Return what a form of an answer would send if nothing were typed into it."""
        return next(form.fields for form in forms_of(answer) if form.action == action)


def forms_of(answer) -> list["Form"]:
    """Return the forms of an answer."""
    forms = Forms()
    forms.feed(answer.get_data(as_text=True))
    return forms.found


@dataclass
class Form:
    """What a form sends where, as it stands, and which of its fields somebody types in."""

    action: str
    method: str
    fields: dict[str, str]
    typed: set[str]


class Forms(HTMLParser):
    """The forms of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[Form] = []
        self._fields: dict[str, str] = {}
        self._select = ""
        self._is_first = False
        self._words = ""  # the field whose value is the words that follow

    def handle_starttag(self, tag, attrs):
        """Read what a browser would take from a tag."""
        given = dict(attrs)
        name, value = given.get("name") or "", given.get("value")
        if tag == "form":
            self._fields = {}
            action, method = given.get("action") or "", given.get("method") or "get"
            self.found.append(Form(action, method, self._fields, set()))
        elif tag == "input" and name and given.get("type") != "file":
            if given.get("type") not in ("radio", "checkbox", "hidden"):
                self.found[-1].typed.add(name)
            if given.get("type") not in ("radio", "checkbox") or "checked" in given:
                self._fields[name] = value or ""
        elif tag == "textarea":
            self.found[-1].typed.add(name)
            self._fields[name], self._words = "", name
        elif tag == "select":
            self._select, self._is_first = name, True
        elif tag == "option" and self._select:
            if self._is_first or "selected" in given:
                self._fields[self._select] = value or ""
                self._words = "" if value is not None else self._select
            self._is_first = False

    def handle_data(self, data):
        """Take the words of a field that has no value besides."""
        if self._words:
            self._fields[self._words] += data

    def handle_endtag(self, tag):
        """End a field; a browser drops the line break that a text begins with."""
        if tag == "textarea" and self._words:
            self._fields[self._words] = self._fields[self._words].removeprefix("\n")
        if tag in ("option", "textarea"):
            self._words = ""
        elif tag == "select":
            self._select = ""
