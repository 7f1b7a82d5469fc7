"""Typed text to a quantity in SI: one bounded pattern, then a look-up.

`6.4 kN`, `6,400 N`, `6 400 N`, `0,65 t` where the reader's decimals have a
comma.  What can be read in two ways is asked about, never guessed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from coursekit.quantities.errors import (
    AmbiguousNumber,
    AmbiguousTon,
    MissingUnit,
    NotANumber,
    OutOfBounds,
    TooLong,
    UnknownUnit,
    WrongDimension,
    quoted,
)
from coursekit.quantities.units import (
    Kind,
    Unit,
    find_unit,
    is_ambiguous_ton,
    si_factor,
    units_for,
)

LONGEST = 32
"""Characters of a typed quantity; no sensible one is longer."""

BOUND = 1e9
"""No load, mass or distance of a recovery reaches it in SI units: a slip of the keys."""

_SPACES = "\u00a0\u2009\u202f"  # no-break, thin and narrow no-break space
_ALIKE = str.maketrans(dict.fromkeys(_SPACES, " ") | {"\u2212": "-", "\u2019": "'"})
_TYPED = re.compile(
    r"(?P<number>[+-]?(?:[.,]?[0-9]|[ '](?=[0-9]))+)"
    r"(?:[eE](?P<exponent>[+-]?[0-9]{1,2}))?"
    r" *(?P<token>(?:[^\W\d_]|[%°])(?:[^\W\d_]|[-%°/·. ])*)?"
)
_POINT = re.compile(
    r"[+-]?(?:[0-9]*|[1-9][0-9]{0,2}(?P<mark>[ ',])[0-9]{3}(?:(?P=mark)[0-9]{3})*)(?:\.[0-9]+)?"
)
_GROUP = 3  # digits between two marks of the thousands
_TO_COMMA = str.maketrans(",.", ".,")


@dataclass(frozen=True)
class TypedNumber:
    """A number as typed, with the unit token beside it (empty where none was typed)."""

    text: str
    magnitude: Decimal
    token: str


@dataclass(frozen=True)
class Quantity:
    """What a person typed and what it was understood to be.

    `read_as` says how it was read where that is not plain from the text.
    """

    text: str
    magnitude: Decimal
    unit: Unit
    kind: Kind
    value: float
    read_as: str = ""

    @property
    def digits(self) -> int:
        """Return how many significant digits were typed.

        >>> parse_quantity("4.80 kN", Kind.FORCE).digits
        3
        """
        return len(self.magnitude.as_tuple().digits)

    @property
    def half_last_digit(self) -> float:
        """Return half a unit of the last digit typed, in SI.

        The zeros at the end of a whole number may only fill its places: they
        count as rounded.

        >>> parse_quantity("4.80 kN", Kind.FORCE).half_last_digit
        5.0
        >>> parse_quantity("4800 N", Kind.FORCE).half_last_digit
        50.0
        """
        last = _exponent(self.magnitude)
        if last >= 0:
            last = _exponent(self.magnitude.normalize())
        return float(Decimal(5).scaleb(last - 1) * si_factor(self.unit, self.kind))


def parse_quantity(
    text: str,
    kind: Kind,
    *,
    decimal_comma: bool | None = None,
    default_unit: str | None = None,
    example_unit: str | None = None,
) -> Quantity:
    """Return the quantity that the text states, or raise what is wrong with it.

    `decimal_comma` is True where decimals are written with a comma, False where
    with a point, and None where that is not known.  `default_unit` is a unit
    chosen beside the field; a unit typed in the text goes before it.
    `example_unit` is the unit of the examples in messages, the most common one where None.

    >>> parse_quantity("6,400 N", Kind.FORCE, decimal_comma=False).value
    6400.0
    >>> parse_quantity("650 kg", Kind.FORCE).read_as
    '650 kg read as its weight'
    >>> parse_quantity("2300 kN", Kind.MASS)
    Traceback (most recent call last):
    ...
    coursekit.quantities.errors.WrongDimension: 2300 kN is a force, a mass is needed. \
