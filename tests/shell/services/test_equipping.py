"""A rig equipped out of items that are just strong enough for it, in whatever order they lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from coursekit.rigging.gear import Item
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import solve
from coursekit.services.equipping import equip
from coursekit.services.planning import ClassPlan, PlannedScenario
from coursekit.store.queries.kit import ItemRow, Rating, TypeRow
from coursekit.wear.counting import Counts
from coursekit.wear.policy import InspectionOnly, Policy
from coursekit.wear.schedule import Due, Left
from tests.core.scenario.stock import IDS, scenario, solved

SAFE = [(name, rig) for name in IDS for rig in scenario(name).rigs if not solved(name, rig).stops]
DUE = Due(reasons=(), left=Left(None, (), None), bars=(), look_over=False)


def of_the_store(number: int, item: Item) -> ItemRow:
    """Return an item of the store with the ratings of a scenario's."""
    pairs = (("wll", item.wll), ("mbs", item.mbs))
    ratings = tuple(Rating(name, f"{force} N", force) for name, force in pairs if force)
    kit_type = TypeRow(
        number,
        item.id,
        item.kind,
        item.material,
        "",
        ratings,
        (),
        "",
        item.length,
        "",
        "",
        "",
        Policy(InspectionOnly()),
    )
    return ItemRow(
        id=number,
        version=1,
        mark=item.id,
        serial="",
        batch="",
        made=date(2026, 1, 15),
        is_labelled=True,
        place="",
        cost_cents=None,
        registered=date(2026, 1, 15),
        status="in-store",
        type=kit_type,
        counts=Counts(),
        due=DUE,
        retired_on=None,
        retired_for=None,
        photo_id=None,
    )


def orders(rows: list[ItemRow]) -> Iterator[list[ItemRow]]:
    yield rows
    yield rows[::-1]
    for step in (3, 5, 7):
        yield sorted(rows, key=lambda row: row.id * step % 11)


def just_enough(name: str, rig: str) -> Situation:
    """Return the site with gear that its places in a rig load to a hair below its limits.

    But for what stretches: with another strength it would be another rope.
    """
    solution = solved(name, rig)
    gear = dict(solution.situation.gear)
    stalls = 1.0
    if "stall-over-limit" in solution.situation.policy.stop_on:
        # Should it hang up, the winch pulls to its stall.
        stalls = max(1.0, solution.values["pull.stall"] / solution.values["pull"])
    for item in dict.fromkeys(solution.rig.items()):
        use = solution.values.get(f"item.{item}.use")
        if use and not gear[item].is_elastic:
            gear[item] = of_share(gear[item], stalls * use * (1.0 + 1e-6))
    return replace(solution.situation, gear=gear)


def of_share(item: Item, share: float) -> Item:
    wll, mbs = (None if rating is None else rating * share for rating in (item.wll, item.mbs))
    return replace(item, wll=wll, mbs=mbs)


@pytest.mark.independent("each rig is safe with these very items, each at its own place")
@pytest.mark.parametrize(("name", "rig"), SAFE)
def test_a_rig_is_equipped_with_what_is_just_strong_enough(name: str, rig: str) -> None:
    stock, fitted = scenario(name), just_enough(name, rig)
    meant = stock.rigs[rig]
    assert not solve(fitted, meant).stops
    plan = ClassPlan(0, 1, (PlannedScenario(1, stock, (meant,), 1, 0),))
    names = dict.fromkeys(meant.items())
    rows = [of_the_store(n, fitted.gear[item]) for n, item in enumerate(names, 1)]

    for order in orders(rows):
        (found,) = equip(plan, order, ()).rigs
        assert found.rig == meant
        assert set(found.items) == set(names)
