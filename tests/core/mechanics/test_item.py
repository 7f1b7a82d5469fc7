"""Limit, use and safety factor, in rational arithmetic and in their order."""

import math
from fractions import Fraction

import pytest
from hypothesis import given

from coursekit.mechanics.anchor import anchor_limit
from coursekit.mechanics.item import item_limit, safety_factor, use
from coursekit.mechanics.ranges import OutOfRange
from tests.core.mechanics.parameters import force, numbers, some_force
from tests.reference.sources import independent

factor = numbers(1.0, 10.0)
hitch = numbers(0.5, 2.0)

EXACT = "the definition in exact fractions"


@independent(EXACT)
@given(mbs=some_force, hitch=hitch, divisor=factor)
def test_a_limit_from_the_breaking_strength_is_its_exact_share(
    mbs: float, hitch: float, divisor: float
) -> None:
    exact = Fraction(mbs) * Fraction(hitch) / Fraction(divisor)

    assert item_limit(None, mbs, hitch, divisor) == pytest.approx(float(exact), rel=1e-14)


@independent(EXACT)
@given(mbs=some_force, hitch=hitch, load=some_force)
def test_a_safety_factor_is_strength_over_load(mbs: float, hitch: float, load: float) -> None:
    exact = Fraction(mbs) * Fraction(hitch) / Fraction(load)

    assert safety_factor(mbs, hitch, load) == pytest.approx(float(exact), rel=1e-14)


@independent(EXACT)
@given(load=force, limit=some_force)
def test_use_is_load_over_limit(load: float, limit: float) -> None:
    assert use(load, limit) == pytest.approx(float(Fraction(load) / Fraction(limit)), rel=1e-14)


@independent(EXACT)
@given(holds=some_force, divisor=factor)
def test_an_anchor_may_carry_its_share_of_what_it_holds(holds: float, divisor: float) -> None:
    exact = Fraction(holds) / Fraction(divisor)

    assert anchor_limit(holds, divisor) == pytest.approx(float(exact), rel=1e-14)


@given(wll=some_force, mbs=some_force, hitch=hitch, divisor=factor)
def test_a_working_load_limit_goes_before_the_breaking_strength(
    wll: float, mbs: float, hitch: float, divisor: float
) -> None:
    assert item_limit(wll, mbs, hitch, divisor) == item_limit(wll, None, hitch, divisor)
    assert item_limit(wll, mbs, hitch, divisor) == wll * hitch


@given(load=force, more=force, limit=some_force)
def test_raising_a_load_never_turns_too_much_into_enough(
    load: float, more: float, limit: float
) -> None:
    before, after = use(load, limit), use(load + more, limit)

    assert before is not None
    assert after is not None
    assert after >= before


@given(load=some_force, mbs=some_force, divisor=factor)
def test_an_item_used_to_its_limit_has_its_design_factor_left(
    load: float, mbs: float, divisor: float
) -> None:
    del load
    limit = item_limit(None, mbs, 1.0, divisor)

    assert limit is not None
    assert safety_factor(mbs, 1.0, limit) == pytest.approx(divisor, rel=1e-12)
    assert use(limit, limit) == 1.0


def test_what_cannot_be_said_is_none() -> None:
    assert item_limit(None, None, 1.0, 3.0) is None
    assert item_limit(3e4, 9e4, None, 3.0) is None
    assert safety_factor(None, 1.0, 1.0) is None
    assert safety_factor(9e4, None, 1.0) is None
    assert safety_factor(9e4, 1.0, 0.0) is None
    assert use(1.0, None) is None


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -1.0])
def test_refuses_a_rating_that_is_none(bad: float) -> None:
    with pytest.raises(OutOfRange, match="wll"):
        item_limit(bad, None, 1.0, 3.0)
    with pytest.raises(OutOfRange, match="mbs"):
        item_limit(3e4, bad, 1.0, 3.0)
    with pytest.raises(OutOfRange, match="mbs"):
        safety_factor(bad, 1.0, 1.0)
    with pytest.raises(OutOfRange, match="hitch_factor"):
        item_limit(3e4, None, bad, 3.0)
    with pytest.raises(OutOfRange, match="limit"):
        use(1.0, bad)
    with pytest.raises(OutOfRange, match="holds"):
        anchor_limit(bad, 2.0)


def test_refuses_a_factor_that_would_raise_a_rating() -> None:
    with pytest.raises(OutOfRange, match="design_factor"):
        item_limit(None, 9e4, 1.0, 0.9)
    with pytest.raises(OutOfRange, match="factor"):
        anchor_limit(6e4, 0.5)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_refuses_a_load_that_pushes(bad: float) -> None:
    with pytest.raises(OutOfRange, match="load"):
        use(bad, 1.0)
    with pytest.raises(OutOfRange, match="load"):
        safety_factor(9e4, 1.0, bad)
