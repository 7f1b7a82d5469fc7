"""The table of units against printed constants and against the unit library."""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest

from coursekit.quantities.units import (
    UNITS,
    Kind,
    Unit,
    find_unit,
    is_ambiguous_ton,
    si_factor,
    unit_of,
    units_for,
)

# All exact by definition; the digits from memory of the definitions
# (1 lb = 0.453 592 37 kg, standard gravity 9.806 65 m/s2, 1 in = 25.4 mm).
EXACT = {
    "kgf": "9.80665",
    "lbf": "4.4482216152605",
    "kip": "4448.2216152605",
    "tf": "9806.65",
    "daN": "10",
    "MN": "1000000",
    "lb": "0.45359237",
    "short ton": "907.18474",
    "long ton": "1016.0469088",
    "t": "1000",
    "ft": "0.3048",
    "in": "0.0254",
    "mph": "0.44704",
    "ft/s": "0.3048",
    "%": "0.01",
}


@pytest.mark.source("NIST SP 811 (2008), appendix B: conversion factors, exact ones in bold")
@pytest.mark.parametrize(("symbol", "printed"), EXACT.items())
def test_a_unit_has_its_defined_value_exactly(symbol: str, printed: str) -> None:
    assert unit_of(symbol).factor == Decimal(printed)


@pytest.mark.source("NIST SP 811 (2008), appendix B: pound-force 4.448 222 N, from memory")
def test_the_pound_force_rounds_to_the_printed_digits() -> None:
    assert round(unit_of("lbf").factor, 6) == Decimal("4.448222")


# A ton-force is the weight of its ton: 2000 lbf and 2240 lbf, exactly.
@pytest.mark.parametrize(
    ("symbol", "newtons"),
    [("short ton", "8896.443230521"), ("long ton", "9964.01641818352"), ("t", "9806.65")],
)
def test_a_mass_where_a_force_is_wanted_is_its_weight(symbol: str, newtons: str) -> None:
    assert si_factor(unit_of(symbol), Kind.FORCE) == Decimal(newtons)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    """The unit library's own table, in floats; it takes long to read."""
    return pint.UnitRegistry()


@pytest.mark.parametrize("unit", UNITS, ids=str)
def test_every_unit_converts_as_the_unit_library_does_in_floats(
    unit: Unit, registry: pint.UnitRegistry[float]
) -> None:
    expected = registry.Quantity(1.0, unit.pint_name).to(unit.kind.value).magnitude

    assert float(unit.factor) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize(
    ("token", "symbol"),
    [
        ("kN", "kN"), ("KN", "kN"), ("kn", "kN"), ("n", "N"), ("Newtons", "N"), ("MN", "MN"),
        ("Kg", "kg"), ("KGS", "kg"), ("kgf", "kgf"), ("KGF", "kgf"), ("lbs", "lb"), ("LBF", "lbf"),
        ("t", "t"), ("Tonne", "t"), ("metric  tons", "t"), ("Short Tons", "short ton"),
        ("daN", "daN"), ("dan", "daN"), ("tf", "tf"), ("kips", "kip"),
        ("M", "m"), ("metres", "m"), ("feet", "ft"), ("in.", "in"),
        ("deg", "°"), ("°", "°"), ("Rad", "rad"), ("km/h", "km/h"), ("kph", "km/h"), ("MPH", "mph"),
        ("%", "%"), ("kj", "kJ"), ("kN/m", "kN/m"),
    ],
)  # fmt: skip
def test_reads_a_unit_as_people_write_it(token: str, symbol: str) -> None:
    assert str(find_unit(token)) == symbol


@pytest.mark.parametrize("token", ["mn", "mN", "knots", "furlong", "pa", "kilo newton metre"])
def test_knows_no_unit_that_might_be_another(token: str) -> None:
    assert find_unit(token) is None


@pytest.mark.parametrize("token", ["ton", "tons", "Ton", "TONS", "tonf", "T", "tons."])
def test_a_bare_ton_is_ambiguous(token: str) -> None:
    assert is_ambiguous_ton(token)
    assert find_unit(token) is None


@pytest.mark.parametrize("token", ["t", "tonne", "short ton", "long tons", "tf", "metric ton"])
def test_a_ton_that_says_which_is_not_ambiguous(token: str) -> None:
    assert not is_ambiguous_ton(token)


def test_no_token_means_two_units() -> None:
    tokens = [token.casefold() for unit in UNITS for token in (unit.symbol, *unit.typed)]

    assert len(tokens) == len(set(tokens))


def test_loads_are_offered_in_forces_first_and_then_in_masses() -> None:
    assert [str(unit) for unit in units_for(Kind.FORCE)][:4] == ["kN", "N", "kgf", "lbf"]
    assert unit_of("short ton") in units_for(Kind.FORCE)
    assert unit_of("kN") not in units_for(Kind.MASS)


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_is_found_by_its_si_unit(kind: Kind) -> None:
    assert Kind.of_si("-" if kind is Kind.RATIO else kind.value) is kind