Write for example 2300 kg.
    """
    example = str(units_for(kind)[0]) if example_unit is None else example_unit
    typed = read_number(text, decimal_comma=decimal_comma, example_unit=example)
    unit = _unit(typed, kind, default_unit, example)
    value = typed.magnitude * si_factor(unit, kind)
    if abs(value) >= BOUND:
        raise OutOfBounds(
            text, f"{quoted(text)} is too large to be meant", "Look at the number and its unit"
        )
    return Quantity(text, typed.magnitude, unit, kind, float(value), _note(typed, unit, kind))


def read_number(
    text: str, *, decimal_comma: bool | None = None, example_unit: str = "kN"
) -> TypedNumber:
    """Return the number at the start of the text and the unit token after it.

    `example_unit` is that of the example in what is raised.

    >>> read_number("1 440 lbf")
    TypedNumber(text='1 440 lbf', magnitude=Decimal('1440'), token='lbf')
    """
    if len(text) > LONGEST:
        raise TooLong(text, f"{quoted(text)} is too long", "Write a number and a unit, no more")
    match = _TYPED.fullmatch(text.translate(_ALIKE).strip())
    if match is None:
        raise _not_a_number(text, example_unit)
    readings = _readings(match["number"], decimal_comma=decimal_comma)
    if not readings:
        raise _not_a_number(text, example_unit)
    if len(readings) > 1:
        raise _ambiguous(text, readings)
    magnitude = readings[0].scaleb(int(match["exponent"] or 0))
    return TypedNumber(text, magnitude, (match["token"] or "").strip())


def other_readings(quantity: Quantity) -> Iterator[tuple[Unit, float]]:
    """Yield what the same number would be in each other unit, in SI.

    >>> slip = parse_quantity("485 N", Kind.FORCE)
    >>> [(str(unit), round(value)) for unit, value in other_readings(slip)][:2]
    [('kN', 485000), ('kgf', 4756)]
    """
    seen = {quantity.value}
    for unit in units_for(quantity.kind):
        value = float(quantity.magnitude * si_factor(unit, quantity.kind))
        if value not in seen:
            seen.add(value)
            yield unit, value


def _readings(number: str, *, decimal_comma: bool | None) -> list[Decimal]:
    """Return what the digits can mean; the reader's own convention goes first."""
    with_point = _by_point(number)
    if decimal_comma is False:
        return [] if with_point is None else [with_point]
    with_comma = _by_point(number.translate(_TO_COMMA))
    if decimal_comma and with_comma is not None:
        return [with_comma]
    found = [reading for reading in (with_point, with_comma) if reading is not None]
    return found[:1] if len(set(found)) == 1 else found


def _by_point(number: str) -> Decimal | None:
    if _POINT.fullmatch(number) is None:
        return None
    return Decimal(re.sub("[ ',]", "", number))


def _unit(typed: TypedNumber, kind: Kind, default_unit: str | None, example: str) -> Unit:
    token = typed.token or default_unit or ""
    if not token and kind is not Kind.RATIO:
        raise MissingUnit(
            typed.text,
            f"{quoted(typed.text)} has no unit",
            f"Write for example {typed.text.strip()} {example}",
        )
    if is_ambiguous_ton(token):
        raise AmbiguousTon(
            typed.text,
            f"{quoted(typed.text)} does not say which ton",
            "Write tonne (1000 kg), short ton (2000 lb) or long ton (2240 lb)",
        )
    unit = find_unit(token)
    allowed = units_for(kind)
    if unit is None:
        named = ", ".join(str(each) for each in allowed[:6] if each.symbol)
        raise UnknownUnit(
            typed.text, f"{quoted(token)} is not a unit known here", f"Use one of {named}"
        )
    if unit not in allowed:
        raise WrongDimension(
            typed.text,
            f"{typed.text.strip()} is {unit.kind.phrase}, {kind.phrase} is needed",
            f"Write for example {typed.magnitude} {example}".rstrip(),
        )
    return unit


def _note(typed: TypedNumber, unit: Unit, kind: Kind) -> str:
    if kind is Kind.FORCE and unit.kind is Kind.MASS:
        return f"{typed.magnitude:f} {unit} read as its weight"
    return ""


def _exponent(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    return exponent if isinstance(exponent, int) else 0


def _not_a_number(text: str, example_unit: str) -> NotANumber:
    mend = f"Write for example 6.4 {example_unit}".rstrip()
    if not text.strip():
        return NotANumber(text, "Nothing was written", mend)
    return NotANumber(text, f"{quoted(text)} is not a number and a unit", mend)


def _ambiguous(text: str, readings: list[Decimal]) -> AmbiguousNumber:
    one, other = (_unmistakable(reading) for reading in readings)
    return AmbiguousNumber(
        text,
        f"{quoted(text)} may be {one} or {other}",
        f"Write {one} or {other}, and nothing between the thousands",
    )


def _unmistakable(number: Decimal) -> str:
    """Return the number so that no group of three digits stands behind its point."""
    shortest = number.normalize()
    return f"{shortest:f}0" if _exponent(shortest) == -_GROUP else f"{shortest:f}"
