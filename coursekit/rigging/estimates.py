"""What is only estimated of a site, and the same situation with the estimates off.

Pulleys share one deviation: worn or gritty, they mostly are so together.  A slope that is
stated as level stays level, since nothing says which way it would fall.  Bogging is a
planning figure that is meant to be high, and stays as it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from coursekit.mechanics.resistance import FIELD_RULE_STEEPEST
from coursekit.rigging.gear import PULLEYS, Item
from coursekit.rigging.plan import efficiency
from coursekit.rigging.site import FIELD_RULE, Situation, Spread

ESTIMATES: Final = ("mass", "rolling", "slope", "efficiency")
# Which end of each spread asks more of a rig that pulls.
PESSIMISTIC: Final[Mapping[str, float]] = {
    "mass": 1.0,
    "rolling": 1.0,
    "slope": 1.0,
    "efficiency": -1.0,
}
CERTAIN: Final = Spread(0.0, 0.0, 0.0, 0.0)
LEAST_EFFICIENCY: Final = 0.05
STEEPEST: Final = 1.5


def misjudged(situation: Situation, off: Mapping[str, Any]) -> Situation:
    """Return a situation whose estimates are off, each by a share of its spread, -1 to 1.

    Shares above the whole weight, efficiencies above 1 and slopes below the level or too
    steep to reckon with are held at that bound.  In the situation that is returned nothing
    is an estimate any more.
    """
    spread, ground = situation.spread or CERTAIN, situation.ground
    mass = situation.stuck.mass * (1.0 + spread.mass * off["mass"])
    rolling = min(1.0, ground.coefficient * (1.0 + spread.rolling * off["rolling"]))
    slope = ground.slope
    if slope > 0.0:
        steepest = FIELD_RULE_STEEPEST if situation.method == FIELD_RULE else STEEPEST
        slope = min(steepest, max(0.0, slope + spread.slope * off["slope"]))
    keeps = 1.0 + spread.efficiency * off["efficiency"]
    gear = {
        name: _worn(item, keeps) if item.kind in PULLEYS else item
        for name, item in situation.gear.items()
    }
    return replace(
        situation,
        stuck=replace(situation.stuck, mass=mass),
        ground=replace(ground, rolling=rolling, slope=slope),
        gear=gear,
        spread=None,
    )


def _worn(pulley: Item, keeps: float) -> Item:
    share = min(1.0, max(LEAST_EFFICIENCY, efficiency(pulley) * keeps))
    return replace(pulley, efficiency=share)
