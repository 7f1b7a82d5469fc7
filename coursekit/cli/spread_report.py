"""What becomes of a rig over the spread of its estimates, as plain text for a terminal."""

from __future__ import annotations

import math
from collections.abc import Iterator

from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.spread import Uncertainty
from coursekit.scenario.model import Scenario

_WORDS = {
    "mass": "the mass of the stuck vehicle",
    "rolling": "the rolling resistance",
    "slope": "the slope",
    "efficiency": "the efficiency of the pulleys",
}


def spread_report(scenario: Scenario, found: Uncertainty) -> str:
    """Return the range of each load, what passes its limit and how often, and what matters."""
    return "\n".join(_lines(scenario, found))


def _lines(scenario: Scenario, found: Uncertainty) -> Iterator[str]:
    show = shower(units_of(scenario))
    yield f"Where the estimates are off ({found.samples} cases, seed {found.seed})"
    for reach in found.reaches:
        if math.isfinite(reach.high):
            low, middle, high = (
                show(value, "N", "up") for value in (reach.low, reach.middle, reach.high)
            )
            yield f"  {reach.key}: half of the cases below {middle}, 5 % below {low}, 95 % {high}"
    passing = [passing for passing in found.passing if passing.share > 0.0]
    for item in passing:
        yield f"  past its limit in {_percent(item.share)} of the cases: {item.item}"
    if not passing:
        yield "  nothing passes its limit in any case"
    unsafe, stuck = _percent(found.unsafe), _percent(found.stuck)
    yield f"  unsafe in {unsafe}, still stuck in {stuck} of the cases"
    name, share = found.matters[0]
    yield f"  what matters most is {_WORDS[name]}: {_percent(share)} of the variance of the load"


def _percent(share: float) -> str:
    """Return a share rounded up, so that what happens at all is never called 0 %.

    >>> _percent(0.0), _percent(0.0004), _percent(0.25)
    ('0 %', '1 %', '25 %')
    """
    return f"{math.ceil(share * 100.0 - 1e-9)} %"
