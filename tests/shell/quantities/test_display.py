"""Numbers as they are shown: on the safe side, and never against the verdict."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from coursekit.quantities.display import (
    Direction,
    show,
    show_capacity,
    show_given,
    show_load,
    show_pair,
)
from coursekit.quantities.parse import parse_quantity
from coursekit.quantities.units import UNITS, Kind, Unit

NEWTONS = st.floats(1e-3, 1e8)


def number_of(shown: str) -> Decimal:
    return Decimal(shown.partition(" ")[0].replace(",", ""))


def si_of(shown: str, kind: Kind = Kind.FORCE) -> float:
    return parse_quantity(shown, kind, decimal_comma=False).value


@pytest.mark.parametrize(
    ("newtons", "unit", "shown"),
    [
        (9042.2, "kN", "9.05 kN"),
        (9050.0, "kN", "9.05 kN"),
        (9996.0, "kN", "10.0 kN"),
        (9042.2, "N", "9,050 N"),
        (123_456.0, "N", "124,000 N"),
        (0.0, "kN", "0 kN"),
        (-5301.0, "kN", "-5.30 kN"),  # a helping force is not made larger
        (6374.3225, "kg", "650 kg"),
    ],
)
def test_a_load_rounds_up_to_three_figures(newtons: float, unit: str, shown: str) -> None:
    assert show_load(newtons, unit) == shown


@pytest.mark.parametrize(
    ("newtons", "shown"),
    [(9806.65, "9.80 kN"), (9999.0, "9.99 kN"), (10_000.0, "10.0 kN"), (46_581.5875, "46.5 kN")],
)
def test_a_capacity_rounds_down_to_three_figures(newtons: float, shown: str) -> None:
    assert show_capacity(newtons) == shown


def test_the_dust_of_float_sums_rounds_nothing_up() -> None:
    assert show_load(9042.0000000001, "N", figures=4) == "9,042 N"
    assert show_load(0.1 + 0.2, "N") == "0.300 N"
    assert show_capacity(9041.9999999999, "N", figures=4) == "9,042 N"


@pytest.mark.parametrize(
    ("load", "limit", "pair"),
    [
        (9803.0, 9806.65, ("9.803 kN", "9.806 kN")),
        (9042.2, 9806.65, ("9.05 kN", "9.80 kN")),
        (9806.65, 9806.65, ("9.80665 kN", "9.80665 kN")),
        (9806.66, 9806.65, ("9.81 kN", "9.80 kN")),
    ],
)
def test_a_pair_has_the_digits_that_its_verdict_needs(
    load: float, limit: float, pair: tuple[str, str]
) -> None:
    assert show_pair(load, limit) == pair


@given(NEWTONS, NEWTONS, st.sampled_from(["kN", "kgf", "lbf", "t"]))
@example(10_000 / 3, 10_000 / 3, "kN")
@example(10_000 / 3, 10_000 / 3, "lbf")
@example(1000.0000000000001, 1000.0, "lbf")
@example(1000.0, 1000.0000000000001, "lbf")
def test_a_pair_never_contradicts_its_verdict(load: float, limit: float, unit: str) -> None:
    shown_load, shown_limit = show_pair(load, limit, unit)

    assert (number_of(shown_load) <= number_of(shown_limit)) == (load <= limit)


@given(NEWTONS, st.floats(-1e-8, 1e-8))
def test_a_close_pair_never_contradicts_its_verdict(limit: float, share: float) -> None:
    load = limit * (1 + share)

    shown_load, shown_limit = show_pair(load, limit)

    assert (number_of(shown_load) <= number_of(shown_limit)) == (load <= limit)


@given(NEWTONS, st.sampled_from(["N", "kN", "kgf", "lbf", "kg", "short ton"]))
def test_a_load_is_never_shown_lower_and_a_capacity_never_higher(value: float, unit: str) -> None:
    dust = 1e-9 * value

    assert si_of(show_load(value, unit)) >= value - dust
    assert si_of(show_capacity(value, unit)) <= value + dust


@given(NEWTONS)
def test_rounding_moves_a_load_by_less_than_one_unit_of_the_third_figure(value: float) -> None:
    assert si_of(show_load(value, "N")) <= value * 1.0101
    assert si_of(show_capacity(value, "N")) >= value * 0.9899


@given(st.floats(-1e7, 1e7), st.sampled_from(UNITS), st.sampled_from(["nearest", "up", "down"]))
def test_what_is_shown_reads_back(value: float, unit: Unit, direction: Direction) -> None:
    assume(abs(value) > 1e-6)

    shown = show(value, unit.kind, unit.symbol, direction)

    assert si_of(shown, unit.kind) == pytest.approx(value, rel=0.0102)


@pytest.mark.parametrize(
    ("value", "kind", "unit", "shown"),
    [
        (2650.0, Kind.MASS, "kg", "2,650 kg"),
        (9500 * 4.4482216152605, Kind.FORCE, "lbf", "9,500 lbf"),
        (0.13962634015954636, Kind.ANGLE, "deg", "8°"),
        (0.1 + 0.2, Kind.RATIO, "%", "30 %"),
        (0.064, Kind.LENGTH, "mm", "64 mm"),
        (2.5, Kind.SPEED, "km/h", "9 km/h"),
        (0.0, Kind.FORCE, "kN", "0 kN"),
        (1 / 3, Kind.RATIO, "", "0.333333333333"),
    ],
)
def test_given_data_keep_the_digits_they_were_given_with(
    value: float, kind: Kind, unit: str, shown: str
) -> None:
    assert show_given(value, kind, unit) == shown


@given(st.decimals("0.001", "99999", places=3), st.sampled_from(["kN", "kgf", "lbf", "t"]))
def test_given_data_are_shown_as_they_were_typed(number: Decimal, unit: str) -> None:
    value = si_of(f"{number} {unit}")

    assert number_of(show_given(value, Kind.FORCE, unit)) == number
