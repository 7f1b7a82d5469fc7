"""One layout after the other: its forces, its gear, and a solve that confirms the rig."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from coursekit.rigging.rig import Piece, Rig
from coursekit.rigging.search.assignment import first_choice, smallest_worst_use, ways
from coursekit.rigging.search.fits import Demand, Fitting, fixed_uses
from coursekit.rigging.search.forces import Forces, forces_of, leads_out
from coursekit.rigging.search.found import FoundRig
from coursekit.rigging.search.pattern import PULLEY, SLING, Pattern, Slot
from coursekit.rigging.search.stock import Stock, Turn, turn_of
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import Solution, solve

Turns = Mapping[Slot, Turn]
# How often gear that a solve turns down is taken out of its slot before a layout is given up.
_MOST_TURNED_DOWN = 4


@dataclass
class Hunt:
    """Looks at layouts of one situation; counts the rigs that it solves."""

    situation: Situation
    stock: Stock
    solves: int = 0
    _leads_out: dict[tuple[object, ...], bool] = field(default_factory=dict)

    def best_of(self, pattern: Pattern) -> FoundRig | None:
        """Return the best rig of a layout, None where no gear makes it safe."""
        best: Solution | None = None
        total = 0
        for turns in self._turns(pattern):
            found, count = self._with_turns(pattern, turns)
            total += count
            if found is not None and (best is None or _use(found) < _use(best)):
                best = found
        return None if best is None else FoundRig(best.rig, best, total)

    def _turns(self, pattern: Pattern) -> Iterator[Turns]:
        """Yield the kinds of pulley that may stand at each turn of a layout."""
        at_hand = Counter[Turn]()
        for group in self.stock.pulleys:
            at_hand[turn_of(group.item)] += len(group.ids)
        is_wire = any(self.situation.gear[name].is_wire for name in pattern.pull.made_of)
        kinds = [turn for turn in at_hand if not (is_wire and turn[0] == "pulley-ring")]
        slots = pattern.pulley_slots()
        for chosen in itertools.product(kinds, repeat=len(slots)):
            if all(count <= at_hand[turn] for turn, count in Counter(chosen).items()):
                yield dict(zip(slots, chosen, strict=True))

    def _with_turns(self, pattern: Pattern, turns: Turns) -> tuple[Solution | None, int]:
        """Return the best rig with these kinds of pulley, and the number of ways to build it."""
        skeleton = pattern.rig(self._some_pulleys(turns))
        if not self._points_out(pattern, turns, skeleton):
            return None, 0
        forces = forces_of(self.situation, skeleton)
        if forces is None:
            return None, 0
        floor = max(fixed_uses(forces), default=0.0)
        if floor > 1.0:
            return None, 0
        return self._filled(pattern, forces, floor, self._demands(pattern, turns, forces))

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
        fitting = Fitting(self.situation, self.stock, pattern, turns)
        slots = (*pattern.slots(self.situation), *pattern.pulley_slots())
        demands = [fitting.demand(slot, forces.on_slot(slot) or 0.0) for slot in slots]
        return sorted(demands, key=lambda demand: -demand.load)

    def _filled(
        self, pattern: Pattern, forces: Forces, floor: float, demands: Sequence[Demand]
    ) -> tuple[Solution | None, int]:
        used = frozenset(name for line in pattern.lines for name in line.made_of)
        for _ in range(_MOST_TURNED_DOWN):
            pieces = _chosen(demands, used, floor, pattern.method)
            if pieces is None:
                return None, 0
            dampers = self.stock.dampers[: len(pattern.lines)]
            solution = self._solved(pattern.rig(pieces, dampers, forces.rig.speed))
            if solution.is_good:
                return solution, self._ways(pattern, demands, used)
            turned_down = _turned_down(solution, pieces)
            if not turned_down:
                return None, 0
            demands = [_without(demand, turned_down) for demand in demands]
        return None, 0

    def _solved(self, rig: Rig) -> Solution:
        self.solves += 1
        return solve(self.situation, rig)

    def _ways(self, pattern: Pattern, demands: Sequence[Demand], used: frozenset[str]) -> int:
        total = self._ways_of_lines(pattern)
        for parts in ({SLING}, {PULLEY}, {"joiner", "connector"}):
            here = [demand for demand in demands if demand.slot.part in parts]
            at_hand = {
                name: sum(i not in used for i in group.ids)
                for demand in here
                for name, group in demand.groups.items()
            }
            total *= ways([frozenset(demand.uses) for demand in here], at_hand)
        return total

    def _ways_of_lines(self, pattern: Pattern) -> int:
        """Return in how many ways alike lines can stand for each other."""
        of = {i: group for group in self.stock.alike for i in group.ids}
        used = Counter(of[name].name for line in pattern.lines for name in line.made_of)
        return math.prod(math.perm(len(of[name].ids), count) for name, count in used.items())


def _chosen(
    demands: Sequence[Demand], used: frozenset[str], floor: float, method: str
) -> dict[Slot, Piece] | None:
    """Return the gear with the smallest worst use, the strongest where the load is highest.

    On a kinetic line what is not metal goes first: it is the lighter missile.
    """
    single = [_single_items(demand, used, len(demands)) for demand in demands]
    worst = smallest_worst_use(single)
    if worst is None:
        return None
    allowed = max(floor, worst)
    orders = (
        _preferred(demand, uses, allowed, light=method == "kinetic")
        for demand, uses in zip(demands, single, strict=True)
    )
    chosen = first_choice(list(orders))
    if chosen is None:
        return None
    return {demand.slot: _piece(demand, item) for demand, item in zip(demands, chosen, strict=True)}


def _preferred(
    demand: Demand, uses: Mapping[str, float], allowed: float, *, light: bool
) -> list[str]:
    """Return the items of a slot, the strongest first; where it should be light, metal last."""
    of = {item: group.item for group in demand.groups.values() for item in group.ids}

    def weight(item: str) -> tuple[bool, float]:
        return light and of[item].is_metal, uses[item]

    return sorted((item for item, use in uses.items() if use <= allowed), key=weight)


def _single_items(demand: Demand, used: frozenset[str], slots: int) -> dict[str, float]:
    """Return the single items for a slot; of alike ones no more than there are slots."""
    return {
        item: use
        for name, use in demand.uses.items()
        for item in [i for i in demand.groups[name].ids if i not in used][:slots]
    }


def _piece(demand: Demand, item: str) -> Piece:
    name = next(name for name, group in demand.groups.items() if item in group.ids)
    return replace(demand.hitches[name], item=item)


def _turned_down(solution: Solution, pieces: Mapping[Slot, Piece]) -> dict[Slot, str]:
    """Return the gear that a solve found fault with, by slot."""
    against = {found.item for found in solution.findings if found in solution.stops}
    against |= {found.item for found in solution.findings if found.leaves_stuck}
    return {slot: piece.item for slot, piece in pieces.items() if piece.item in against}


def _without(demand: Demand, turned_down: Mapping[Slot, str]) -> Demand:
    item = turned_down.get(demand.slot)
    kept = {name: use for name, use in demand.uses.items() if item not in demand.groups[name].ids}
    return replace(demand, uses=kept)


def _use(solution: Solution) -> float:
    return solution.weakest.use if solution.weakest else 0.0
