"""Values of a document without a unit: numbers, truth values, dates, texts and names.

A file gives all of them as text; stored documents may hold numbers and truth
values, so both are read.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import date
from typing import Annotated, Any

from pydantic import PlainSerializer, PlainValidator, ValidationInfo

from coursekit.files.complaint import advice, complaint, text_of
from coursekit.files.outline import Outline
from coursekit.quantities.errors import QuantityError, quoted
from coursekit.quantities.parse import read_number

MOST = 1000
"""No count and no marks are above it."""

_IDENTIFIER = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,62}")
_SCENARIO_ID = re.compile(r"[a-z0-9][a-z0-9-]{0,62}")
_FARTHEST = 100_000.0
_AXES = 2


def plain_number(value: object) -> float:
    """Return a number that has no unit."""
    text = text_of(value)
    try:
        typed = read_number(text, decimal_comma=False)
    except QuantityError:
        raise complaint(f"{quoted(text)} is not a number", "Write a number") from None
    if typed.token:
        raise complaint(f"{quoted(text)} is more than a number", "Write the number alone")
    return float(typed.magnitude)


def _marks(value: object) -> float:
    number = plain_number(value)
    if not 0.0 < number <= MOST:
        raise complaint(f"{number:g} marks can't be given", f"Write a number above 0, to {MOST}")
    return number


def _marks_from_zero(value: object) -> float:
    return 0.0 if plain_number(value) == 0.0 else _marks(value)


def _count(least: int) -> Callable[[object], int]:
    def read(value: object) -> int:
        number = plain_number(value)
        if not number.is_integer() or not least <= number <= MOST:
            raise complaint(f"{number:g} can't be meant", f"Write a whole number from {least} on")
        return int(number)

    return read


def _position(value: object) -> tuple[float, float]:
    if not isinstance(value, list | tuple) or len(value) != _AXES:
        raise complaint("A place is two numbers", "Write [east, north] in metres, as in [22, 0]")
    east, north = (plain_number(number) for number in value)
    if max(abs(east), abs(north)) > _FARTHEST:
        raise complaint("It is too far away to be meant", "Count metres from a point on the site")
    return east, north


def _flag(value: object) -> bool:
    text = str(value).strip().lower() if isinstance(value, bool | str) else ""
    if text not in {"true", "false"}:
        raise complaint("It is neither true nor false", "Write true or false")
    return text == "true"


def _date(value: object) -> date:
    if isinstance(value, date):
        return value
    text = text_of(value)
    try:
        return date.fromisoformat(text)
    except ValueError:
        mend = "Write year-month-day, as in 2024-05-31"
        raise complaint(f"{quoted(text)} is no date", mend) from None


def _text(value: object) -> str:
    text = text_of(value)
    if not text:
        raise complaint("It is empty", "Write a text")
    return text


def _identifier(value: object) -> str:
    text = text_of(value)
    if _IDENTIFIER.fullmatch(text) is None:
        mend = "Use letters, digits and hyphens, at most 63 of them"
        raise complaint(f"{quoted(text)} is no name to refer to", mend)
    return text


def outline(info: ValidationInfo) -> Outline:
    """Return the outline of the document that is being read."""
    context: Any = info.context
    return context if isinstance(context, Outline) else Outline()


def _scenario_id(value: object, info: ValidationInfo) -> str:
    text = text_of(value)
    if _SCENARIO_ID.fullmatch(text) is None:
        raise complaint(f"{quoted(text)} is no id", "Use lower case, digits and hyphens")
    stem = outline(info).stem
    if stem is not None and text != stem:
        raise complaint(f"The id is {text}, and the file is named {stem}", "Give both one name")
    return text


def one_of(known: Iterable[str], what: str) -> PlainValidator:
    """Return the reader of a name that stands in a list."""
    names = tuple(known)

    def read(value: object) -> str:
        text = text_of(value)
        if text not in names:
            raise complaint(f"{quoted(text)} is no {what} known here", advice(text, names))
        return text

    return PlainValidator(read)


def listed(value: object) -> object:
    """Return a list also where one text stands alone."""
    return [value] if isinstance(value, str) else value


Marks = Annotated[float, PlainValidator(_marks)]
MarksFromZero = Annotated[float, PlainValidator(_marks_from_zero)]
CountFromZero = Annotated[int, PlainValidator(_count(0))]
CountFromOne = Annotated[int, PlainValidator(_count(1))]
Place = Annotated[tuple[float, float], PlainValidator(_position), PlainSerializer(list)]
Flag = Annotated[bool, PlainValidator(_flag)]
Date = Annotated[date, PlainValidator(_date), PlainSerializer(date.isoformat, return_type=str)]
Text = Annotated[str, PlainValidator(_text)]
Identifier = Annotated[str, PlainValidator(_identifier)]
ScenarioId = Annotated[str, PlainValidator(_scenario_id)]
