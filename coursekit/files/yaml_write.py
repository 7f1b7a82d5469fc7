"""Plain data as YAML text that the strict reader reads back as it was."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from coursekit.files.yaml_tree import NULLS

WIDTH = 78
"""Columns of a folded text; a short mapping or list on one line may be a bit longer."""

_INLINE = 96
_INLINE_LEVELS = 2
_STEP = 2

_FIRST = re.compile(r"[^\s\-?:,\[\]{}#&*!|>'\"%@`]|-[^\s\-]")
_BREAKS_PLAIN = re.compile(r": |:$| #|[^ -~\u00a1-\u02ff\u0370-\u1fff\u2190-\u22ff]")
_BREAKS_FLOW = re.compile(r"[,\[\]{}:?]")
_ESCAPED = re.compile(r'[\\"]|[^ -~\u00a1-\u02ff\u0370-\u1fff\u2010-\u2027\u2030-\ud7ff]')
_SINGLE_SPACE = re.compile(r"(?<=\S) (?=\S)")


def scalar(text: str, *, in_flow: bool = False) -> str:
    """Return a text as one scalar on one line, plain where that is safe.

    >>> scalar("2650 kg"), scalar("a: b"), scalar("30 %, wet", in_flow=True), scalar("~")
    ('2650 kg', '"a: b"', '"30 %, wet"', '"~"')
    """
    is_plain = (
        _FIRST.match(text)
        and text == text.strip()
        and text not in NULLS
        and not _BREAKS_PLAIN.search(text)
        and not (in_flow and _BREAKS_FLOW.search(text))
    )
    return text if is_plain else f'"{_ESCAPED.sub(_escape, text)}"'


def flow(value: Any) -> str:
    """Return data on one line.

    >>> flow({"kind": "hook", "condition": ["cut", "no-label"]})
    '{kind: hook, condition: [cut, no-label]}'
    """
    if isinstance(value, Mapping):
        # An empty value keeps the blank after its colon: without it the colon ends a name.
        entries = (f"{scalar(key, in_flow=True)}: {flow(part)}" for key, part in value.items())
        return "{" + ", ".join(entries) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(part) or '""' for part in value) + "]"
    return "" if value is None else scalar(value, in_flow=True)


def after_key(value: Any, indent: int, *, spread: bool = False) -> str:
    r"""Return what follows `key:`; `indent` is the column of what it holds.

    A short value stands on the same line; `spread` gives each entry a line of
    its own all the same.

    >>> after_key({"oak": {"kind": "tree"}}, 2, spread=True)
    '\n  oak: {kind: tree}'
    >>> after_key({"oak": {"kind": "tree"}}, 2)
    ' {oak: {kind: tree}}'
    """
    if isinstance(value, str):
        return f" {_text(value, indent)}"
    if value is None:
        return ""
    if not value or (not spread and _fits(value, indent)):
        return f" {flow(value)}"
    return "\n" + block(value, indent)


def block(value: Any, indent: int) -> str:
    """Return the entries of a mapping or a list, each on lines of its own."""
    pad = " " * indent
    if isinstance(value, Mapping):
        return "\n".join(
            f"{pad}{scalar(key)}:{after_key(part, indent + _STEP)}" for key, part in value.items()
        )
    return "\n".join(f"{pad}-{after_dash(part, indent + _STEP)}" for part in value)


def after_dash(value: Any, indent: int) -> str:
    """Return what follows the dash of a list; `indent` is the column of what it holds."""
    if isinstance(value, str | None) or not value or _fits(value, indent):
        return after_key(value, indent)
    return " " + block(value, indent).lstrip(" ")


def folded(text: str, indent: int, header: str = ">-") -> str | None:
    r"""Return a text folded into lines, None where folding would change it.

    >>> folded("one\ntwo", 2)
    '>-\n  one\n\n  two'
    """
    lines = text.split("\n")
    is_clean = lines[0] and lines[-1] and all(line == line.strip() for line in lines)
    if not is_clean or _ESCAPED.search(re.sub(r'[\\"\n]', "", text)):
        return None
    spread = re.sub(r"\n+", lambda breaks: breaks.group() + "\n", text)
    pad = " " * indent
    wrapped = (part for line in spread.split("\n") for part in _wrapped(line, WIDTH - indent))
    return "\n".join([header, *(f"{pad}{part}".rstrip() for part in wrapped)])


def _text(text: str, indent: int) -> str:
    is_long = "\n" in text or len(text) > WIDTH - indent
    return (folded(text, indent) if is_long else None) or scalar(text)


def _wrapped(line: str, width: int) -> list[str]:
    """Return a line in pieces, broken at single spaces alone."""
    pieces: list[str] = []
    for word in _SINGLE_SPACE.split(line):
        if pieces and len(pieces[-1]) + 1 + len(word) <= width:
            pieces[-1] += f" {word}"
        else:
            pieces.append(word)
    return pieces


def _fits(value: Any, indent: int) -> bool:
    return _levels(value) <= _INLINE_LEVELS and indent + len(flow(value)) <= _INLINE


def _levels(value: Any) -> int:
    if isinstance(value, Mapping):
        return 1 + max(map(_levels, value.values()), default=0)
    return max(map(_levels, value), default=0) if isinstance(value, list) else 0


def _escape(found: re.Match[str]) -> str:
    character = found.group()
    if character in '\\"':
        return f"\\{character}"
    code = ord(character)
    named = {"\n": "\\n", "\t": "\\t", "\r": "\\r"}.get(character)
    if named:
        return named
    if code <= 0xFF:  # noqa: PLR2004  the widths of YAML's three escapes
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"  # noqa: PLR2004
