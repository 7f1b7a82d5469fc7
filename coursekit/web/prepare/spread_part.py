"""What becomes of a rig where its estimates are off, in plain words and small bars."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.files.spread_document import SPREAD_SEED
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import Solution
from coursekit.rigging.spread import Uncertainty, uncertainty_of
from coursekit.scenario.model import Scenario
from coursekit.web import words

_ESTIMATES = {
    "mass": _l("the mass of the stuck vehicle"),
    "rolling": _l("the rolling resistance of the ground"),
    "slope": _l("the slope"),
    "efficiency": _l("the efficiency of the pulleys"),
}


@dataclass(frozen=True)
class PassingRow:
    """One item or anchor that passes its limit in some cases: how often, of 100."""

    name: str
    of_hundred: int


@dataclass(frozen=True)
class SpreadPart:
    """What an instructor should know of the rig's estimates."""

    sentences: tuple[str, ...]
    rows: tuple[PassingRow, ...]


def spread_part(scenario: Scenario, solution: Solution) -> SpreadPart:
    """Return what becomes of a solved rig over the spread of its estimates."""
    found = uncertainty_of(solution.situation, solution.rig, SPREAD_SEED)
    rows = (
        PassingRow(_name(scenario, entry.item), _of_hundred(entry.share))
        for entry in found.passing
        if entry.share > 0.0
    )
    return SpreadPart(tuple(_sentences(scenario, found)), tuple(rows))


def _name(scenario: Scenario, item: str) -> str:
    if scenario.situation.has_place(item):
        return words.place_name(scenario.situation, item)
    return words.item_name(item)


def _sentences(scenario: Scenario, found: Uncertainty) -> Iterator[str]:
    show = shower(units_of(scenario))
    yield _(
        "Mass, ground, slope and pulleys are estimates. %(n)s cases were solved with them off by "
        "chance, within the spread of the scenario.",
        n=found.samples,
    )
    load = found.load
    if math.isfinite(load.high):
        yield _(
            "In nine cases of ten the load of the line lies between %(low)s and %(high)s, in half "
            "of all cases below %(middle)s.",
            low=show(load.low, "N", "down"),
            middle=show(load.middle, "N", "up"),
            high=show(load.high, "N", "up"),
        )
        name, share = found.matters[0]
        yield _(
            "What matters most is %(what)s, with %(n)s %% of the variance: look at it first.",
            what=_ESTIMATES[name],
            n=round(share * 100.0),
        )
    yield _(
        "The rig is unsafe in %(unsafe)s of 100 cases, and leaves the vehicle stuck in %(stuck)s.",
        unsafe=_of_hundred(found.unsafe),
        stuck=_of_hundred(found.stuck),
    )


def _of_hundred(share: float) -> int:
    """Return cases of 100, rounded up: what happens at all is never called none."""
    return math.ceil(share * 100.0 - 1e-9)
