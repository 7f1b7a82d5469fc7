"""The whole chain of a rig: given data, then every step in the order of solving."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.mechanics.constants import STANDARD_GRAVITY
from coursekit.mechanics.tables import BOGGING
from coursekit.rigging.chains.anchors import anchor_steps
from coursekit.rigging.chains.elastic import elastic_line
from coursekit.rigging.chains.ground import ground_steps
from coursekit.rigging.chains.hold import hold_prefix, hold_steps
from coursekit.rigging.chains.joints import (
    LoadedLine,
    Meeting,
    joint_steps,
    meetings_of,
    place_key,
)
from coursekit.rigging.chains.kinetic import kinetic_steps
from coursekit.rigging.chains.loads import item_steps
from coursekit.rigging.chains.lying import lying_steps
from coursekit.rigging.chains.mounts import Mount, limit_of, mounts_of, strength_of
from coursekit.rigging.chains.pull import pull_steps
from coursekit.rigging.chains.stand_off import stand_off_step
from coursekit.rigging.chains.stiff_kinetic import stiff_steps
from coursekit.rigging.chains.tow import recovery_weight, straight_pull_steps, tow_steps
from coursekit.rigging.chains.winch import drum_steps, length_steps
from coursekit.rigging.plan import off_uphill, plan_line
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import Chain, Step, Values

LINE_KEYS = {"winch": "pull", "kinetic": "kinetic.design", "tow": "tow.design"}


@dataclass(frozen=True)
class Layout:
    """A rig laid out in its situation: lines with their forces, meetings, mounts."""

    situation: Situation
    rig: Rig
    loaded: tuple[LoadedLine, ...]
    meetings: tuple[Meeting, ...]
    mounts: tuple[Mount, ...]

    @property
    def pull_line(self) -> LoadedLine:
        """The line that pulls, laid out."""
        return next(line for line in self.loaded if line.plan.line.role == "pull")

    @property
    def places(self) -> tuple[str, ...]:
        """Every place of the rig once, in the order it is met."""
        return tuple(dict.fromkeys(meeting.at for meeting in self.meetings))


def lay_out(situation: Situation, rig: Rig) -> Layout:
    """Lay a rig out; it must be sound (see `soundness`)."""
    loaded = []
    holds = 0
    for line in rig.lines:
        key = LINE_KEYS[rig.method]
        if line.role == "hold":
            holds += 1
            key = f"{hold_prefix(holds)}load"
        loaded.append(LoadedLine(plan_line(situation, line), key))
    lines = tuple(loaded)
    meetings = meetings_of(lines)
    return Layout(situation, rig, lines, meetings, mounts_of(situation, lines, meetings))


def given_values(situation: Situation, rig: Rig) -> Values:
    """Return the data that the steps start from, in SI."""
    stuck, ground = situation.stuck, situation.ground
    return {
        "mass": stuck.mass,
        "gravity": STANDARD_GRAVITY,
        "slope_read": ground.slope,
        "exit_off_uphill": off_uphill(stuck.exit or 0.0, ground.downhill),
        "coefficient": ground.coefficient,
        "bogging_factor": BOGGING[ground.bogged],
        "recovery_mass": situation.recovery.mass if situation.recovery else None,
        "recovery_weight": recovery_weight(situation),
        "speed": rig.speed,
        "drive": rig.drive,
    }


def chain_of(layout: Layout) -> Chain:
    """Return the chain of steps of a rig."""
    return Chain(given_values(layout.situation, layout.rig), tuple(_steps(layout)))


def _steps(layout: Layout) -> Iterator[Step]:
    yield from force_steps(layout)
    yield from item_steps(layout.situation, layout.mounts)
    plans = [line.plan for line in layout.loaded]
    yield stand_off_step(layout.situation, layout.rig, plans)


def force_steps(layout: Layout) -> Iterator[Step]:
    """Yield the steps down to the load and the use of each place: all but those of the gear."""
    situation, plan = layout.situation, layout.pull_line.plan
    steps = lying_steps if situation.stuck.lying else ground_steps
    yield from steps(situation.method)
    if layout.rig.method == "winch":
        yield from pull_steps(situation, plan)
    else:
        yield from straight_pull_steps(situation, plan)
    yield from length_steps(situation, plan)
    yield from drum_steps(situation, plan)
    if layout.rig.method == "kinetic":
        yield from _kinetic(layout)
    elif layout.rig.method == "tow":
        yield from tow_steps(situation, plan)
    for number, line in enumerate(_holding(layout), start=1):
        yield from hold_steps(situation, line.plan, number)
    yield from joint_steps(layout.meetings)
    yield from anchor_steps(situation, layout.meetings)


def _kinetic(layout: Layout) -> tuple[Step, ...]:
    elastic = elastic_line(layout.situation, layout.rig.pull_line)
    limits = _smallest_limits(layout)
    if elastic is None or elastic.is_straight:
        return kinetic_steps(layout.situation, elastic, limits)
    return stiff_steps(layout.situation, elastic, limits)


def _holding(layout: Layout) -> list[LoadedLine]:
    return [line for line in layout.loaded if line.plan.line.role == "hold"]


def _smallest_limits(layout: Layout) -> tuple[float | None, float | None]:
    """Return the smallest limit and the smallest strength in the path of the pull line."""
    path = {layout.pull_line.key}
    for meeting in layout.meetings:
        if meeting.loaded is layout.pull_line:
            path |= {meeting.key, place_key(meeting.at)}
    mounts = [mount for mount in layout.mounts if mount.load_key in path]
    limits = (limit_of(layout.situation, mount) for mount in mounts)
    strengths = (strength_of(layout.situation, mount) for mount in mounts)
    return (
        min((limit for limit in limits if limit is not None), default=None),
        min((strength for strength in strengths if strength is not None), default=None),
    )
