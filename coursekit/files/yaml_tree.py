"""YAML as plain data with the line of every field; nothing in it is trusted.

Scalars stay the text that stands in the file: units are read by `quantities`,
and a `no` or a `0.70` keeps its spelling.  The parser's events are taken as they
come, so neither tags nor anchors nor depth ever reach a constructor.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    Event,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
)

from coursekit.files.reading import WHOLE_FILE, Unreadable, unreadable
from coursekit.problems import Problem, Problems, Where

DEEPEST = 20
"""Levels of a file; the deepest of a scenario has ten."""

NULLS = frozenset({"", "~", "null", "Null", "NULL"})

FieldPath = tuple[str | int, ...]


def dotted(path: FieldPath) -> str:
    """Return the field of a path.

    >>> dotted(("rigs", "given", "lines", 0, "from"))
    'rigs.given.lines.0.from'
    """
    return ".".join(str(part) for part in path) or WHOLE_FILE


@dataclass(frozen=True)
class Tree:
    """The data of a file, the line of each field, and what may not stand in a file."""

    data: Any
    file: str | None = None
    lines: Mapping[FieldPath, int] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()

    def where(self, path: FieldPath) -> Where:
        """Return the place of a field; one that is not there stands at its parent's line."""
        present = path
        while present and present not in self.lines:
            present = present[:-1]
        return Where(dotted(path), self.lines.get(present), self.file)


def parse_yaml(text: str, file: str) -> Tree:
    """Return the data of a YAML text with its lines; raise where it can't be read on.

    >>> parse_yaml("mass: 2650 kg", "truck.yaml").data
    {'mass': '2650 kg'}
    """
    builder = _Builder(file)
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            builder.take(event)
    except YAMLError as error:
        raise _not_yaml(error, text, file) from None
    if builder.root is None:
        empty = Problem(Where(WHOLE_FILE, 1, file), "It is empty", "Write the file by its format")
        raise Problems(builder.problems or [empty])
    return Tree(builder.root, file, builder.lines, tuple(builder.problems))


def _not_yaml(error: YAMLError, text: str, file: str) -> Unreadable:
    if isinstance(error, MarkedYAMLError) and error.problem_mark is not None:
        line = error.problem_mark.line + 1
        what, mend = str(error.problem), "Look at the indent, the colons and the quotes there"
    else:
        line = text.count("\n", 0, getattr(error, "position", 0)) + 1
        what, mend = "it holds a character that can't be printed", "Take it out"
    return unreadable(file, f"It is not YAML: {what}", mend, line)


@dataclass
class _Open:
    """A mapping or a list that is being read."""

    path: FieldPath
    items: dict[str, Any] | list[Any]
    seen: dict[str, int] = field(default_factory=dict)
    key: str | None = None

    @property
    def awaits_key(self) -> bool:
        return isinstance(self.items, dict) and self.key is None

    @property
    def next_path(self) -> FieldPath:
        return (*self.path, len(self.items) if self.key is None else self.key)

    def put(self, value: Any) -> None:
        """Add the value of the key, or the next of the list; of two alike the first stays."""
        if isinstance(self.items, list):
            self.items.append(value)
        elif self.key is not None:
            self.items.setdefault(self.key, value)
            self.key = None


class _Builder:
    """Builds plain data of events, and notes what may not stand in a file."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.root: Any = None
        self.lines: dict[FieldPath, int] = {}
        self.problems: list[Problem] = []
        self._documents = 0
        self._open: list[_Open] = []

    def take(self, event: Event) -> None:
        """Take the next event of the parser."""
        if isinstance(event, DocumentStartEvent):
            self._start_document(event)
        elif isinstance(event, CollectionEndEvent):
            self._open.pop()
        elif isinstance(event, NodeEvent):
            if self._open and self._open[-1].awaits_key:
                self._take_key(event, self._open[-1])
            else:
                self._take_value(event)

    def _start_document(self, event: DocumentStartEvent) -> None:
        self._documents += 1
        if self._documents > 1:
            self._note((), event, "A second document begins here", "Keep one document a file")
            raise Problems(self.problems)

    def _take_key(self, event: NodeEvent, mapping: _Open) -> None:
        value = _value_of(event)
        if not isinstance(value, str):
            self._note(mapping.path, event, "A key is not plain text", "Write key: value")
            raise Problems(self.problems)
        path = (*mapping.path, value)
        self._refuse_tag_and_anchor(event, path)
        if value in mapping.seen:
            what = f"{value} stands twice, here and on line {mapping.seen[value]}"
            self._note(path, event, what, "Keep one of them")
        mapping.seen.setdefault(value, _line(event))
        self.lines.setdefault(path, _line(event))
        mapping.key = value

    def _take_value(self, event: NodeEvent) -> None:
        path = self._open[-1].next_path if self._open else ()
        self.lines.setdefault(path, _line(event))
        self._refuse_tag_and_anchor(event, path)
        value = _value_of(event)
        if self._open:
            self._open[-1].put(value)
        else:
            self.root = value
        if isinstance(event, CollectionStartEvent):
            self._descend(event, path, value)

    def _descend(self, event: CollectionStartEvent, path: FieldPath, value: Any) -> None:
        if len(self._open) >= DEEPEST:
            what = f"It is nested more than {DEEPEST} levels deep"
            self._note(path[:3], event, what, "Write it by the format, which is flatter")
            raise Problems(self.problems)
        self._open.append(_Open(path, value))

    def _refuse_tag_and_anchor(self, event: NodeEvent, path: FieldPath) -> None:
        tag = getattr(event, "tag", None)
        if isinstance(event, AliasEvent):
            what = f"*{event.anchor} repeats another part of the file"
            self._note(path, event, what, "Write that part out here")
        elif event.anchor is not None:
            self._note(path, event, f"&{event.anchor} is an anchor", "Take it out")
        if tag is not None:
            self._note(path, event, f"{tag} is a tag", "Take it out: plain text is enough")

    def _note(self, path: FieldPath, event: Event, what: str, mend: str) -> None:
        where = Where(dotted(path), _line(event), self.file)
        self.problems.append(Problem(where, what, mend))


def _value_of(event: NodeEvent) -> Any:
    if isinstance(event, MappingStartEvent):
        return {}
    if isinstance(event, CollectionStartEvent):
        return []
    if not isinstance(event, ScalarEvent):
        return None
    is_plain = event.style in {None, ""}
    return None if is_plain and event.value in NULLS else event.value


def _line(event: Event) -> int:
    return int(event.start_mark.line) + 1
