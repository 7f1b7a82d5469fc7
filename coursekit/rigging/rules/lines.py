"""Rules on lines: direction, length, the winch, kinetic gear on a winch, dampers, joints."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace

from coursekit.mechanics.elementary import degrees
from coursekit.mechanics.nomenclature import Metre, Radian
from coursekit.problems import Amount
from coursekit.rigging.chains.build import Layout
from coursekit.rigging.chains.hold import hold_prefix, holding_share, must_be_held
from coursekit.rigging.chains.joints import LoadedLine
from coursekit.rigging.gear import JOINERS, KINETIC_LINES
from coursekit.rigging.plan import (
    NO_COMPONENT,
    angle_between,
    has_component,
    plan_line,
    scaled,
    unit_vector,
)
from coursekit.rigging.rules.finding import Finding, finding
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import Values
from coursekit.rigging.vehicle import Position

OFF_LINE_PULL = math.radians(30.0)
OFF_LINE_KINETIC = math.radians(10.0)
_DUST = 1e-9


def line_findings(layout: Layout, values: Values) -> Iterator[Finding]:
    """Yield what the lines of a rig show."""
    yield from _direction(layout)
    if must_be_held(layout.situation, values):
        yield from _holds_nothing(layout)
    for loaded, prefix in _with_prefix(layout):
        yield from _lengths(loaded, values, prefix)
        yield from _winch(loaded, values, prefix)
        yield from _kinetic_on_winch(layout, loaded)
        yield from _kinetic_holds(layout, loaded)
        yield from _damper(layout, loaded)
    yield from _fades(layout, values)
    yield from _joints_that_reach_pulleys(layout)


def _with_prefix(layout: Layout) -> Iterator[tuple[LoadedLine, str]]:
    holds = 0
    for loaded in layout.loaded:
        if loaded.plan.line.role == "hold":
            holds += 1
            yield loaded, hold_prefix(holds)
        else:
            yield loaded, ""


def _direction(layout: Layout) -> Iterator[Finding]:
    situation, plan = layout.situation, layout.pull_line.plan
    exit_way = unit_vector(situation.stuck.exit or 0.0)
    force = plan.force_on("stuck_vehicle")
    off = angle_between(force, exit_way)
    if not has_component(force, exit_way):
        yield finding(
            "wrong-direction",
            "The pull has no component along the exit: it would not bring the vehicle out.",
            at="stuck_vehicle",
        )
    elif (rule := off_line_rule(layout.rig.method, off)) is not None:
        yield _off_line(rule, off, _off_line_limit(layout.rig.method))


def _holds_nothing(layout: Layout) -> Iterator[Finding]:
    holding = [loaded.plan for loaded in layout.loaded if loaded.plan.line.role == "hold"]
    for plan in holding:
        if holding_share(layout.situation, plan) <= NO_COMPONENT:
            yield finding(
                "wrong-direction",
                "The holding line does not pull against the exit: it holds nothing.",
                at=plan.line.to.at,
            )


def off_line_rule(method: str, off: Radian) -> str | None:
    """Return the rule that a pull so far off the exit meets, None where it is near enough.

    >>> off_line_rule("winch", math.radians(31.0)), off_line_rule("winch", math.radians(30.0))
    ('off-line-pull', None)
    """
    if off <= _off_line_limit(method) + _DUST:
        return None
    return "off-line-kinetic" if method == "kinetic" else "off-line-pull"


def _off_line_limit(method: str) -> Radian:
    return OFF_LINE_KINETIC if method == "kinetic" else OFF_LINE_PULL


def _off_line(rule: str, off: Radian, limit: Radian) -> Finding:
    return finding(
        rule,
        "The pull is {off:.0f} deg off the exit; beyond {limit:.0f} deg it loads points sideways "
        "and slews the vehicle.",
        at="stuck_vehicle",
        off=degrees(off),
        limit=degrees(limit),
    )


def reaches(available: Metre, needed: Metre) -> bool:
    """Whether the line at hand is long enough; a hair of float dust is forgiven."""
    return needed <= available * (1.0 + _DUST)


def _lengths(loaded: LoadedLine, values: Values, prefix: str) -> Iterator[Finding]:
    needed, available = values[f"{prefix}line.needed"], values[f"{prefix}line.available"]
    end = loaded.plan.line.to.at
    if not reaches(available, needed):
        yield finding(
            "line-too-short",
            "The way is {needed}, and only {available} of line can be used.",
            at=end,
            needed=Amount(needed, "m", "up"),
            available=Amount(available, "m", "down"),
        )
    paid_out = values.get(f"{prefix}winch.paid_out")
    if paid_out is not None and paid_out < -_DUST:
        yield finding(
            "line-too-long",
            "The extension is longer than the way: the winch can't take up the slack.",
            at=end,
        )


def _winch(loaded: LoadedLine, values: Values, prefix: str) -> Iterator[Finding]:
    available = values.get(f"{prefix}pull.available")
    load = values[loaded.key]
    if available is not None and load is not None and load > available:
        yield finding(
            "winch-overloaded",
            "The winch has {available} on its working layer, and {load} is needed.",
            at=loaded.plan.line.start,
            available=Amount(available, "N", "down"),
            load=Amount(load, "N", "up"),
        )


def _fades(layout: Layout, values: Values) -> Iterator[Finding]:
    end, pull = values.get("pull.available.end"), values["pull"]
    if end is None or pull is None or pull > values["pull.available"]:
        return
    if pull > end:
        yield finding(
            "winch-fades",
            "As line comes in the layers build up: before the end the winch has too little pull.",
            at=layout.pull_line.plan.line.start,
        )


def _kinetic_on_winch(layout: Layout, loaded: LoadedLine) -> Iterator[Finding]:
    if not loaded.plan.line.starts_at_winch:
        return
    for name in loaded.plan.line.made_of:
        if layout.situation.gear[name].kind in KINETIC_LINES:
            yield finding(
                "kinetic-as-winch-line",
                "{item} stretches and stores the winch's work: never in a winch line.",
                item=name,
            )


def _kinetic_holds(layout: Layout, loaded: LoadedLine) -> Iterator[Finding]:
    line = loaded.plan.line
    if line.role != "hold" or line.starts_at_winch:
        return
    for name in line.made_of:
        if layout.situation.gear[name].kind in KINETIC_LINES:
            yield finding(
                "kinetic-as-hold-line",
                "{item} stretches: the vehicle gathers way before it holds, and is thrown back. "
                "A holding line must not stretch.",
                item=name,
            )


def _damper(layout: Layout, loaded: LoadedLine) -> Iterator[Finding]:
    line = loaded.plan.line
    if line.dampers:
        return
    is_wire = any(layout.situation.gear[name].is_wire for name in line.made_of)
    is_snatch = layout.rig.method == "kinetic" and line.role == "pull"
    if is_wire or is_snatch:
        text = "No damper lies on this line: a wire or kinetic line takes one."
        yield finding("damper-required", text, at=line.start)
    else:
        yield finding("no-damper", "No damper lies on this line.", at=line.start)


def _joints_that_reach_pulleys(layout: Layout) -> Iterator[Finding]:
    travel = layout.situation.stuck.travel
    line = layout.pull_line.plan.line
    if not travel or not line.starts_at_winch or not line.pulleys or not line.made_of[1:]:
        return
    before, after = layout.pull_line.plan, plan_line(_travelled(layout, travel), line)
    taken_in = before.length - after.length
    for joint in _joint_distances(layout):
        for number, pulley in enumerate(line.pulleys, start=1):
            ahead = joint - math.fsum(before.lengths[:number])
            left = joint - taken_in - math.fsum(after.lengths[:number])
            if ahead > _DUST >= left:
                yield finding(
                    "joint-at-pulley",
                    "On the way a joint of the line would reach the pulley at {at}.",
                    at=pulley.at,
                    item=pulley.by,
                )


def _travelled(layout: Layout, travel: float) -> Situation:
    """Return the situation with the stuck vehicle at the end of its travel."""
    stuck = layout.situation.stuck
    step = scaled(unit_vector(stuck.exit or 0.0), travel)
    at: Position = (stuck.at[0] + step[0], stuck.at[1] + step[1])
    return replace(layout.situation, stuck=replace(stuck, at=at))


def _joint_distances(layout: Layout) -> Iterator[float]:
    """Yield how far along the path, from the winch, each joint of the line stands."""
    plan = layout.pull_line.plan
    items = [layout.situation.gear[name] for name in plan.line.made_of]
    at = plan.length - math.fsum(item.line_length for item in items[1:])
    for before, item in itertools.pairwise(items):
        if before.kind not in JOINERS:
            yield at
        at += item.line_length
