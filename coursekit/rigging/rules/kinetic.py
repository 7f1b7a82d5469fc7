"""Rules that hold for a kinetic pull only."""

from __future__ import annotations

from collections.abc import Iterator

from coursekit.mechanics.resistance import weight
from coursekit.mechanics.tables import STRAP_RANGE
from coursekit.rigging.chains.build import Layout
from coursekit.rigging.gear import Item
from coursekit.rigging.rules.finding import Finding, finding
from coursekit.rigging.steps import Values


def kinetic_findings(layout: Layout, values: Values) -> Iterator[Finding]:
    """Yield what a kinetic pull shows; nothing for other rigs."""
    if layout.rig.method != "kinetic":
        return
    items = [layout.situation.gear[name] for name in layout.rig.pull_line.made_of]
    yield from _elastic_part(items)
    yield from _unknown_stretch(items)
    yield from _metal_between(items)
    yield from _metal_at_points(layout)
    yield from _sunk(layout)
    yield from _lying(layout)
    yield from _strap(layout, items)
    if values["kinetic.breaks_out"] is False:
        yield finding(
            "no-breakout",
            "At this speed the peak stays under the resistance: the vehicle does not move.",
            at="stuck_vehicle",
        )


def _elastic_part(items: list[Item]) -> Iterator[Finding]:
    chains = [item for item in items if item.kind == "chain"]
    if chains or not any(item.is_elastic for item in items):
        culprit = chains[0] if chains else items[0]
        yield finding(
            "static-in-kinetic",
            "{item} does not stretch: in a kinetic pull it takes the blow undamped.",
            item=culprit.id,
        )


def _unknown_stretch(items: list[Item]) -> Iterator[Finding]:
    for item in items:
        if item.is_elastic and item.mbs is None:
            yield finding(
                "stretch-unknown",
                "The stretch of {item} is a share of its breaking strength, and it states none: "
                "nobody knows its peak.",
                item=item.id,
            )


def _metal_between(items: list[Item]) -> Iterator[Finding]:
    for item in items[1:-1]:
        if item.is_metal:
            yield finding(
                "metal-joiner",
                "{item} is metal between two parts of a kinetic line: should one part, it flies.",
                item=item.id,
            )


def _metal_at_points(layout: Layout) -> Iterator[Finding]:
    line = layout.rig.pull_line
    for at, pieces in ((line.start, line.joined_with), (line.to.at, line.to.joined_with)):
        for piece in pieces:
            item = layout.situation.gear[piece.item]
            if item.is_metal:
                yield finding(
                    "metal-in-kinetic",
                    "{item} is steel in a kinetic line; a rated soft shackle is lighter.",
                    at=at,
                    item=item.id,
                )


def _sunk(layout: Layout) -> Iterator[Finding]:
    if layout.situation.ground.bogged in ("sills", "bonnet"):
        yield finding(
            "snatch-sunk",
            "Sunk to the {bogged} the vehicle is no case for a snatch: dig first, or winch.",
            at="stuck_vehicle",
            bogged=layout.situation.ground.bogged,
        )


def _lying(layout: Layout) -> Iterator[Finding]:
    if layout.situation.stuck.lying:
        yield finding(
            "kinetic-on-lying",
            "A vehicle on its side is righted slowly by a winch or a steady pull: a snatch "
            "throws it over.",
            at="stuck_vehicle",
        )


def _strap(layout: Layout, items: list[Item]) -> Iterator[Finding]:
    masses = [vehicle.mass for _, vehicle in layout.situation.vehicles()]
    lighter = weight(min(masses))
    for item in items:
        if item.kind != "kinetic-strap" or item.mbs is None:
            continue
        times = item.mbs / lighter
        if not STRAP_RANGE[0] <= times <= STRAP_RANGE[1]:
            yield finding(
                "strap-mismatch",
                "{item} breaks at {times:.1f} times the lighter vehicle's mass; "
                "2 to 3 times suits it.",
                item=item.id,
                times=times,
            )
