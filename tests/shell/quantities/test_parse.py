"""What people type, what it is read as, and what is asked back."""

from __future__ import annotations

import math
from decimal import Decimal
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.problems import Where
from coursekit.quantities.errors import (
    AmbiguousNumber,
    AmbiguousTon,
    MissingUnit,
    NotANumber,
    OutOfBounds,
    QuantityError,
    TooLong,
    UnknownUnit,
    WrongDimension,
)
from coursekit.quantities.parse import other_readings, parse_quantity, read_number
from coursekit.quantities.units import Kind, unit_of


@pytest.mark.parametrize(
    ("text", "newtons"),
    [
        ("6.4 kN", 6400.0),
        ("6,400 N", 6400.0),
        ("6 400 N", 6400.0),
        ("6\u00a0400 N", 6400.0),
        ("6\u2009400 N", 6400.0),
        ("6'400 N", 6400.0),
        ("6\u2019400 N", 6400.0),
        ("6400N", 6400.0),
        ("12.5 KN", 12_500.0),
        ("12 500 N", 12_500.0),
        ("5 kn", 5000.0),
        ("+1.25e1 kN", 12_500.0),
        (".5 kN", 500.0),
        ("1,234,567.5 N", 1_234_567.5),
        ("-5.3 kN", -5300.0),
        ("\u22125.3 kN", -5300.0),
        ("1 440 lbf", 6405.43912597512),  # 1440 x 4.4482216152605
        ("650 kg", 6374.3225),  # 650 x 9.80665
        ("0.65 t", 6374.3225),
    ],
)
def test_reads_a_load_where_decimals_have_a_point(text: str, newtons: float) -> None:
    assert parse_quantity(text, Kind.FORCE, decimal_comma=False).value == newtons


@pytest.mark.parametrize(
    ("text", "newtons"),
    [
        ("6,4 kN", 6400.0),
        ("6.400 N", 6400.0),
        ("6 400,5 N", 6400.5),
        ("1.234.567,5 N", 1_234_567.5),
        ("0,65 t", 6374.3225),
        ("6.4 kN", 6400.0),  # a keyboard without a comma: no other reading
    ],
)
def test_reads_a_load_where_decimals_have_a_comma(text: str, newtons: float) -> None:
    assert parse_quantity(text, Kind.FORCE, decimal_comma=True).value == newtons


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("0,65", "0.65"), ("0.650", "0.650"), ("12,5", "12.5"), ("2,7000", "2.7000"),
        ("1,234,567", "1234567"), ("1.234,5", "1234.5"), ("2700", "2700"), ("2 700", "2700"),
    ],
)  # fmt: skip
def test_takes_the_only_reading_where_the_convention_is_unknown(text: str, number: str) -> None:
    assert read_number(text).magnitude == Decimal(number)


@pytest.mark.parametrize("text", ["2,700 lbf", "2.700 lbf", "12,500 N"])
def test_asks_where_a_number_reads_in_two_ways(text: str) -> None:
    with pytest.raises(AmbiguousNumber):
        parse_quantity(text, Kind.FORCE)


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("2,700 lbf", "Write 2700 or 2.7, and nothing between the thousands"),
        ("1.234 t", "Write 1.2340 or 1234, and nothing between the thousands"),
    ],
)
def test_offers_only_readings_that_are_not_ambiguous_themselves(text: str, mend: str) -> None:
    with pytest.raises(AmbiguousNumber) as caught:
        parse_quantity(text, Kind.MASS if text.endswith("t") else Kind.FORCE)

    assert caught.value.mend == mend
    for offered in mend.removeprefix("Write ").split(",")[0].split(" or "):
        assert read_number(offered).magnitude == Decimal(offered)


