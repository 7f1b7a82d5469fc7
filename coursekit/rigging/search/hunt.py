"""One layout after the other: its forces, its gear, and a solve that confirms the rig."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from coursekit.rigging.findings import findings_whatever_the_joints
from coursekit.rigging.rig import Piece, Rig
from coursekit.rigging.search.candidate import Candidate, candidate_of
from coursekit.rigging.search.fits import Demand, Fitting, fixed_uses
from coursekit.rigging.search.forces import Forces, forces_of, leads_out
from coursekit.rigging.search.found import FoundRig
from coursekit.rigging.search.pattern import PULLEY, Pattern, Slot
from coursekit.rigging.search.stock import Stock, Turn, turn_of
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import Solution, solve

Turns = Mapping[Slot, Turn]
# So many kinds of pulley are tried at each turn, the most efficient ones.
MOST_KINDS_OF_PULLEY = 4
# How often gear that a solve turns down is taken out of its slot before a layout is given up.
_MOST_TURNED_DOWN = 4


@dataclass
class Hunt:
    """Looks at layouts of one situation.

    It counts the rigs that it solves, and its looks: layouts with their pulleys chosen.
    `has_left_out` says that there were more kinds of pulley than are tried.
    """

    situation: Situation
    stock: Stock
    solves: int = 0
    looks: int = 0
    has_left_out: bool = False
    _leads_out: dict[tuple[object, ...], bool] = field(default_factory=dict)
    _fitting: Fitting = field(init=False)

    def __post_init__(self) -> None:
        self._fitting = Fitting(self.situation, self.stock)

    def best_of(self, pattern: Pattern) -> FoundRig | None:
        """Return the best rig of a layout, None where no gear makes it safe."""
        best: Solution | None = None
        total = 0
        for candidate in sorted(self._candidates(pattern), key=lambda one: one.worst):
            confirmed: Candidate | None = candidate
            if best is None:
                best, confirmed = self._confirmed(pattern, candidate)
            if confirmed is not None:
                total += self._ways(pattern, confirmed)
        return None if best is None else FoundRig(best.rig, best, total)

    def _candidates(self, pattern: Pattern) -> Iterator[Candidate]:
        """Yield the ways to choose kinds of pulley that leave gear enough for each slot."""
        for turns in self._turns(pattern):
            forces = self._forces(pattern, turns)
            floor = math.inf if forces is None else max(fixed_uses(forces), default=0.0)
            if forces is None or floor > 1.0 or self._is_stopped(forces):
                continue
            demands = self._demands(pattern, turns, forces)
            candidate = candidate_of(pattern, demands, floor, forces.rig.speed)
            if candidate is not None:
                yield candidate

    def _turns(self, pattern: Pattern) -> Iterator[Turns]:
        """Yield the kinds of pulley that may stand at each turn of a layout."""
        at_hand = Counter[Turn]()
        for group in self.stock.pulleys:
            at_hand[turn_of(group.item)] += len(group.ids)
        is_wire = any(self.situation.gear[name].is_wire for name in pattern.pull.made_of)
        kinds = [turn for turn in at_hand if not (is_wire and turn[0] == "pulley-ring")]
        slots = pattern.pulley_slots()
        if slots and len(kinds) > MOST_KINDS_OF_PULLEY:
            self.has_left_out = True
            kinds = sorted(kinds, key=lambda turn: -turn[1])[:MOST_KINDS_OF_PULLEY]
        for chosen in itertools.product(kinds, repeat=len(slots)):
            if all(count <= at_hand[turn] for turn, count in Counter(chosen).items()):
                yield dict(zip(slots, chosen, strict=True))

    def _forces(self, pattern: Pattern, turns: Turns) -> Forces | None:
        """Return the forces with these kinds of pulley, None where they lead nowhere."""
        self.looks += 1
        dampers = self.stock.dampers[: len(pattern.lines)]
        skeleton = pattern.rig(self._some_pulleys(turns), dampers)
        if not self._points_out(pattern, turns, skeleton):
            return None
        return forces_of(self.situation, skeleton)

    def _is_stopped(self, forces: Forces) -> bool:
        """Whether lines, ground or speed are against a layout, whatever joins them."""
        also = self.situation.policy.stop_on
        found = findings_whatever_the_joints(forces.layout, forces.values)
        return any(finding.stops(also) or finding.leaves_stuck for finding in found)

    def _some_pulleys(self, turns: Turns) -> dict[Slot, Piece]:
        """Return a pulley of the right kind for each turn; another of its kind loads alike."""
        taken: set[str] = set()
        pieces = {}
        for slot, turn in turns.items():
            of_kind = (g for g in self.stock.pulleys if turn_of(g.item) == turn)
            item = next(i for group in of_kind for i in group.ids if i not in taken)
            taken.add(item)
            pieces[slot] = Piece(item)
        return pieces

    def _points_out(self, pattern: Pattern, turns: Turns, skeleton: Rig) -> bool:
        key = (pattern.method, pattern.pull.stations, *turns.values())
        if key not in self._leads_out:
            self._leads_out[key] = leads_out(self.situation, skeleton)
        return self._leads_out[key]

    def _demands(self, pattern: Pattern, turns: Turns, forces: Forces) -> list[Demand]:
        """Return what each slot asks, the heaviest first."""
        demands = []
        for slot in (*pattern.slots(self.situation), *pattern.pulley_slots()):
            turn = turns.get(Slot(slot.line, slot.number, PULLEY, slot.at))
            kinetic = pattern.method == "kinetic" and slot.line == 0
            load = forces.on_slot(slot) or 0.0
            demands.append(self._fitting.demand(slot, load, turn, kinetic=kinetic))
        return sorted(demands, key=lambda demand: -demand.load)

    def _confirmed(
        self, pattern: Pattern, candidate: Candidate
    ) -> tuple[Solution | None, Candidate | None]:
        """Return the best rig of a candidate as it is solved, and what of it holds good.

        What a solve turns down is taken out of its slot, and the next best tried.
        """
        for _ in range(_MOST_TURNED_DOWN):
            pieces = candidate.chosen(pattern)
            dampers = self.stock.dampers[: len(pattern.lines)]
            solution = self._solved(pattern.rig(pieces, dampers, candidate.speed))
            if solution.is_good:
                return solution, candidate
            turned_down = _turned_down(solution, pieces)
            if not turned_down:
                break
            less = candidate.without(turned_down, pattern)
            if less is None:
                break
            candidate = less
        return None, None

    def _solved(self, rig: Rig) -> Solution:
        self.solves += 1
        return solve(self.situation, rig)

    def _ways(self, pattern: Pattern, candidate: Candidate) -> int:
        """Return in how many ways single items can stand in the slots and for the lines."""
        of = {i: group for group in self.stock.alike for i in group.ids}
        lines = Counter(of[name].name for name in pattern.used_in_order)
        ways_of_lines = math.prod(math.perm(len(of[name].ids), n) for name, n in lines.items())
        return ways_of_lines * candidate.ways(pattern)


def _turned_down(solution: Solution, pieces: Mapping[Slot, Piece]) -> dict[Slot, str]:
    """Return the gear that a solve found fault with, by slot."""
    against = {found.item for found in solution.stops}
    against |= {found.item for found in solution.findings if found.leaves_stuck}
    return {slot: piece.item for slot, piece in pieces.items() if piece.item in against}
