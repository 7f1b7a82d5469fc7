"""Entries and pulls for the tests of wear, and strategies that draw them."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import strategies as st

from coursekit.wear.ledger import Ending, Entry, Kind, Origin, Pull, Size

START = datetime(2026, 3, 1, 9, tzinfo=UTC)
LIMIT = 40_000.0


def entry(kind: Kind, key: str = "e", *, day: int = 0) -> Entry:
    at = START + timedelta(days=day)
    return Entry(key, "rope", kind, at, at.date(), "person-1")


def solved(load: float, limit: float | None = LIMIT, ended: Ending = Ending.CAME_FREE) -> Pull:
    return Pull("kinetic", ended, Origin.SOLVED, load=load, limit=limit)


def declared(size: Size, limit: float | None = LIMIT) -> Pull:
    return Pull("winch", Ending.CAME_FREE, Origin.DECLARED, limit=limit, declared=size)


def pull_entry(pull: Pull, key: str = "e", *, day: int = 0) -> Entry:
    return replace(entry(Kind.PULL, key, day=day), pull=pull)


def inspection(key: str = "i", *, passed: bool = True, day: int = 0) -> Entry:
    return replace(entry(Kind.INSPECTED, key, day=day), passed=passed)


def correction(of: Entry, *, day: int = 500) -> Entry:
    wrong = entry(Kind.CORRECTION, f"c-{of.key}", day=day)
    return replace(wrong, reverses=of.key, reason="another item was used")


pulls = st.one_of(
    st.floats(0.0, 1.3 * LIMIT).map(solved),
    st.sampled_from([Size.LIGHT, Size.HEAVY, Size.UNKNOWN]).map(declared),
)
days = st.integers(0, 400)


@st.composite
def ledgers(draw: st.DrawFn) -> list[Entry]:
    """Return pulls, inspections and moves of one item in any order, each with its own key."""
    found = [
        pull_entry(pull, f"p{number}", day=draw(days))
        for number, pull in enumerate(draw(st.lists(pulls, max_size=12)))
    ]
    found += [
        inspection(f"i{number}", passed=draw(st.booleans()), day=day)
        for number, day in enumerate(draw(st.lists(days, max_size=4)))
    ]
    found += [
        entry(draw(st.sampled_from([Kind.QUARANTINED, Kind.RELEASED])), f"m{number}", day=day)
        for number, day in enumerate(draw(st.lists(days, max_size=3)))
    ]
    return draw(st.permutations([entry(Kind.RECEIVED, "r", day=-1), *found]))
