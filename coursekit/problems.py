"""What is wrong with something a person gave us, where, and how to mend it.

The bottom layer: everything else may import it, it imports nothing of ours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any


@dataclass(frozen=True)
class Where:
    """The place of a problem: a field, and where known its line and file.

    >>> str(Where("stuck_vehicle.mass", line=7, file="ford-exit.yaml"))
    'ford-exit.yaml:7: stuck_vehicle.mass'
    >>> str(Where("stuck_vehicle.mass"))
    'stuck_vehicle.mass'
    """

    field: str
    line: int | None = None
    file: str | None = None

    def __str__(self) -> str:
        if self.file is None:
            return self.field if self.line is None else f"line {self.line}: {self.field}"
        return f"{self.file}:{self.line or 1}: {self.field}"


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong, worded for the person who can mend it.

    >>> print(Problem(Where("mass"), "2300 kN is a force", "Write for example 2300 kg"))
    mass: 2300 kN is a force. Write for example 2300 kg.
    """

    where: Where
    what: str
    mend: str

    def __str__(self) -> str:
        return f"{self.where}: {self.text}"

    @property
    def text(self) -> str:
        """What is wrong and how to mend it, for where the place is plain to see."""
        return f"{_sentence(self.what)} {_sentence(self.mend)}"

    def in_file(self, file: str, line: int | None = None) -> Problem:
        """Return the same problem with the file (and line, if none is known) named."""
        where = replace(self.where, file=file, line=self.where.line or line)
        return replace(self, where=where)


def _sentence(text: str) -> str:
    return text if text.endswith((".", "?", "!")) else f"{text}."


class CoursekitError(Exception):
    """The base of every error that the project raises on purpose."""


class Problems(CoursekitError, ValueError):
    """All problems of one piece of input, raised once.

    >>> raise Problems([Problem(Where("id"), "It is empty", "Give one")])
    Traceback (most recent call last):
    ...
    coursekit.problems.Problems: id: It is empty. Give one.
    """

    def __init__(self, items: Iterable[Problem]) -> None:
        self.items = tuple(items)
        super().__init__(self.items)

    def __str__(self) -> str:
        return "\n".join(str(item) for item in self.items)


def _as_it_stands(text: str) -> str:
    return text


# Words a value: (value, SI unit, "up" | "down" | "nearest") -> text with its unit.
Show = Callable[[float, str, str], str]


@dataclass(frozen=True)
class Amount:
    """A number of a message in SI, and the side that it rounds to: a load up, a capacity down.

    It is worded in the units of whoever reads it; by itself it stands in SI.
    """

    value: float
    unit: str
    rounds: str

    def __str__(self) -> str:
        return f"{self.value:.6g} {self.unit}"


@dataclass(frozen=True)
class Message:
    """A sentence for a person: a text that can be translated, and its numbers.

    >>> str(Message("{item} carries {load}.", {"item": "oak", "load": "16.5 kN"}))
    'oak carries 16.5 kN.'
    """

    template: str
    values: Mapping[str, object] = field(default_factory=dict)

    def text(self, translate: Callable[[str], str] = _as_it_stands) -> str:
        """Return the sentence, its text put through a translator first.

        A value may be a message too, such as the name of a slip in a sentence.
        """
        values = {
            name: value.text(translate) if isinstance(value, Message) else value
            for name, value in self.values.items()
        }
        return translate(self.template).format(**values)

    @classmethod
    def of(cls, document: Mapping[str, Any]) -> Message:
        """Return the message that was stored as plain data: its template and values.

        >>> inner = {"template": "cosine taken for sine", "values": {}}
        >>> stored = {"template": "Consistent with: {name}.", "values": {"name": inner}}
        >>> str(Message.of(stored))
        'Consistent with: cosine taken for sine.'
        """
        values = {
            name: cls.of(value) if isinstance(value, Mapping) else value
            for name, value in document["values"].items()
        }
        return cls(document["template"], values)

    def named(self, names: Mapping[str, str]) -> Message:
        """Return the same message with ids, also in a list, replaced by names.

        >>> said = Message("Nothing is wrong with {fit}.", {"fit": "bow-1, oak"})
        >>> str(said.named({"bow-1": "Bow 1", "oak": "the oak"}))
        'Nothing is wrong with Bow 1, the oak.'
        """

        def name(value: object) -> object:
            if isinstance(value, Message):
                return value.named(names)
            if not isinstance(value, str):
                return value
            return ", ".join(names.get(part, part) for part in value.split(", "))

        return replace(self, values={key: name(value) for key, value in self.values.items()})

    def shown(self, show: Show) -> Message:
        """Return the same message with its amounts worded.

        >>> said = Message("The way is {way}.", {"way": Amount(10.0, "m", "up")})
        >>> str(said), str(said.shown(lambda value, unit, rounds: f"{value / 0.3048:.1f} ft"))
        ('The way is 10 m.', 'The way is 32.8 ft.')
        """
        values = {
            name: show(value.value, value.unit, value.rounds)
            if isinstance(value, Amount)
            else value
            for name, value in self.values.items()
        }
        return replace(self, values=values)

    def __str__(self) -> str:
        return self.text()