@pytest.mark.parametrize(
    ("text", "kind", "error"),
    [
        ("4760", Kind.FORCE, MissingUnit),
        ("5 ton", Kind.MASS, AmbiguousTon),
        ("5 tons", Kind.FORCE, AmbiguousTon),
        ("3.25 T", Kind.FORCE, AmbiguousTon),
        ("5 furlong", Kind.LENGTH, UnknownUnit),
        ("5 кН", Kind.FORCE, UnknownUnit),
        ("2300 kN", Kind.MASS, WrongDimension),
        ("9500 lbf", Kind.MASS, WrongDimension),
        ("28 m", Kind.FORCE, WrongDimension),
        ("12 kn", Kind.SPEED, WrongDimension),
        ("14 %", Kind.ANGLE, WrongDimension),
        ("0,65 t", Kind.MASS, NotANumber),  # decimals have a point here
        ("1 44 lbf", Kind.FORCE, NotANumber),
        ("1,44 lbf", Kind.FORCE, NotANumber),
        ("1,2345 lbf", Kind.FORCE, NotANumber),
        ("1 234,567 N", Kind.FORCE, NotANumber),
        ("5. kN", Kind.FORCE, NotANumber),
        ("1.2.3 kN", Kind.FORCE, NotANumber),
        ("nan kN", Kind.FORCE, NotANumber),
        ("inf N", Kind.FORCE, NotANumber),
        ("-inf N", Kind.FORCE, NotANumber),
        ("1e999 N", Kind.FORCE, NotANumber),
        ("", Kind.FORCE, NotANumber),
        ("   ", Kind.FORCE, NotANumber),
        ("kN", Kind.FORCE, NotANumber),
        ("9**9**3 N", Kind.FORCE, NotANumber),
        ("9**9**9**9 m", Kind.LENGTH, NotANumber),
        ("(2+3) kN", Kind.FORCE, NotANumber),
        ("0x10 N", Kind.FORCE, NotANumber),
        ("1_000 N", Kind.FORCE, NotANumber),
        ("\u0664\u0662 kN", Kind.FORCE, NotANumber),  # digits of another script
        ("\uff16 kN", Kind.FORCE, NotANumber),
        ("\u00bd kN", Kind.FORCE, NotANumber),
        ("6.4 kN and then some more of the same", Kind.FORCE, TooLong),
        ("9" * 10_000, Kind.FORCE, TooLong),
        ("1e15 kN", Kind.FORCE, OutOfBounds),
        ("-1e12 kg", Kind.MASS, OutOfBounds),
    ],
)
def test_refuses_what_is_not_the_quantity(
    text: str, kind: Kind, error: type[QuantityError]
) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, kind, decimal_comma=False)

    assert type(caught.value) is error
    assert caught.value.text == text


SENTENCES = {
    ("2300 kN", Kind.MASS): ("2300 kN is a force, a mass is needed. Write for example 2300 kg."),
    ("4760", Kind.FORCE): '"4760" has no unit. Write for example 4760 kN.',
    ("5 ton", Kind.MASS): (
        '"5 ton" does not say which ton. '
        "Write tonne (1000 kg), short ton (2000 lb) or long ton (2240 lb)."
    ),
    ("5 knots", Kind.SPEED): ('"knots" is not a unit known here. Use one of m/s, km/h, mph, ft/s.'),
}


@pytest.mark.parametrize(("text", "kind"), SENTENCES)
def test_says_what_is_wrong_and_how_to_mend_it(text: str, kind: Kind) -> None:
    sentence = SENTENCES[text, kind]

    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, kind)

    assert str(caught.value) == sentence
    assert str(caught.value.problem(Where("mass", 7, "a.yaml"))) == f"a.yaml:7: mass: {sentence}"


def test_repeats_no_more_than_a_line_of_a_long_text() -> None:
    with pytest.raises(TooLong) as caught:
        parse_quantity("x" * 10_000, Kind.FORCE)

    assert len(str(caught.value)) < 120


def test_says_that_a_mass_was_read_as_its_weight() -> None:
    assert parse_quantity("0.65 t", Kind.FORCE).read_as == "0.65 t read as its weight"
    assert parse_quantity("650 kg", Kind.MASS).read_as == ""
    assert parse_quantity("650 kgf", Kind.FORCE).read_as == ""


def test_a_ratio_needs_no_unit() -> None:
    assert parse_quantity("0.35", Kind.RATIO).value == 0.35
    assert parse_quantity("35 %", Kind.RATIO).value == 0.35


def test_takes_the_unit_chosen_beside_the_field_only_where_none_was_typed() -> None:
    assert parse_quantity("6.4", Kind.FORCE, default_unit="kN").value == 6400.0
    assert parse_quantity("640 kgf", Kind.FORCE, default_unit="kN").unit == unit_of("kgf")


def test_keeps_what_was_typed_beside_what_was_understood() -> None:
    quantity = parse_quantity(" 4.80 KN ", Kind.FORCE)

    assert quantity.text == " 4.80 KN "
    assert (quantity.magnitude, quantity.digits, quantity.value) == (Decimal("4.80"), 3, 4800.0)


