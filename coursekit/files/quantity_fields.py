"""Quantities of a document: the text that stands there, and what it is in SI."""

from __future__ import annotations

from typing import Annotated

from pydantic import PlainSerializer, PlainValidator

from coursekit.files.complaint import complaint, text_of
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import Quantity, parse_quantity
from coursekit.quantities.units import Kind


def read_as(kind: Kind, value: object) -> Quantity:
    """Return a quantity of the kind from its text; files write decimals with a point."""
    if isinstance(value, Quantity):
        return value
    try:
        return parse_quantity(text_of(value), kind, decimal_comma=False)
    except QuantityError as error:
        raise complaint(error.what, error.mend) from None


def _reader(kind: Kind, *, zero: bool = False, least: str = "", most: str = "") -> PlainValidator:
    """Return the reader of a quantity above zero (or from zero on), from `least` to `most`."""

    def read(value: object) -> Quantity:
        quantity = read_as(kind, value)
        if quantity.value < 0.0 or (quantity.value == 0.0 and not zero):
            bound = "zero or more" if zero else "above zero"
            raise complaint(f"{quantity.text} is not {bound}", f"Write {kind.phrase} {bound}")
        if least and quantity.value < read_as(kind, least).value:
            raise complaint(f"{quantity.text} is under {least}", f"Write {least} at least")
        if most and quantity.value > read_as(kind, most).value:
            raise complaint(f"{quantity.text} is over {most}", f"Write {most} at most")
        return quantity

    return PlainValidator(read)


_AS_TEXT = PlainSerializer(lambda quantity: quantity.text, return_type=str)
_FROM_ZERO = _reader(Kind.FORCE, zero=True)

# The kind stands beside its reader, so that a range of the field can be read by it.
Mass = Annotated[Quantity, Kind.MASS, _reader(Kind.MASS), _AS_TEXT]
Force = Annotated[Quantity, Kind.FORCE, _reader(Kind.FORCE), _AS_TEXT]
ForceFromZero = Annotated[Quantity, Kind.FORCE, _FROM_ZERO, _AS_TEXT]
Length = Annotated[Quantity, Kind.LENGTH, _reader(Kind.LENGTH), _AS_TEXT]
Speed = Annotated[Quantity, Kind.SPEED, _reader(Kind.SPEED, zero=True), _AS_TEXT]
Share = Annotated[Quantity, Kind.RATIO, _reader(Kind.RATIO, most="100 %"), _AS_TEXT]
ShareFromZero = Annotated[
    Quantity, Kind.RATIO, _reader(Kind.RATIO, zero=True, most="100 %"), _AS_TEXT
]
SpreadShare = Annotated[Quantity, Kind.RATIO, _reader(Kind.RATIO, zero=True, most="50 %"), _AS_TEXT]
Factor = Annotated[Quantity, Kind.RATIO, _reader(Kind.RATIO, most="20"), _AS_TEXT]
Exponent = Annotated[Quantity, Kind.RATIO, _reader(Kind.RATIO, most="10"), _AS_TEXT]


def _angle(most: str) -> PlainValidator:
    return _reader(Kind.ANGLE, zero=True, most=most)


Bearing = Annotated[Quantity, Kind.ANGLE, _angle("360 deg"), _AS_TEXT]
Slope = Annotated[Quantity, Kind.ANGLE, _angle("60 deg"), _AS_TEXT]
SpreadAngle = Annotated[Quantity, Kind.ANGLE, _angle("10 deg"), _AS_TEXT]
LegAngle = Annotated[Quantity, Kind.ANGLE, _angle("180 deg"), _AS_TEXT]

# The depths of the table of buried logs.
TableDepth = Annotated[
    Quantity, Kind.LENGTH, _reader(Kind.LENGTH, least="3 ft", most="7 ft"), _AS_TEXT
]
