"""The reference solver: folds the chain of a rig and says what it finds.

It verifies formulas for training on invented scenarios.  It clears no real
pull: the maker's rating, local codes and qualified people decide.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from coursekit.mechanics.nomenclature import Newton, Radian, Ratio
from coursekit.problems import Problems
from coursekit.rigging.chains.build import Layout, chain_of, lay_out
from coursekit.rigging.chains.joints import force_on_place, place_key
from coursekit.rigging.chains.mounts import Mount
from coursekit.rigging.findings import Finding, findings_of
from coursekit.rigging.plan import bearing_of
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.soundness import rig_problems
from coursekit.rigging.steps import Chain

# Part of every stored attempt: raise it when a number or a finding may change.
SOLVER_VERSION = "2"

_PLACE_AND_ITEM = ("place.", "item.", "joint.")


@dataclass(frozen=True)
class ItemLoad:
    """What one item carries where it stands, and how much of its limit that is."""

    item: str
    load: Newton | None
    limit: Newton | None
    use: Ratio | None
    safety_factor: Ratio | None


@dataclass(frozen=True)
class LineLoad:
    """The force at a line's start, and the items that the line is made of."""

    start: str
    role: str
    load: Newton | None
    items: tuple[ItemLoad, ...]


@dataclass(frozen=True)
class PlaceLoad:
    """The force on a place, its bearing, what an anchor there holds, and its gear."""

    at: str
    load: Newton | None
    bearing: Radian | None
    holds: Newton | None
    items: tuple[ItemLoad, ...]


@dataclass(frozen=True)
class Weakest:
    """The item, point or anchor that uses most of its limit; `at` is None on a line."""

    item: str
    at: str | None
    use: Ratio


@dataclass(frozen=True)
class Solution:
    """A solved rig: its chain with all values, loads by line and place, and findings."""

    layout: Layout
    chain: Chain
    values: Mapping[str, Any]
    lines: tuple[LineLoad, ...]
    places: tuple[PlaceLoad, ...]
    uses: tuple[Weakest, ...]
    findings: tuple[Finding, ...]

    @property
    def situation(self) -> Situation:
        """The situation that the rig stands in."""
        return self.layout.situation

    @property
    def rig(self) -> Rig:
        """The rig that was solved."""
        return self.layout.rig

    @property
    def weakest(self) -> Weakest | None:
        """What uses most of its limit, None where nothing has one."""
        return max(self.uses, key=lambda use: use.use, default=None)

    @property
    def is_safe(self) -> bool:
        """Whether no finding is critical."""
        return not any(finding.severity == "critical" for finding in self.findings)

    @property
    def stops(self) -> tuple[Finding, ...]:
        """The findings that make an outcome unsafe: critical ones, and the school's own."""
        also = self.situation.policy.stop_on
        return tuple(finding for finding in self.findings if finding.stops(also))

    @property
    def does_the_job(self) -> bool:
        """Whether it would bring the vehicle out, safe or not."""
        return not any(finding.leaves_stuck for finding in self.findings)

    @property
    def is_good(self) -> bool:
        """Whether it is safe, passes the school's own stops, and does the job."""
        return not self.stops and self.does_the_job

    @property
    def quantities(self) -> dict[str, Any]:
        """The values of the whole rig, without those of single places and items."""
        keys = (step.key for step in self.chain if not step.key.startswith(_PLACE_AND_ITEM))
        quantities = {key: self.values[key] for key in keys}
        quantities.setdefault("pull.available", None)
        return quantities


def solve(situation: Situation, rig: Rig) -> Solution:
    """Solve one rig in its situation.

    Raises
    ------
    Problems
        If the rig can't be solved: a place or item that does not exist, a part
        without length, a kinetic pull without its speed.

    Source: the steps carry theirs.  Limits: statics on the plan, one line of motion
    for a kinetic pull, rigid mounts.
    """
    problems = rig_problems(situation, rig)
    if problems:
        raise Problems(problems)
    layout = lay_out(situation, rig)
    chain = chain_of(layout)
    values = chain.fold()
    places = tuple(_place(layout, values, at) for at in layout.places)
    return Solution(
        layout,
        chain,
        values,
        _lines(layout, values),
        places,
        _uses(layout, values),
        findings_of(layout, chain, values),
    )


def _item(mount: Mount, values: Mapping[str, Any]) -> ItemLoad:
    name = mount.item.id
    return ItemLoad(
        name,
        values[mount.load_key],
        values[f"item.{name}.limit"],
        values[f"item.{name}.use"],
        values[f"item.{name}.safety_factor"],
    )


def _lines(layout: Layout, values: Mapping[str, Any]) -> tuple[LineLoad, ...]:
    on_lines = [mount for mount in layout.mounts if mount.at is None]
    return tuple(
        LineLoad(
            loaded.plan.line.start,
            loaded.plan.line.role,
            values[loaded.key],
            tuple(_item(m, values) for m in on_lines if m.load_key == loaded.key),
        )
        for loaded in layout.loaded
    )


def _place(layout: Layout, values: Mapping[str, Any], at: str) -> PlaceLoad:
    force = force_on_place(at, layout.meetings, values)
    return PlaceLoad(
        at,
        values[place_key(at)],
        None if force is None else bearing_of(force),
        values.get(f"place.{at}.holds"),
        tuple(_item(mount, values) for mount in layout.mounts if mount.at == at),
    )


def _uses(layout: Layout, values: Mapping[str, Any]) -> tuple[Weakest, ...]:
    uses = [
        Weakest(mount.item.id, mount.at, use)
        for mount in layout.mounts
        if (use := values[f"item.{mount.item.id}.use"]) is not None
    ]
    for at in layout.places:
        use = values.get(f"place.{at}.use")
        if use is not None:
            uses.append(Weakest(at, at, use))
    return tuple(uses)
