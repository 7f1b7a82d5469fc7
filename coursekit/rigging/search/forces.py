"""The forces in a layout before its gear is chosen, by the steps that `solve` folds.

They depend on the layout and on the pulleys that it turns at, and on nothing else: what
stands in its other slots carries load and adds none.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from coursekit.rigging.chains.build import Layout, force_steps, given_values, lay_out
from coursekit.rigging.chains.ground import ground_steps
from coursekit.rigging.chains.joints import Meeting
from coursekit.rigging.plan import angle_between, has_component, plan_line, unit_vector
from coursekit.rigging.rig import Rig
from coursekit.rigging.rules.lines import off_line_rule
from coursekit.rigging.search.pattern import CONNECTOR, Slot
from coursekit.rigging.search.stations import STUCK
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import Chain, Values

# A driver can't hold a speed to a hair: a run-up is planned this much above the lowest
# speed that breaks out, and a window too narrow for that is no window.  Common practice
# is to start low; the share is ours.
SPEED_MARGIN = 1.10
# Where nothing holds the vehicle but its own mass, any speed moves it: a slow walk.
SLOWEST_RUN_UP = 0.5


@dataclass(frozen=True)
class Forces:
    """The loads of a layout, by the keys of the step chain."""

    rig: Rig
    layout: Layout
    values: Values

    def on_slot(self, slot: Slot) -> float | None:
        """Return the load on what stands in a slot."""
        key = self.layout.loaded[slot.line].key
        if slot.part != CONNECTOR:
            key = self._meeting(slot).key
        load: float | None = self.values[key]
        return load

    def _meeting(self, slot: Slot) -> Meeting:
        loaded = self.layout.loaded[slot.line]
        return next(
            meeting
            for meeting in self.layout.meetings
            if meeting.loaded is loaded and meeting.station == slot.number
        )


def ground_values(situation: Situation) -> dict[str, Any]:
    """Return what the ground does to the stuck vehicle, whatever the rig."""
    given = given_values(situation, Rig("winch", ()))
    return Chain(given, ground_steps(situation.method)).fold()


def forces_of(situation: Situation, rig: Rig) -> Forces | None:
    """Return the forces in a rig that has its lines and pulleys, and no other gear.

    A kinetic pull takes the speed that the search plans; None where no speed can be
    planned, since the line does not stretch or pulls nothing.
    """
    if rig.method != "kinetic":
        return _forces(situation, rig)
    start = _forces(situation, replace(rig, speed=SLOWEST_RUN_UP))
    lowest = start.values["kinetic.speed.lowest"]
    if lowest is None:
        return None
    planned = max(SPEED_MARGIN * lowest, SLOWEST_RUN_UP if lowest == 0.0 else 0.0)
    return _forces(situation, replace(rig, speed=planned))


def _forces(situation: Situation, rig: Rig) -> Forces:
    layout = lay_out(situation, rig)
    chain = Chain(given_values(situation, rig), tuple(force_steps(layout)))
    return Forces(rig, layout, chain.fold())


def leads_out(situation: Situation, rig: Rig) -> bool:
    """Whether a rig pulls along the exit, and as nearly as the school asks."""
    force = plan_line(situation, rig.pull_line).force_on(STUCK)
    way = unit_vector(situation.stuck.exit or 0.0)
    if not has_component(force, way):
        return False
    return off_line_rule(rig.method, angle_between(force, way)) not in situation.policy.stop_on
