"""A rig that a search found, and how an experienced instructor would rank it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from coursekit.rigging.layout_kind import layout_kind
from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import Solution

# Ranking looks no closer than this, so that the dust of floats decides nothing.
_DIGITS = 9


@dataclass(frozen=True)
class FoundRig:
    """The best rig of one layout, solved.

    `assignments` counts the ways to put single items of the gear at hand into the slots of
    the layout (lines, shackles, slings, pulleys) so that no limit is passed; each sling in
    the hitch that carries most, dampers not counted.  `strongest` is the way with the
    smallest worst use, and it is the one that is shown: a limit is what hurts people.
    """

    rig: Rig
    solution: Solution
    assignments: int

    @property
    def strongest(self) -> Rig:
        """The rig of this layout whose weakest part uses least of its limit."""
        return self.rig

    @property
    def kind(self) -> str:
        """What the trade calls the layout."""
        return layout_kind(self.rig)

    @property
    def pull(self) -> float:
        """The force in the line that brings the vehicle out: at the winch, or steady in a strap."""
        return float(self.solution.values["pull"])

    @property
    def load(self) -> float:
        """The load that lines and points are held to: with the allowance of a tow or a snatch."""
        return float(self.solution.values[self.solution.layout.pull_line.key])

    @property
    def worst_use(self) -> float:
        """The share of its limit that the weakest part uses."""
        weakest = self.solution.weakest
        return weakest.use if weakest else 0.0

    @property
    def parts(self) -> int:
        """How many line parts bear on the stuck vehicle."""
        return self.solution.layout.pull_line.plan.parts_on("stuck_vehicle")

    @property
    def pieces(self) -> int:
        """How many pieces the rig takes; dampers and holding lines are never charged."""
        return self.rig.pieces

    @property
    def line_left(self) -> float:
        """How much line is left when it is laid out."""
        values = self.solution.values
        return float(values["line.available"] - values["line.needed"])

    @property
    def holds_at_stall(self) -> bool:
        """Whether nothing passes its limit should the vehicle hang up and the winch stall."""
        return not any(found.rule == "stall-over-limit" for found in self.solution.findings)

    @property
    def speeds(self) -> tuple[float, float] | None:
        """The window of closing speeds of a kinetic pull: the lowest that moves, the highest."""
        values = self.solution.values
        if self.rig.method != "kinetic":
            return None
        return values["kinetic.speed.lowest"], values["kinetic.speed.highest"]

    @property
    def rank(self) -> tuple[Any, ...]:
        """What puts it before another rig, smallest first.

        A steady pull before a snatch, then fewest pieces, then what holds at a stall, then
        the smallest worst use, then the most line left.  Alike in all of this, the order of
        the file decides.
        """
        return (
            self.rig.method == "kinetic",
            self.pieces,
            not self.holds_at_stall,
            round(self.worst_use, _DIGITS),
            -round(self.line_left, _DIGITS),
        )


@dataclass(frozen=True)
class Search:
    """What a search examined and found, the best rig first.

    `examined` counts layouts; `solves` the rigs solved to confirm what is listed.  It is
    complete where it was not cancelled, met no bound, and left no kind of pulley out.
    """

    examined: int
    solves: int
    rigs: tuple[FoundRig, ...]
    is_complete: bool

    @property
    def best(self) -> FoundRig | None:
        """The rig that an experienced instructor would build; None where none is safe."""
        return self.rigs[0] if self.rigs else None