@pytest.mark.parametrize(
    ("text", "half"),
    [
        ("4.80 kN", 5.0),
        ("4.8 kN", 50.0),
        ("4800 N", 50.0),
        ("4801 N", 0.5),
        ("4800.0 N", 0.05),
        ("1e3 N", 500.0),
        ("1070 lbf", 5 * 4.4482216152605),
    ],
)
def test_half_the_last_digit_is_what_rounding_may_have_hidden(text: str, half: float) -> None:
    assert parse_quantity(text, Kind.FORCE).half_last_digit == pytest.approx(half, rel=1e-12)


def test_the_same_number_in_other_units_names_the_usual_slips() -> None:
    readings = {str(u): v for u, v in other_readings(parse_quantity("4760 N", Kind.FORCE))}

    assert readings["kN"] == 4_760_000.0
    assert readings["kgf"] == pytest.approx(4760 * 9.80665, rel=1e-15)
    assert readings["lbf"] == pytest.approx(4760 * 4.4482216152605, rel=1e-15)
    assert readings["short ton"] == pytest.approx(4760 * 8896.443230521, rel=1e-15)
    assert "N" not in readings
    assert "kg" not in readings  # as a load it is the kgf


@pytest.mark.parametrize(
    ("text", "kind", "units"),
    [
        ("1 rad", Kind.ANGLE, {"°"}),
        ("3 kg", Kind.MASS, {"t", "lb", "short ton", "long ton"}),
        ("5 m", Kind.LENGTH, {"ft", "cm", "mm", "in", "km"}),
        ("9 km/h", Kind.SPEED, {"m/s", "mph", "ft/s"}),
        ("0.5", Kind.RATIO, {"%"}),
    ],
)
def test_other_readings_stay_within_the_kind(text: str, kind: Kind, units: set[str]) -> None:
    assert {str(u) for u, _ in other_readings(parse_quantity(text, kind))} == units


CONVENTIONS = st.fixed_dictionaries({"decimal_comma": st.sampled_from([None, True, False])})
QUANTITY_LIKE = st.from_regex(r"[-+]?[0-9 .,']{1,20}(e[0-9]{1,3})? ?(kN|kg|ton|t|m/s)?")


@given(st.text(max_size=40) | QUANTITY_LIKE, st.sampled_from(Kind), CONVENTIONS)
def test_any_text_is_a_finite_quantity_or_a_worded_problem(
    text: str, kind: Kind, convention: dict[str, bool | None]
) -> None:
    worded, value = True, 0.0
    try:
        value = parse_quantity(text, kind, decimal_comma=convention["decimal_comma"]).value
    except QuantityError as error:
        worded = bool(error.what and error.mend)

    assert worded
    assert math.isfinite(value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("much", '"much" is not a number and a unit. Write for example 6.4 lbf.'),
        ("  ", "Nothing was written. Write for example 6.4 lbf."),
        ("650", '"650" has no unit. Write for example 650 lbf.'),
        ("3 mph", "3 mph is a speed, a force is needed. Write for example 3 lbf."),
    ],
)
def test_the_example_in_a_message_has_the_unit_that_its_reader_uses(text: str, said: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, Kind.FORCE, example_unit="lbf")

    assert str(caught.value) == said


@given(QUANTITY_LIKE, CONVENTIONS)
def test_a_number_that_is_read_has_the_digits_that_were_typed(
    text: str, convention: dict[str, bool | None]
) -> None:
    try:
        number = read_number(text, decimal_comma=convention["decimal_comma"])
    except QuantityError:
        return
    typed = "".join(c for c in text.partition("e")[0] if c in "0123456789")

    assert "".join(map(str, number.magnitude.as_tuple().digits)).strip("0") == typed.strip("0")


@pytest.mark.parametrize(
    "text",
    ["9**9**9**9 m", "1" * 10_000, " " * 100_000, "1 " * 16, "1,1" * 10, "1" * 31 + "!", "a" * 32],
)
def test_the_time_to_refuse_is_bounded(text: str) -> None:
    def elapsed() -> float:
        start = perf_counter()
        with pytest.raises(QuantityError):
            parse_quantity(text, Kind.FORCE)
        return perf_counter() - start

    assert min(elapsed() for _ in range(20)) < 1e-3
