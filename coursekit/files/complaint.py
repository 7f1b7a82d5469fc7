"""The error of one value, with what was wrong and how to mend it."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from pydantic_core import PydanticCustomError

OURS = "coursekit"
"""The type of an error that carries its own words."""

_LONGEST_COMPARED = 64


def complaint(what: str, mend: str, *, key: str = "") -> PydanticCustomError:
    """Return the error of a value; `key` names a key beside it that is missing."""
    return PydanticCustomError(OURS, "{what}. {mend}.", {"what": what, "mend": mend, "key": key})


def advice(text: str, known: Iterable[str]) -> str:
    """Return which of the known names to write, the nearest first.

    >>> advice("wetgrass", ["wet-grass", "gravel"])
    'Did you mean wet-grass? Known here: wet-grass, gravel'
    """
    names = list(known)
    if not names:
        return "Nothing is known here by a name: give it first"
    near = difflib.get_close_matches(text[:_LONGEST_COMPARED], names, n=1)
    asked = f"Did you mean {near[0]}? " if near else ""
    return f"{asked}Known here: {', '.join(names)}"


def text_of(value: object) -> str:
    """Return a single value as the text that a person would have written."""
    if isinstance(value, str):
        return value.strip()
    if isinstance(value, int | float) and not isinstance(value, bool):
        return repr(value)
    raise complaint("A single value is needed here", "Write a text or a number")
