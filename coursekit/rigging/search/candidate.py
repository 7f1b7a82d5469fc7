"""A layout with its kinds of pulley chosen: what each slot asks, and the gear that is best."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from coursekit.rigging.rig import Piece
from coursekit.rigging.search.assignment import first_choice, smallest_worst_use, ways
from coursekit.rigging.search.fits import Demand
from coursekit.rigging.search.pattern import CONNECTOR, JOINER, PULLEY, SLING, Pattern, Slot

# No item of one of these can stand in a slot of another.
_APART = ({SLING}, {PULLEY}, {JOINER, CONNECTOR})


@dataclass(frozen=True)
class Candidate:
    """One way to turn the line of a layout, with what its slots ask, the heaviest first.

    `worst` is the smallest worst use that the gear at hand allows; `floor` the use of what
    the layout has whatever stands in its slots.
    """

    speed: float | None
    floor: float
    worst: float
    demands: tuple[Demand, ...]

    def chosen(self, pattern: Pattern) -> dict[Slot, Piece]:
        """Return the gear with the smallest worst use, the strongest where the load is highest.

        On a kinetic line what is not metal goes first: it is the lighter missile.
        """
        light = pattern.method == "kinetic"
        single = _single_items(pattern, self.demands)
        orders = [
            self._preferred(demand, uses, light=light)
            for demand, uses in zip(self.demands, single, strict=True)
        ]
        chosen = first_choice(orders) or ()
        return {
            demand.slot: demand.piece(i) for demand, i in zip(self.demands, chosen, strict=True)
        }

    def _preferred(self, demand: Demand, uses: Mapping[str, float], *, light: bool) -> list[str]:
        def weight(item: str) -> tuple[bool, float]:
            return light and demand.item(item).is_metal, uses[item]

        return sorted((item for item, use in uses.items() if use <= self.worst), key=weight)

    def ways(self, pattern: Pattern) -> int:
        """Return in how many ways single items can stand in the slots."""
        taken, total = frozenset(pattern.used_in_order), 1
        for parts in _APART:
            here = [demand for demand in self.demands if demand.slot.part in parts]
            at_hand = {
                name: sum(i not in taken for i in group.ids)
                for demand in here
                for name, group in demand.groups.items()
            }
            total *= ways([frozenset(demand.uses) for demand in here], at_hand)
        return total

    def without(self, turned_down: Mapping[Slot, str], pattern: Pattern) -> Candidate | None:
        """Return the candidate with items ruled out in their slots; None where none is left."""
        demands = [demand.without(turned_down.get(demand.slot)) for demand in self.demands]
        return candidate_of(pattern, demands, self.floor, self.speed)


def candidate_of(
    pattern: Pattern, demands: Sequence[Demand], floor: float, speed: float | None
) -> Candidate | None:
    """Return a candidate; None where the gear at hand can't fill its slots within limits."""
    worst = smallest_worst_use(_single_items(pattern, demands))
    return None if worst is None else Candidate(speed, floor, max(floor, worst), tuple(demands))


def _single_items(pattern: Pattern, demands: Sequence[Demand]) -> list[dict[str, float]]:
    taken = frozenset(pattern.used_in_order)
    return [demand.single_items(taken, len(demands)) for demand in demands]
