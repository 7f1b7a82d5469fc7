"""The gear at hand as a search sees it: fit for use, rated, and alike items taken together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from coursekit.rigging.gear import DAMPER, JOINERS, PULLEYS, WRAPPING, Item
from coursekit.rigging.plan import efficiency
from coursekit.rigging.site import Situation

# What can lengthen a winch line, hold a vehicle back, and tow it.
_STATIC = frozenset({"extension-line", "winch-line", "tow-strap"})
_KINETIC = frozenset({"kinetic-rope", "kinetic-strap"})
EXTENSIONS = frozenset({"extension-line", "winch-line"})
HOLDING = _STATIC | {"chain"}
TOWING = _STATIC | _KINETIC | {"chain"}
SNATCHING = _STATIC | _KINETIC
SLINGS = WRAPPING | {"chain"}


@dataclass(frozen=True)
class Alike:
    """Items that differ in nothing but their name: one stands for all."""

    item: Item
    ids: tuple[str, ...]

    @property
    def name(self) -> str:
        """The item that stands for them, the first at hand."""
        return self.item.id


@dataclass(frozen=True)
class Stock:
    """What may be rigged of a situation's gear, in the order in which it is at hand."""

    alike: tuple[Alike, ...]
    dampers: tuple[str, ...]
    # A winch's own line is on its drum and nowhere else.
    on_winches: frozenset[str]

    def of(self, kinds: frozenset[str]) -> tuple[Alike, ...]:
        """Return what is at hand of some kinds, lines on drums left out."""
        return tuple(
            group
            for group in self.alike
            if group.item.kind in kinds and group.name not in self.on_winches
        )

    @property
    def joiners(self) -> tuple[Alike, ...]:
        """The shackles, and the hooks that have a latch."""
        return self.of(JOINERS)

    @property
    def slings(self) -> tuple[Alike, ...]:
        """What can go round an anchor."""
        return self.of(SLINGS)

    @property
    def pulleys(self) -> tuple[Alike, ...]:
        """What a line can turn at."""
        return self.of(PULLEYS)


# What of a pulley makes a difference to the line that turns there: kind, efficiency, sheave.
Turn = tuple[str, float, float | None]


def turn_of(pulley: Item) -> Turn:
    """Return what makes a difference to a line that turns at a pulley."""
    return pulley.kind, efficiency(pulley), pulley.sheave


def is_usable(item: Item) -> bool:
    """Whether an experienced hand takes it at all.

    It stays in the box where it is unfit, without the rating that its kind takes, has a
    sharp edge (that may cut whatever is textile beside it), or is a hook without a latch.
    """
    is_open = item.kind == "hook" and not item.latch
    return not (item.condition or item.is_unrated or item.lacks_wll or is_open) and (
        item.edge != "sharp"
    )


def stock_of(situation: Situation) -> Stock:
    """Return what may be rigged of the gear at hand."""
    winches = [vehicle.winch for _, vehicle in situation.vehicles() if vehicle.winch]
    on_winches = frozenset(winch.line for winch in winches)
    dampers = [
        i for i, item in situation.gear.items() if item.kind == DAMPER and not item.condition
    ]
    usable = [item for item in situation.gear.values() if item.kind != DAMPER and is_usable(item)]
    return Stock(tuple(_alike(usable, on_winches)), tuple(dampers), on_winches)


def _alike(items: list[Item], on_winches: frozenset[str]) -> Iterator[Alike]:
    groups: dict[tuple[Item, str | None], list[Item]] = {}
    for item in items:
        own = item.id if item.id in on_winches else None
        groups.setdefault((replace(item, id="", made=None), own), []).append(item)
    for group in groups.values():
        yield Alike(group[0], tuple(item.id for item in group))
