"""What a pull does to the kit by itself."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.wear.consequences import Carried, consequences
from coursekit.wear.ledger import Ending, Kind, Pull, Size
from tests.core.wear.ledgers import LIMIT, declared, solved

HELD = solved(0.6 * LIMIT)
OVER = solved(1.01 * LIMIT)
ROPE = Carried("rope", HELD, is_textile=True, is_elastic=True)
LINE = Carried("line", HELD, is_textile=True, is_elastic=False)
SLING = Carried("sling", HELD, is_textile=True, is_elastic=False)
SHACKLE = Carried("shackle", HELD, is_textile=False, is_elastic=False)


def kinds(*path: Carried) -> dict[str, Kind]:
    return {found.item: found.kind for found in consequences(path)}


def ended(ending: Ending, *path: Carried) -> list[Carried]:
    return [replace(carried, pull=replace(carried.pull, ended=ending)) for carried in path]


@pytest.mark.parametrize("ending", [Ending.CAME_FREE, Ending.STUCK])
def test_a_pull_within_the_limits_changes_nothing(ending: Ending) -> None:
    assert kinds(*ended(ending, LINE, SLING, SHACKLE)) == {}


@pytest.mark.parametrize("ending", [Ending.STALLED, Ending.PARTED, Ending.JERKED])
def test_a_bad_end_quarantines_the_whole_load_path(ending: Ending) -> None:
    found = kinds(*ended(ending, LINE, SLING, SHACKLE))

    assert found == dict.fromkeys(("line", "sling", "shackle"), Kind.QUARANTINED)


def test_a_jerk_on_a_line_that_stretches_is_its_work() -> None:
    assert kinds(*ended(Ending.JERKED, ROPE, SHACKLE)) == {}


def test_textile_over_its_limit_retires_and_the_rest_is_held_back() -> None:
    found = kinds(LINE, replace(SLING, pull=OVER), SHACKLE)

    assert found["sling"] is Kind.RETIRED
    assert found["line"] is found["shackle"] is Kind.QUARANTINED


def test_steel_over_its_limit_goes_to_an_examination() -> None:
    assert kinds(replace(SHACKLE, pull=OVER)) == {"shackle": Kind.QUARANTINED}


def test_a_load_equal_to_the_limit_is_not_over_it() -> None:
    assert kinds(replace(SLING, pull=solved(LIMIT))) == {}


@pytest.mark.parametrize(
    "unknown", [solved(9_000.0, limit=None), declared(Size.UNKNOWN), declared(Size.UNKNOWN, None)]
)
def test_an_unknown_load_quarantines_the_load_path(unknown: Pull) -> None:
    found = kinds(LINE, replace(SLING, pull=unknown))

    assert found == dict.fromkeys(("line", "sling"), Kind.QUARANTINED)


def test_a_declared_pull_of_a_known_size_changes_nothing() -> None:
    assert kinds(replace(SLING, pull=declared(Size.HEAVY))) == {}


def test_one_pull_ends_in_one_way() -> None:
    with pytest.raises(ValueError, match="one way"):
        consequences([*ended(Ending.PARTED, LINE), SLING])


@given(st.lists(st.floats(0.0, 1.5), min_size=1, max_size=8), st.sampled_from(Ending))
def test_no_item_over_its_limit_goes_back_to_the_store(shares: list[float], ending: Ending) -> None:
    path = [
        replace(SLING, item=str(number), pull=solved(share * LIMIT, ended=ending))
        for number, share in enumerate(shares)
    ]
    found = {one.item: one.kind for one in consequences(path)}
    over = {str(number) for number, share in enumerate(shares) if share * LIMIT > LIMIT}

    assert {item for item, kind in found.items() if kind is Kind.RETIRED} == over
    assert not over or set(found) == {carried.item for carried in path}
