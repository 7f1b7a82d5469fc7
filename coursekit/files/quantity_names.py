"""The names of what can be asked for, and the kind of each.

Which of them a rig has follows from the rig: a tow has no `pull.stall`.  That
is seen where the rig is solved; here a name must be one that some rig has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from coursekit.quantities.units import Kind
from coursekit.rigging.site import Situation
from coursekit.rigging.soundness import all_places

_OF_A_LINE = {
    "line.needed": Kind.LENGTH,
    "line.available": Kind.LENGTH,
    "winch.paid_out": Kind.LENGTH,
    "winch.layer": Kind.RATIO,
    "pull.available": Kind.FORCE,
}
WHOLE_RIG = {
    "slope": Kind.ANGLE,
    "weight": Kind.FORCE,
    "resistance.grade": Kind.FORCE,
    "resistance.rolling": Kind.FORCE,
    "resistance.bogging": Kind.FORCE,
    "resistance.righting": Kind.FORCE,
    "resistance.total": Kind.FORCE,
    "runaway": Kind.FORCE,
    "advantage.ideal": Kind.RATIO,
    "advantage.actual": Kind.RATIO,
    "pull": Kind.FORCE,
    **_OF_A_LINE,
    "pull.stall": Kind.FORCE,
    "pull.available.end": Kind.FORCE,
    "fleet_angle": Kind.ANGLE,
    "stand_off": Kind.LENGTH,
    "kinetic.stiffness": Kind.STIFFNESS,
    "kinetic.speed": Kind.SPEED,
    "kinetic.peak": Kind.FORCE,
    "kinetic.design": Kind.FORCE,
    "kinetic.stretch": Kind.LENGTH,
    "kinetic.energy": Kind.ENERGY,
    "kinetic.speed.lowest": Kind.SPEED,
    "kinetic.speed.highest": Kind.SPEED,
    "tow.pull": Kind.FORCE,
    "tow.design": Kind.FORCE,
    "tow.own_grade": Kind.FORCE,
    "tow.own_rolling": Kind.FORCE,
    "tow.need": Kind.FORCE,
    "tow.grip": Kind.FORCE,
    "hold.load": Kind.FORCE,
}
_OF_A_PLACE = {
    "load": Kind.FORCE,
    "holds": Kind.FORCE,
    "use": Kind.RATIO,
    "holdfast": Kind.FORCE,
    "tyres_need": Kind.FORCE,
    "tyres_hold": Kind.FORCE,
}
_OF_AN_ITEM = {
    "load": Kind.FORCE,
    "limit": Kind.FORCE,
    "use": Kind.RATIO,
    "safety_factor": Kind.RATIO,
    "angle": Kind.ANGLE,
    "leg": Kind.FORCE,
    "choke_share": Kind.RATIO,
    "off_line_share": Kind.RATIO,
    "bend_share": Kind.RATIO,
}
# What can be asked, whatever the place or the item is called.  Slope and closing speed are
# read and set: nothing to work out.
ASKABLE = (
    *(name for name in WHOLE_RIG if name not in {"slope", "kinetic.speed"}),
    *(f"place.{last}" for last in _OF_A_PLACE),
    *(f"item.{last}" for last in _OF_AN_ITEM),
)
_HOLD = re.compile(r"hold\.(?:[2-9]\.)?(?P<name>.+)")


def kind_of(name: str, situation: Situation) -> Kind | None:
    """Return the kind of what a name asks for, None where nothing has this name."""
    if name in WHOLE_RIG:
        return WHOLE_RIG[name]
    head, _, rest = name.partition(".")
    subject, _, last = rest.rpartition(".")
    if head == "place" and subject in all_places(situation):
        is_anchor = subject in situation.anchors
        return _OF_A_PLACE.get(last) if last == "load" or is_anchor else None
    if head == "item" and subject in _items(situation):
        return _OF_AN_ITEM.get(last)
    held = _HOLD.fullmatch(name)
    return None if held is None else {**_OF_A_LINE, "load": Kind.FORCE}.get(held["name"])


def quantity_names(situation: Situation) -> Iterator[str]:
    """Yield the names that can be asked for in a situation."""
    yield from WHOLE_RIG
    yield from (f"place.{place}.load" for place in all_places(situation))
    for item in _items(situation):
        yield from (f"item.{item}.{last}" for last in _OF_AN_ITEM)


def _items(situation: Situation) -> list[str]:
    points = [
        f"{name}.{point}" for name, vehicle in situation.vehicles() for point in vehicle.points
    ]
    return [*situation.gear, *points]
