"""The inspection list of each kind of item, by what it is made of.

Where the register doesn't say whether an item is of fibre or of metal, its list holds the
lines of all that it may be made of.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from coursekit.rigging.gear import EITHER, ITEM_KINDS, stuff_of
from coursekit.rigging.material import UNKNOWN, Stuff, said_of
from coursekit.wear.criteria import (
    CHAIN,
    GROUND_ANCHOR,
    GROWN,
    HOOK,
    KINETIC_ROPE,
    LAST,
    LINE_DAMPER,
    PULLEY_BLOCK,
    PULLEY_RING,
    RECEIVER_MOUNT,
    ROUNDSLING,
    SHACKLE,
    SOFT_SHACKLE,
    SYNTHETIC_LINE,
    WEBBING,
    WIRE_LINE,
    WIRE_SLING,
)
from coursekit.wear.inspection import Criterion
from coursekit.wear.vehicle_criteria import FAIRLEAD, PIN, VEHICLE_POINT, WINCH


@dataclass(frozen=True)
class InspectionList:
    """The list of a kind of item; its name is kept in the ledger beside what was seen."""

    name: str
    criteria: tuple[Criterion, ...]

    @property
    def each_use(self) -> tuple[Criterion, ...]:
        """The lines that are looked at before every use."""
        return tuple(criterion for criterion in self.criteria if criterion.each_use)

    def criterion(self, key: str) -> Criterion | None:
        """Return a line by its key, None where the list has no such line."""
        return next((each for each in self.criteria if each.key == key), None)


_BY_NAME = {
    "winch-line": SYNTHETIC_LINE,
    "extension-line": SYNTHETIC_LINE,
    "winch-line-of-wire": WIRE_LINE,
    "extension-line-of-wire": WIRE_LINE,
    "kinetic-rope": KINETIC_ROPE,
    "kinetic-strap": (*WEBBING, GROWN),
    "roundsling": ROUNDSLING,
    "tree-strap": WEBBING,
    "tow-strap": WEBBING,
    "bridle": WEBBING,
    "bridle-of-wire": WIRE_SLING,
    "bridle-of-chain": CHAIN,
    "chain": CHAIN,
    "bow-shackle": SHACKLE,
    "soft-shackle": SOFT_SHACKLE,
    "hook": HOOK,
    "pulley-block": PULLEY_BLOCK,
    "pulley-ring": PULLEY_RING,
    "receiver-mount": RECEIVER_MOUNT,
    "ground-anchor": GROUND_ANCHOR,
    "line-damper": LINE_DAMPER,
    "winch": WINCH,
    "fairlead": FAIRLEAD,
    "pin": PIN,
    "recovery-point": VEHICLE_POINT,
}
# What stays on a vehicle: the store keeps and examines it, and no list of a class has it.
ON_VEHICLES = ("winch", "fairlead", "pin", "recovery-point")
REGISTER_KINDS = (*ITEM_KINDS, *ON_VEHICLES)
# What else a kind may be made of, as the name of its list says it.
_OF_METAL = {Stuff.WIRE: "wire", Stuff.CHAIN: "chain"}


def _all_lines(kind: str) -> Iterator[Criterion]:
    """Yield the lines of a kind, whatever it is made of, each told once under its own key."""
    told: dict[str, str] = {}
    for word in ("", *_OF_METAL.values()):
        for line in _BY_NAME.get(f"{kind}-of-{word}" if word else kind, ()):
            if line.text not in told.values():
                key = f"{line.key}-{word}" if line.key in told else line.key
                told[key] = line.text
                yield replace(line, key=key)


def _of_any(kind: str) -> str:
    return f"{kind}-of-any"


def _lists(lines: dict[str, Sequence[Criterion]]) -> dict[str, InspectionList]:
    return {name: InspectionList(name, (*listed, *LAST)) for name, listed in lines.items()}


LISTS = _lists({**_BY_NAME, **{_of_any(kind): tuple(_all_lines(kind)) for kind in EITHER}})


def criterion_of(name: str, key: str) -> Criterion | None:
    """Return the line that an entry of the ledger speaks of, None where it is no more.

    >>> criterion_of("hook", "latch").text
    "The latch is missing, bent or doesn't close"
    """
    return LISTS[name].criterion(key) if name in LISTS else None


def list_for(kind: str, material: str | None = None) -> InspectionList:
    """Return the list of a kind of item that the register knows, by its material too.

    Safe side: where the words for the material leave it open, or say nothing that is
    known, it is the list of all that the item may be made of.

    Raises
    ------
    KeyError
        If the register has no such kind.

    Examples
    --------
    >>> list_for("winch-line", "HMPE").name, list_for("winch-line", "steel wire").name
    ('winch-line', 'winch-line-of-wire')
    >>> list_for("winch-line").name
    'winch-line-of-any'
    """
    if kind not in EITHER:
        return LISTS[kind]
    made_of = stuff_of(kind, material if said_of(material) else UNKNOWN)
    words = {_OF_METAL.get(stuff, "") for stuff in made_of}
    if len(words) > 1:
        return LISTS[_of_any(kind)]
    return LISTS.get(f"{kind}-of-{words.pop()}", LISTS[kind])
