"""The units that people type, and what each is in SI.

A token is looked up here and nowhere else; only the `pint` names of this table
ever reach the unit library.  A mass is a mass: where a force is wanted it is
read as that mass's weight, by `parse`.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry


class Kind(Enum):
    """A kind of quantity; the value is its SI unit, as `pint` writes it."""

    FORCE = "N"
    MASS = "kg"
    LENGTH = "m"
    ANGLE = "rad"
    SPEED = "m/s"
    RATIO = "dimensionless"
    ENERGY = "J"
    STIFFNESS = "N/m"

    @classmethod
    def of_si(cls, unit: str) -> Kind:
        """Return the kind whose SI unit this is, as the formulas write it.

        >>> Kind.of_si("N/m"), Kind.of_si("-")
        (<Kind.STIFFNESS: 'N/m'>, <Kind.RATIO: 'dimensionless'>)
        """
        return cls.RATIO if unit in {"-", "count"} else cls(unit)

    @property
    def phrase(self) -> str:
        """Return the kind with its article, for a sentence."""
        word = self.name.lower()
        return f"an {word}" if word[0] in "aeiou" else f"a {word}"


@dataclass(frozen=True)
class Unit:
    """A unit as it is shown, its kind, its name in pint, and how else it is typed."""

    symbol: str
    kind: Kind
    pint_name: str
    typed: tuple[str, ...] = ()

    @property
    def factor(self) -> Decimal:
        """Return how many SI units one of it is, exactly.

        >>> unit_of("lbf").factor
        Decimal('4.4482216152605')
        """
        return _factor(self.pint_name, self.kind.value)

    def __str__(self) -> str:
        return self.symbol


# The first of a kind serves as its example, the order is that of common use.
UNITS: tuple[Unit, ...] = (
    Unit("kN", Kind.FORCE, "kilonewton", ("kilonewton", "kilonewtons")),
    Unit("N", Kind.FORCE, "newton", ("newton", "newtons")),
    Unit("kgf", Kind.FORCE, "kilogram_force", ("kg-f", "kg force", "kp")),
    Unit("lbf", Kind.FORCE, "pound_force", ("lbs force", "pound force", "pounds force")),
    Unit("daN", Kind.FORCE, "decanewton", ("decanewton", "decanewtons")),
    Unit("tf", Kind.FORCE, "metric_ton * standard_gravity", ("tonne-force", "tonnes-force")),
    Unit("kip", Kind.FORCE, "kip", ("kips",)),
    Unit("MN", Kind.FORCE, "meganewton", ("meganewton", "meganewtons")),
    Unit("kg", Kind.MASS, "kilogram", ("kgs", "kilo", "kilos", "kilogram", "kilograms")),
    Unit("t", Kind.MASS, "metric_ton", ("te", "tonne", "tonnes", "metric ton", "metric tons")),
    Unit("lb", Kind.MASS, "pound", ("lbs", "pound", "pounds")),
    Unit("short ton", Kind.MASS, "short_ton", ("short tons", "us ton", "us tons")),
    Unit("long ton", Kind.MASS, "long_ton", ("long tons", "uk ton", "uk tons")),
    Unit("m", Kind.LENGTH, "meter", ("metre", "metres", "meter", "meters")),
    Unit("ft", Kind.LENGTH, "foot", ("foot", "feet")),
    Unit("cm", Kind.LENGTH, "centimeter", ("centimetre", "centimetres", "centimeters")),
    Unit("mm", Kind.LENGTH, "millimeter", ("millimetre", "millimetres", "millimeters")),
    Unit("in", Kind.LENGTH, "inch", ("inch", "inches")),
    Unit("km", Kind.LENGTH, "kilometer", ("kilometre", "kilometres", "kilometers")),
    Unit("°", Kind.ANGLE, "degree", ("deg", "degs", "degree", "degrees")),
    Unit("rad", Kind.ANGLE, "radian", ("radian", "radians")),
    Unit("m/s", Kind.SPEED, "meter / second", ("mps", "metres per second", "meters per second")),
    Unit("km/h", Kind.SPEED, "kilometer / hour", ("kmh", "kph", "km/hr")),
    Unit("mph", Kind.SPEED, "mile / hour", ("mi/h", "miles per hour")),
    Unit("ft/s", Kind.SPEED, "foot / second", ("fps", "feet per second")),
    Unit("", Kind.RATIO, "dimensionless"),
    Unit("%", Kind.RATIO, "percent", ("percent", "per cent", "pct")),
    Unit("kJ", Kind.ENERGY, "kilojoule", ("kilojoule", "kilojoules")),
    Unit("J", Kind.ENERGY, "joule", ("joule", "joules")),
    Unit("ft·lbf", Kind.ENERGY, "foot * pound_force", ("ft lbf", "ft-lbf", "ft lb", "ft-lb")),
    Unit("kN/m", Kind.STIFFNESS, "kilonewton / meter"),
    Unit("N/m", Kind.STIFFNESS, "newton / meter"),
    Unit("N/mm", Kind.STIFFNESS, "newton / millimeter"),
    Unit("lbf/ft", Kind.STIFFNESS, "pound_force / foot"),
)

# A capital T stands on labels for the tonne and, elsewhere, for the short ton.
AMBIGUOUS_TONS = frozenset({"ton", "tons", "tonf", "ton-force", "tons-force", "ton force"})
_AMBIGUOUS_AS_WRITTEN = frozenset({"T", "Tf", "TF"})

# Read only as written: mN would be a thousand-millionth of MN.
_CASE_MATTERS = frozenset({"MN"})

_BY_SYMBOL = {unit.symbol: unit for unit in UNITS}
_FOLDED = {
    token.casefold(): unit
    for unit in UNITS
    if unit.symbol not in _CASE_MATTERS
    for token in (unit.symbol, *unit.typed)
}


def find_unit(token: str) -> Unit | None:
    """Return the unit that a person's token means, or None.

    >>> str(find_unit("KN")), str(find_unit("Tonnes")), find_unit("furlong")
    ('kN', 't', None)
    """
    plain = _plain(token)
    if is_ambiguous_ton(token):
        return None
    return _BY_SYMBOL.get(plain) or _FOLDED.get(plain.casefold())


def is_ambiguous_ton(token: str) -> bool:
    """Return whether the token is a ton that does not say which.

    >>> is_ambiguous_ton("tons"), is_ambiguous_ton("short tons"), is_ambiguous_ton("t")
    (True, False, False)
    """
    plain = _plain(token)
    return plain in _AMBIGUOUS_AS_WRITTEN or plain.casefold() in AMBIGUOUS_TONS


def unit_of(symbol: str) -> Unit:
    """Return the unit that the program itself names by its symbol.

    >>> unit_of("kN").kind
    <Kind.FORCE: 'N'>
    """
    return _BY_SYMBOL["°" if symbol == "deg" else symbol]


def units_for(kind: Kind) -> tuple[Unit, ...]:
    """Return the units in which such a quantity may be given, the commonest first.

    >>> [unit.symbol for unit in units_for(Kind.ANGLE)]
    ['°', 'rad']
    """
    kinds = (Kind.FORCE, Kind.MASS) if kind is Kind.FORCE else (kind,)
    return tuple(unit for wanted in kinds for unit in UNITS if unit.kind is wanted)


def si_factor(unit: Unit, kind: Kind) -> Decimal:
    """Return how many SI units of the kind one unit is: a mass as a force is its weight.

    >>> si_factor(unit_of("t"), Kind.FORCE)
    Decimal('9806.65')
    """
    if kind is Kind.FORCE and unit.kind is Kind.MASS:
        return unit.factor * _factor("standard_gravity", "m / s ** 2")
    return unit.factor


def in_unit(value: float, unit: str, kind: Kind) -> float:
    """Return a value of SI in a unit by its name, for an axis or a table.

    >>> in_unit(19613.3, "t", Kind.FORCE)
    2.0
    """
    return value / float(si_factor(unit_of(unit), kind))


def _plain(token: str) -> str:
    return " ".join(token.split()).rstrip(".")


@cache
def _factor(pint_name: str, si_name: str) -> Decimal:
    return Decimal(_registry().Quantity(Decimal(1), pint_name).to(si_name).magnitude)


@cache
def _registry() -> UnitRegistry[Decimal]:
    # Building it takes half a second, so it waits for the first conversion.
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Decimal)
