"""What each kit item felt in a pull of a rig, solved with the kit's own ratings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from coursekit.files.rig_file import rig_from_document
from coursekit.mechanics.item import item_limit
from coursekit.mechanics.nomenclature import Metre, Newton, Ratio
from coursekit.mechanics.tables import design_factor
from coursekit.problems import Problem, Problems, Where
from coursekit.rigging.gear import KINETIC_LINES, Item
from coursekit.rigging.material import UNKNOWN, said_of
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import Solution, solve
from coursekit.scenario.model import Scenario
from coursekit.wear.ledger import Ending, Origin, Pull


@dataclass(frozen=True)
class KitInRig:
    """A kit item as a rig needs it: its kind, and its ratings if it shows any. [N].

    Its length is None where the register has none. [m].
    """

    item_id: int
    mark: str
    kind: str
    material: str | None
    wll: Newton | None
    mbs: Newton | None
    is_labelled: bool
    length: Metre | None = None

    @property
    def limit(self) -> Newton | None:
        """What it may carry pulled straight, by the usual factors; None where nobody knows."""
        if not self.is_labelled:
            return None
        return item_limit(self.wll, self.mbs, 1.0, design_factor(self.kind))

    def rated(self, item: Item) -> Item:
        """Return an item of the scenario with this item's own ratings, material and length."""
        known = self.is_labelled
        return replace(
            item,
            length=item.length if self.length is None else self.length,
            wll=self.wll if known else None,
            mbs=self.mbs if known else None,
            material=self._material(item),
        )

    def _material(self, planned: Item) -> str | None:
        """Return the material to reckon with, on the safe side.

        Words that say nothing known make it unknown. Without any the scenario's stay, but no
        kinetic line is taken for a better fibre than nylon, which water weakens.
        """
        if self.material and self.material.strip():
            return self.material if said_of(self.material) else UNKNOWN
        return None if planned.kind in KINETIC_LINES else planned.material

    @property
    def is_textile(self) -> bool:
        """Whether its fibres, or what may be fibre, can be overloaded without a sign."""
        return Item(self.mark, self.kind, material=self.material).is_textile

    @property
    def is_elastic(self) -> bool:
        """Whether a jerk is its work."""
        return Item(self.mark, self.kind).is_elastic


@dataclass(frozen=True)
class Felt:
    """A pull as one kit item felt it; `detail` is what its ledger entry keeps beside."""

    kit: KitInRig
    pull: Pull
    detail: Mapping[str, Any] = field(default_factory=dict)


def rig_meant(scenario: Scenario, rig: str | Mapping[str, Any]) -> Rig:
    """Return a rig of the scenario by its name, or the rig of a document."""
    if not isinstance(rig, str):
        return rig_from_document(rig, Where("rig"), scenario.situation)
    named = scenario.rigs.get(rig)
    if named is None:
        known = ", ".join(scenario.rigs) or "none"
        what = f"The scenario has no rig {rig[:40]}"
        raise Problems([Problem(Where("rig"), what, f"Choose one of its rigs: {known}")])
    return named


def felt_loads(
    situation: Situation, rig: Rig, kit: Mapping[str, KitInRig | None], ended: Ending
) -> list[Felt]:
    """Return the pull as each kit item of a rig felt it."""
    solution = solved_with_kit(situation, rig, kit)
    at_stall = _stall_share(solution) if ended is Ending.STALLED else 1.0

    def borne(load: Newton | None, _limit: Newton | None) -> Newton | None:
        return None if load is None else load * at_stall

    pulls = loads_on_items(solution, kit, ended, Origin.SOLVED, borne)
    return [Felt(item, pull) for item, pull in pulls]


def solved_with_kit(situation: Situation, rig: Rig, kit: Mapping[str, KitInRig | None]) -> Solution:
    """Return a rig solved with the ratings of the kit items that are in it.

    Raises
    ------
    Problems
        If it is open what an item of the rig was, or one of the store does not fit there.
    """
    _require_whole(situation, rig, kit)
    gear = {
        name: ours.rated(item) if (ours := kit.get(name)) is not None else item
        for name, item in situation.gear.items()
    }
    return solve(replace(situation, gear=gear), rig)


def loads_on_items(
    solution: Solution,
    kit: Mapping[str, KitInRig | None],
    ended: Ending,
    origin: Origin,
    borne: Callable[[Newton | None, Newton | None], Newton | None],
) -> Iterator[tuple[KitInRig, Pull]]:
    """Yield each kit item with the pull as it felt it: what it has `borne` of load and limit."""
    for name, item in kit.items():
        if item is None:
            continue
        # What stands in no chain of gear, such as a damper, bears no load.
        load = solution.values.get(f"item.{name}.load", 0.0)
        limit = solution.values.get(f"item.{name}.limit")
        felt = Pull(solution.rig.method, ended, origin, load=borne(load, limit), limit=limit)
        yield item, felt


def _stall_share(solution: Solution) -> Ratio:
    """Return what the winch gave when it stalled, over the pull that was needed.

    Loads of a winch rig go with the pull.
    """
    stall, pull = solution.values.get("pull.stall"), solution.values.get("pull")
    return max(1.0, stall / pull) if stall and pull else 1.0


def _require_whole(situation: Situation, rig: Rig, kit: Mapping[str, KitInRig | None]) -> None:
    in_rig = dict.fromkeys(rig.items())
    problems = [*_unmatched(in_rig, kit), *_misplaced(situation, in_rig, kit)]
    if problems:
        raise Problems(problems)


def _unmatched(in_rig: Mapping[str, None], kit: Mapping[str, KitInRig | None]) -> Iterator[Problem]:
    for name in in_rig:
        if name not in kit:
            mend = "Choose the item that was used, or say that it came from elsewhere"
            yield Problem(Where(f"items.{name}"), f"It is open what {name} was", mend)
    for name in kit:
        if name not in in_rig:
            yield Problem(Where(f"items.{name}"), "The rig has no such item", "Leave it out")


def _misplaced(
    situation: Situation, in_rig: Mapping[str, None], kit: Mapping[str, KitInRig | None]
) -> Iterator[Problem]:
    taken: set[int] = set()
    for name in in_rig:
        item, kind = kit.get(name), situation.gear[name].kind
        if item is None:
            continue
        if item.kind != kind:
            what = f"{item.mark} is a {item.kind}, the rig has a {kind} there"
            yield Problem(Where(f"items.{name}"), what, "Choose an item of that kind")
        if item.item_id in taken:
            what = f"{item.mark} stands in the rig twice"
            yield Problem(Where(f"items.{name}"), what, "Choose the item that was used here")
        taken.add(item.item_id)
