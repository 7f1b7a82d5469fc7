"""What a printed sheet holds: facts, texts, tables and figures under a title.

All texts come in as they are to be read; nothing here is translated.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Paper = Literal["A4", "Letter"]


@dataclass(frozen=True)
class Facts:
    """Names with their values, under a heading of its own if there is one."""

    rows: Sequence[tuple[str, str]]
    heading: str = ""


@dataclass(frozen=True)
class Text:
    """A paragraph; one that warns stands in a frame with a bar at its side."""

    text: str
    heading: str = ""
    warns: bool = False


@dataclass(frozen=True)
class Table:
    """Rows under a head that comes again on every page; `widths` are shares, equal if empty."""

    head: Sequence[str]
    rows: Sequence[Sequence[str]]
    heading: str = ""
    widths: Sequence[float] = ()
    numbers: frozenset[int] = frozenset()
    """The columns that hold numbers, set to the right."""


@dataclass(frozen=True)
class Figure:
    """A picture as PNG, with a description for those who do not see it."""

    png: bytes
    description: str
    heading: str = ""
    width: float = 1.0
    """Its share of the width of the text."""


@dataclass(frozen=True)
class NewPage:
    """What follows begins on a page of its own."""


Part = Facts | Text | Table | Figure | NewPage


@dataclass(frozen=True)
class Sheet:
    """What is to be printed.

    `kind` and `school` stand at the head of each page, `caution` at its foot
    beside `page_of`, in which {page} and {pages} are put in.
    """

    title: str
    kind: str
    school: str
    caution: str
    at: datetime
    parts: Sequence[Part]
    language: str = "en"
    paper: Paper = "A4"
    page_of: str = "{page} / {pages}"
