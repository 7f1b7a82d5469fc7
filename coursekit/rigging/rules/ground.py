"""Rules on slope, grip and hold: running away, rolling back, dragging, overloaded anchors."""

from __future__ import annotations

from collections.abc import Iterator

from coursekit.mechanics import anchor as hold_rules
from coursekit.mechanics import resistance
from coursekit.problems import Amount
from coursekit.rigging.chains.build import Layout
from coursekit.rigging.chains.hold import holding_share, runs_away
from coursekit.rigging.chains.joints import force_on_vehicle, place_key
from coursekit.rigging.chains.parked import GRIP, NEED
from coursekit.rigging.chains.tow import recovery_weight
from coursekit.rigging.plan import NO_COMPONENT
from coursekit.rigging.rules.finding import Finding, finding
from coursekit.rigging.steps import Values


def ground_findings(layout: Layout, values: Values) -> Iterator[Finding]:
    """Yield what the ground does to the vehicles and the anchors."""
    yield from _runs_away(layout, values)
    yield from _rolls_back(layout, values)
    yield from _drops(layout)
    yield from _drags(layout, values)
    yield from _anchors(layout, values)
    yield from _parked(layout, values)
    yield from _optimistic_grip(layout)


def _runs_away(layout: Layout, values: Values) -> Iterator[Finding]:
    if not runs_away(values):
        return
    if _is_held(layout):
        return
    yield finding(
        "runs-away",
        "Once free the vehicle rolls down the slope by itself, and no line holds it.",
        at="stuck_vehicle",
    )


def _is_held(layout: Layout) -> bool:
    holding = [line for line in layout.loaded if line.plan.line.role == "hold"]
    return any(holding_share(layout.situation, line.plan) > NO_COMPONENT for line in holding)


def _drops(layout: Layout) -> Iterator[Finding]:
    if layout.situation.stuck.lying and not _is_held(layout):
        yield finding(
            "drops-on-wheels",
            "Past its balance the vehicle drops onto its wheels and may roll on: let it down on "
            "a line from the other side.",
            at="stuck_vehicle",
        )


def _rolls_back(layout: Layout, values: Values) -> Iterator[Finding]:
    # On its side no wheel turns, and righted its wheels stand across the exit.
    if values["bogging_factor"] or layout.situation.stuck.lying:
        return
    if resistance.rolls_back(values["slope"], values["exit_off_uphill"], values["coefficient"]):
        yield finding(
            "rolls-back",
            "When the line goes slack the vehicle rolls back: chock it or hold it first. "
            "A winch brake is no holding line.",
            at="stuck_vehicle",
        )


def _drags(layout: Layout, values: Values) -> Iterator[Finding]:
    recovery = layout.situation.recovery
    if recovery is None or recovery.held == "anchored" or layout.rig.method == "kinetic":
        return
    drags = _tow_slips(values) if layout.rig.method == "tow" else _is_dragged(layout, values)
    if drags:
        yield finding(
            "vehicle-drags",
            "The recovery vehicle would be dragged: its tyres can't hold this on this ground.",
            at="recovery_vehicle",
        )


def _tow_slips(values: Values) -> bool:
    need, grip = values["tow.need"], values["tow.grip"]
    # Below 0 it has to brake by that much: a towed vehicle that is drawn downhill never pushes.
    return need is not None and bool(abs(need) > grip)


def _is_dragged(layout: Layout, values: Values) -> bool:
    situation = layout.situation
    force = force_on_vehicle("recovery_vehicle", layout.loaded, values)
    weight = recovery_weight(situation)
    if force is None or weight is None or situation.recovery is None:
        return False
    grip = situation.grip(situation.recovery)
    downhill = situation.ground.downhill or 0.0
    if not any(line.plan.stations_on("recovery_vehicle") for line in layout.loaded):
        return False
    return hold_rules.drags(*force, weight, situation.ground.slope, downhill, grip)


def _anchors(layout: Layout, values: Values) -> Iterator[Finding]:
    for at in layout.places:
        holds = values.get(f"place.{at}.holds")
        load = values[place_key(at)]
        if holds is not None and load is not None and load > holds:
            yield finding(
                "anchor-overloaded",
                "{at} is loaded with {load}, and it may carry {holds}.",
                at=at,
                load=Amount(load, "N", "up"),
                holds=Amount(holds, "N", "down"),
            )


def _parked(layout: Layout, values: Values) -> Iterator[Finding]:
    for at in layout.places:
        need, grip = values.get(f"place.{at}.{NEED}"), values.get(f"place.{at}.{GRIP}")
        if need is not None and grip is not None and need > grip:
            yield finding(
                "vehicle-drags",
                "{at} would be dragged: its tyres can't hold this on this ground.",
                at=at,
            )


def _optimistic_grip(layout: Layout) -> Iterator[Finding]:
    table = layout.situation.ground.table_grip
    recovery = layout.situation.recovery
    if recovery is not None and recovery.grip is not None and recovery.grip > table:
        yield finding(
            "optimistic",
            "The recovery vehicle's grip is taken as {own:g}; the table has {table:g} here.",
            at="recovery_vehicle",
            own=recovery.grip,
            table=table,
        )
    for at in layout.places:
        anchor = layout.situation.anchors.get(at)
        if anchor is not None and anchor.grip is not None and anchor.grip > table:
            yield finding(
                "optimistic",
                "The grip of {at} is taken as {own:g}; the table has {table:g} here.",
                at=at,
                own=anchor.grip,
                table=table,
            )
