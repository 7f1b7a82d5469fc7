"""Values of a scenario file as somebody types them into one control, and back.

Most values are a text.  The short lists and mappings of the format have a way
to be written on one line, as a person would say them: `sling-1 basket 40 deg,
bow-1` for the gear of a joint, `below 3 %, above 8 %` for a tolerance.  What has no
such words is written in the brackets of the file.  Nothing that is typed is
refused here: what makes no sense is written down as it is, and
the reading of the file tells why.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import Any

from coursekit.files.yaml_tree import parse_yaml
from coursekit.files.yaml_write import flow
from coursekit.problems import Problems

_LONG = frozenset({"long", "lines", "options"})
_PIECE = ("item", "hitch", "angle")


class Shape(StrEnum):
    """How a value is written in its control."""

    TEXT = "text"
    LONG = "long"
    NAMES = "names"
    LINES = "lines"
    PIECES = "pieces"
    PAIRS = "pairs"
    OPTIONS = "options"


def typed_of(shape: Shape, value: Any) -> str | None:
    """Return a value as its control shows it, None where the control would change it.

    >>> typed_of(Shape.PIECES, [{"item": "sling-1", "hitch": "basket", "angle": "40 deg"}, "bow-1"])
    'sling-1 basket 40 deg, bow-1'
    >>> typed_of(Shape.PAIRS, {"below": "3 %", "above": "8 %"}), typed_of(Shape.PAIRS, "5 %")
    ('below 3 %, above 8 %', '5 %')
    >>> typed_of(Shape.PAIRS, {"curve": [["10 %", "8 %"], ["30 %", "100 %"]]})
    '{curve: [[10 %, 8 %], [30 %, 100 %]]}'
    """
    if value is None:
        return ""
    if isinstance(value, str):
        text = value.strip()
        return None if _is_bracketed(shape, text) else text
    said = _said(shape, value) if value else ""
    if said is not None and (not value or value_of(shape, said) == value):
        return said
    text = flow(value)
    return text if value_of(shape, text) == value else None


def value_of(shape: Shape, text: str) -> Any:
    r"""Return the value that a text in a control stands for, None for a blank one.

    >>> value_of(Shape.NAMES, "22, -4"), value_of(Shape.LINES, "brief everyone\nwalk, and look")
    (['22', '-4'], ['brief everyone', 'walk, and look'])
    >>> value_of(Shape.OPTIONS, "go: pull now\nno-go: leave it")
    {'go': 'pull now', 'no-go': 'leave it'}
    """
    text = text.replace("\r\n", "\n").strip()
    if _is_bracketed(shape, text):
        return _in_brackets(text)
    return _MEANT[shape](text) if text else None


def _is_bracketed(shape: Shape, text: str) -> bool:
    return shape not in _LONG and text[:1] in {"{", "["}


def _in_brackets(text: str) -> Any:
    """Return what brackets hold as a file would, the text itself where a file would not."""
    try:
        tree = parse_yaml(text, "brackets")
    except Problems:
        return text
    return text if tree.problems else tree.data


def _said(shape: Shape, value: Any) -> str | None:
    """Return a list or a mapping as it is typed, None where the shape has no words for it."""
    if isinstance(value, list):
        parts = [_piece_said(part) if shape is Shape.PIECES else part for part in value]
        said = [part for part in parts if isinstance(part, str)]
        between = "\n" if shape is Shape.LINES else ", "
        return between.join(said) if len(said) == len(parts) else None
    if isinstance(value, Mapping) and all(isinstance(part, str) for part in value.values()):
        sign, between = (": ", "\n") if shape is Shape.OPTIONS else (" ", ", ")
        return between.join(f"{key}{sign}{part}" for key, part in value.items())
    return None


def _piece_said(piece: Any) -> str | None:
    if isinstance(piece, str):
        return piece
    if not isinstance(piece, Mapping) or not set(piece) <= set(_PIECE):
        return None
    return " ".join(str(piece[key]) for key in _PIECE if key in piece)


def _parts(text: str, sign: str) -> list[str]:
    return [part.strip() for part in text.split(sign) if part.strip()]


def _names(text: str) -> list[str]:
    return _parts(text, ",")


def _lines(text: str) -> list[str]:
    return _parts(text, "\n")


def _pieces(text: str) -> list[Any]:
    return [_piece(part) for part in _names(text)]


def _piece(text: str) -> str | dict[str, str]:
    words = text.split(None, 2)
    return words[0] if len(words) == 1 else dict(zip(_PIECE, words, strict=False))


def _pairs(text: str) -> str | dict[str, str]:
    """Return keys with their values; a text that begins with no key is one value."""
    words = [part.split(None, 1) for part in _names(text)]
    has_keys = all(len(each) > 1 and each[0][0].isalpha() for each in words)
    return {each[0]: each[1] for each in words} if has_keys else text


def _options(text: str) -> dict[str, str]:
    pairs = (line.partition(":") for line in _lines(text))
    return {key.strip(): value.strip() for key, _sign, value in pairs}


def _as_it_is(text: str) -> str:
    return text


_MEANT: Mapping[Shape, Callable[[str], Any]] = {
    Shape.TEXT: _as_it_is,
    Shape.LONG: _as_it_is,
    Shape.NAMES: _names,
    Shape.LINES: _lines,
    Shape.PIECES: _pieces,
    Shape.PAIRS: _pairs,
    Shape.OPTIONS: _options,
}
