"""A browser without a screen: it asks as our own pages do, and reads what forms hold."""

import io
import re
from dataclasses import dataclass
from html import unescape
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
        page = self.get(path).get_data(as_text=True)
        found = next(one for one in page.split("<form")[1:] if f'action="{action}"' in one)
        own = found.split("</form>")[0]
        fields = {
            _value(tag, "name"): _value(tag, "value")
            for tag in re.findall(r"<input[^>]*>", own)
            if "name=" in tag
        }
        for name, options in re.findall(
            r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', own, re.S
        ):
            chosen = re.search(r"<option selected>(.*?)</option>", options)
            fields[name] = unescape(chosen[1]) if chosen else ""
        return fields


def _value(tag: str, name: str) -> str:
    found = re.search(rf'\b{name}="([^"]*)"', tag)
    return unescape(found[1]) if found else ""
