"""What a solved rig shows: the rules by name, how grave each is, and where it holds.

The rules themselves stand in `rules/`, by noun.  The critical list is closed:
a rule that is added is major or a note.
"""

from __future__ import annotations

from collections.abc import Iterator

from coursekit.rigging.chains.build import Layout
from coursekit.rigging.rules.finding import CRITICAL, MAJOR, NOTE, RULES, Finding
from coursekit.rigging.rules.ground import ground_findings
from coursekit.rigging.rules.items import item_findings
from coursekit.rigging.rules.joints import joint_findings
from coursekit.rigging.rules.kinetic import kinetic_findings
from coursekit.rigging.rules.lines import line_findings
from coursekit.rigging.rules.loads import load_findings, over_limit_findings, stall_findings
from coursekit.rigging.rules.thin_ice import thin_ice_findings
from coursekit.rigging.steps import Chain, Values

__all__ = [
    "CRITICAL",
    "MAJOR",
    "NOTE",
    "RULES",
    "Finding",
    "findings_of",
    "findings_whatever_the_joints",
    "is_good",
]

_GRAVITY_ORDER = (CRITICAL, MAJOR, NOTE)


def findings_of(layout: Layout, chain: Chain, values: Values) -> tuple[Finding, ...]:
    """Return every finding of a rig, the gravest first."""
    found = list(_all(layout, chain, values))
    if not any(finding.severity == CRITICAL for finding in found):
        found += thin_ice_findings(layout, chain)
    return tuple(sorted(found, key=lambda finding: _GRAVITY_ORDER.index(finding.severity)))


def is_good(layout: Layout, chain: Chain, values: Values) -> bool:
    """Whether a rig is safe, passes the school's own stops, and does the job.

    The same as nothing against it among all findings, and sooner known: it ends at the
    first that stands against it, and works out no note.
    """
    stops = layout.situation.policy.stop_on
    return not any(
        found.severity == CRITICAL or found.rule in stops or found.leaves_stuck
        for found in _grave(layout, chain, values)
    )


def _grave(layout: Layout, chain: Chain, values: Values) -> Iterator[Finding]:
    yield from item_findings(layout)
    yield from joint_findings(layout)
    yield from over_limit_findings(layout, values)
    yield from findings_whatever_the_joints(layout, values)
    if "stall-over-limit" in layout.situation.policy.stop_on:
        yield from stall_findings(layout, chain, values)


def _all(layout: Layout, chain: Chain, values: Values) -> Iterator[Finding]:
    yield from item_findings(layout)
    yield from joint_findings(layout)
    yield from findings_whatever_the_joints(layout, values)
    yield from load_findings(layout, chain, values)


def findings_whatever_the_joints(layout: Layout, values: Values) -> Iterator[Finding]:
    """Yield what lines, ground and speed show: no shackle or sling makes a difference to it."""
    yield from ground_findings(layout, values)
    yield from line_findings(layout, values)
    yield from kinetic_findings(layout, values)
