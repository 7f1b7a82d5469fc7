"""A typed quantity as it was read, so that who typed it can check."""

from __future__ import annotations

from coursekit.quantities.display import show
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import parse_quantity
from coursekit.quantities.units import Kind
from coursekit.web.fields import decimal_comma


def read_back(typed: str, kind: Kind, force: str = "kN") -> str:
    """Return a typed quantity as it was read; nothing for what can't be read.

    A mass that was read as its weight is told in the unit of `force`.

    >>> read_back("650 kg", Kind.FORCE)
    '650 kg read as its weight: 6.37 kN'
    >>> read_back("650 lb", Kind.FORCE, "lbf")
    '650 lb read as its weight: 650 lbf'
    >>> read_back("18.6 kN", Kind.FORCE)
    '18.6 kN'
    """
    try:
        quantity = parse_quantity(typed, kind, decimal_comma=decimal_comma())
    except QuantityError:
        return ""
    if quantity.read_as:
        return f"{quantity.read_as}: {show(quantity.value, kind, force)}"
    return f"{quantity.magnitude:,f} {quantity.unit}".strip()
