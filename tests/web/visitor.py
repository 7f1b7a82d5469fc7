"""A person without a script: opens pages, fills the forms that stand on them, sends them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from html.parser import HTMLParser
from http import HTTPStatus
from typing import Any
from urllib.parse import urlsplit

from flask.testing import FlaskClient
from werkzeug.test import TestResponse, encode_multipart

Pair = tuple[str, str]


@dataclass
class SentForm:
    """A form as a page gives it: where it goes, and what its controls hold."""

    action: str
    method: str
    pairs: list[Pair] = field(default_factory=list)

    def filled(self, typed: dict[str, str | Sequence[str]]) -> list[Pair]:
        """Return what is sent once some of its controls are filled."""
        kept = [pair for pair in self.pairs if pair[0] not in typed]
        return kept + [
            (name, value)
            for name, values in typed.items()
            for value in ([values] if isinstance(values, str) else values)
        ]


class _Reader(HTMLParser):
    """Reads the forms of a page, its title, heading, texts of errors and notices."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: list[SentForm] = []
        self.texts: dict[str, list[str]] = {"title": [], "h1": [], "error": [], "notice": []}
        self._inside: list[str] = []
        self._select = ""
        self._area = ""
        self._text: str | None = None
        self._templates = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        has = {name: value or "" for name, value in attrs}
        self._templates += tag == "template"
        if self._templates:
            return
        for name in self.texts:
            if tag == name or name in has.get("class", "").split():
                self.texts[name].append("")
                self._inside.append(f"{name} {tag}")
        if tag == "form":
            self.forms.append(SentForm(has.get("action", ""), has.get("method", "get")))
        elif self.forms and "name" in has and tag in {"input", "select", "textarea"}:
            self._control(tag, has)
        elif tag == "option" and self._select and self.forms:
            self._option(has)

    def handle_endtag(self, tag: str) -> None:
        self._templates -= tag == "template"
        if self._inside and self._inside[-1].endswith(f" {tag}"):
            self._inside.pop()
        if tag == "select":
            self._select = ""
        if tag == "textarea" and self._text is not None and self.forms:
            # What the browser leaves out: the line break right after the tag.
            self.forms[-1].pairs.append(
                (self._area, self._text.removeprefix("\r").removeprefix("\n"))
            )
        if tag == "textarea":
            self._text = None

    def handle_data(self, data: str) -> None:
        if self._text is not None:
            self._text += data
        for inside in self._inside:
            self.texts[inside.split()[0]][-1] += data

    def _control(self, tag: str, has: dict[str, str]) -> None:
        if tag == "select":
            self._select = has["name"]
            self._first = True
        elif tag == "textarea":
            self._area, self._text = has["name"], ""
        elif has.get("type") not in {"radio", "checkbox"} or "checked" in has:
            self.forms[-1].pairs.append((has["name"], has.get("value", "")))

    def _option(self, has: dict[str, str]) -> None:
        pairs = self.forms[-1].pairs
        if "selected" in has and not self._first:
            pairs.pop()
        if self._first or "selected" in has:
            pairs.append((self._select, has.get("value", "")))
        self._first = False


def multipart(form: Mapping[str, object]) -> dict[str, Any]:
    """Return what a browser sends for a form with a file, without a copy of it on the disk."""
    boundary, data = encode_multipart(form)
    return {"data": data, "content_type": f"multipart/form-data; boundary={boundary}"}


@dataclass
class Visitor:
    """Somebody with a browser that runs no script."""

    client: FlaskClient
    response: TestResponse = None  # type: ignore[assignment]  # until the first page is open

    def open(self, path: str) -> Visitor:
        """Open a page, following where it leads."""
        self.response = self.client.get(path, follow_redirects=True)
        return self

    def send(self, action: str = "", **typed: str | Sequence[str]) -> Visitor:
        """Fill the page's form (the one with this action, else the first) and send it."""
        form = next(form for form in self.forms if not action or form.action == action)
        target = form.action or self.path
        pairs = form.filled(typed)
        data: dict[str, list[str]] = {}
        for name, value in pairs:
            data.setdefault(name, []).append(value)
        self.response = self.client.post(target, data=data)
        if self.status == HTTPStatus.TEMPORARY_REDIRECT:  # a browser sends the form once more
            self.response = self.client.post(self.response.headers["Location"], data=data)
        if self.response.headers.get("Location"):
            self.open(self.response.headers["Location"])
        return self

    @property
    def path(self) -> str:
        """Where the visitor stands."""
        return urlsplit(self.response.request.url).path

    @property
    def status(self) -> int:
        """The status of the page."""
        return self.response.status_code

    @property
    def html(self) -> str:
        """The page."""
        # A table to be taken away is no text; what of it is, may be looked for.
        return self.response.get_data().decode("utf-8", "replace")

    @property
    def forms(self) -> list[SentForm]:
        """The forms of the page."""
        return self._read.forms

    @property
    def title(self) -> str:
        """The page's title."""
        return self._read.texts["title"][0]

    @property
    def heading(self) -> str:
        """The page's heading."""
        return self._read.texts["h1"][0].strip()

    @property
    def errors(self) -> list[str]:
        """The messages that stand beside controls."""
        return [" ".join(text.split()) for text in self._read.texts["error"]]

    @property
    def notices(self) -> list[str]:
        """The messages that stand above forms and pages."""
        return [" ".join(text.split()) for text in self._read.texts["notice"]]

    def value(self, name: str) -> str | None:
        """Return what a control holds."""
        found = [value for form in self.forms for field, value in form.pairs if field == name]
        return found[0] if found else None

    @property
    def _read(self) -> _Reader:
        reader = _Reader()
        reader.feed(self.html)
        return reader
