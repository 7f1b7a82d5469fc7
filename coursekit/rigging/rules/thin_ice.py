"""The rule on thin ice: safe at the stated numbers, and not where the estimates are off."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from coursekit.mechanics.ranges import OutOfRange
from coursekit.rigging.chains.build import Layout, chain_of, given_values, lay_out
from coursekit.rigging.estimates import PESSIMISTIC, misjudged
from coursekit.rigging.rules.finding import CRITICAL, Finding, finding
from coursekit.rigging.rules.ground import ground_findings
from coursekit.rigging.rules.lines import line_findings
from coursekit.rigging.rules.loads import over_limit_findings
from coursekit.rigging.site import Spread
from coursekit.rigging.steps import Chain, Values


def thin_ice_findings(layout: Layout, chain: Chain) -> Iterator[Finding]:
    """Yield what would be critical with every estimate at the end that asks more."""
    if layout.situation.spread is None:
        return
    try:
        worse, values = _at_the_worst(layout, chain)
    except OutOfRange:
        return
    seen: set[tuple[str, str | None, str | None]] = set()
    for found in _critical(worse, values):
        if (found.rule, found.at, found.item) not in seen:
            seen.add((found.rule, found.at, found.item))
            yield _on_thin_ice(layout.situation.spread, found)


def _at_the_worst(layout: Layout, chain: Chain) -> tuple[Layout, Values]:
    situation = misjudged(layout.situation, PESSIMISTIC)
    rig = layout.rig
    if any(line.pulleys for line in rig.lines):
        # Pulleys share out the tensions: the steps are another chain's.
        worse = lay_out(situation, rig)
        return worse, chain_of(worse).fold()
    worse = replace(layout, situation=situation)
    return worse, Chain(given_values(situation, rig), chain.steps).fold()


def _critical(layout: Layout, values: Values) -> Iterator[Finding]:
    yield from (
        found
        for found in (
            *over_limit_findings(layout, values),
            *ground_findings(layout, values),
            *line_findings(layout, values),
        )
        if found.severity == CRITICAL
    )


def _on_thin_ice(spread: Spread, found: Finding) -> Finding:
    return finding(
        "thin-ice",
        "Safe at the stated numbers only: with {mass:.0f} % more mass, {rolling:.0f} % more "
        "rolling resistance, {slope:.1f} deg more slope and pulleys {efficiency:.0f} % worse, "
        "{what} would be past what it can take ({critical}).",
        at=found.at,
        item=found.item,
        mass=spread.mass * 100.0,
        rolling=spread.rolling * 100.0,
        slope=math.degrees(spread.slope),
        efficiency=spread.efficiency * 100.0,
        what=found.item or found.at,
        critical=found.rule,
    )
