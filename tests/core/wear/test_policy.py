"""The defaults of each kind: common practice, no source."""

import pytest

from coursekit.rigging.gear import ITEM_KINDS
from coursekit.wear.policy import (
    COMMON_PRACTICE,
    ClassesPolicy,
    InspectionOnly,
    PowerPolicy,
    default_policy,
    exceeded,
)


# Common practice, no source.
@pytest.mark.parametrize(
    ("kind", "uses", "from_first_use", "from_made", "rest"),
    [
        ("kinetic-rope", 30.0, 2, 5, 10),
        ("kinetic-strap", 30.0, 2, 5, 10),
        ("soft-shackle", 60.0, None, 3, 0),
        ("roundsling", None, None, None, 0),
        ("bow-shackle", None, None, None, 0),
        ("winch-line", None, None, 5, 0),
    ],
)
def test_a_kind_has_the_default_of_common_practice(
    kind: str, uses: float | None, from_first_use: int | None, from_made: int | None, rest: int
) -> None:
    policy = default_policy(kind)

    assert policy.counting.limit == uses
    assert policy.years_from_first_use == from_first_use
    assert policy.years_from_made == from_made
    assert policy.rest_minutes == rest


@pytest.mark.parametrize(
    ("months", "beyond"),
    [
        (6, set()),
        (7, {"LOLER 1998 reg. 9(3)(a)"}),
        (12, {"LOLER 1998 reg. 9(3)(a)"}),
        (
            13,
            {
                "LOLER 1998 reg. 9(3)(a)",
                "ASME B30.26-2010, 26-1.8.3(b)",
                "WAC 296-155-55820, table 25",
            },
        ),
    ],
)
@pytest.mark.source(
    "LOLER 1998 reg. 9(3)(a): accessories 6 months; ASME B30.26-2010, 26-1.8.3(b): periodic "
    "inspection within 1 yr; WAC 296-155-55820, table 25: web slings yearly"
)
def test_an_interval_longer_than_a_published_one_says_which(months: int, beyond: set[str]) -> None:
    assert {each.source for each in exceeded(months)} == beyond
    assert set(exceeded(None)) == set(exceeded(999))


@pytest.mark.parametrize("kind", ITEM_KINDS)
def test_no_default_goes_beyond_a_published_interval(kind: str) -> None:
    assert exceeded(default_policy(kind).months_between_inspections) == ()


@pytest.mark.parametrize("kind", ITEM_KINDS)
def test_every_kind_has_a_default_and_none_claims_a_source(kind: str) -> None:
    assert default_policy(kind).source == COMMON_PRACTICE


@pytest.mark.source(
    "Lifting Operations and Lifting Equipment Regulations 1998, reg. 9(3)(a)(i): "
    "accessories for lifting at least every 6 months"
)
@pytest.mark.parametrize("kind", ["roundsling", "bow-shackle", "chain", "pulley-block"])
def test_accessories_are_examined_every_six_months(kind: str) -> None:
    assert default_policy(kind).months_between_inspections == 6


def test_only_the_winch_line_is_looked_over_each_class_day() -> None:
    looked_over = {kind for kind in ITEM_KINDS if default_policy(kind).look_over_each_day}

    assert looked_over == {"winch-line", "extension-line"}


def test_what_is_left_is_told_in_the_pulls_of_the_policy() -> None:
    power = PowerPolicy(reference_load=39_000.0, exponent=5.0, life=600.0, safety=60.0)

    assert ClassesPolicy(limit=30.0).yardsticks == (("light", 1.0), ("heavy", 3.0))
    assert power.yardsticks == (("reference", 1.0),)
    assert power.limit == 10.0
    assert InspectionOnly().yardsticks == ()
