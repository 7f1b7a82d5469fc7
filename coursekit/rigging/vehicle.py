"""Vehicles with the points where gear may be joined, and their winches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from coursekit.mechanics.nomenclature import Kilogram, Metre, Newton, Radian, Ratio
from coursekit.rigging.gear import Item

POINT_KINDS = (
    "recovery-point",
    "receiver-mount",
    "towing-eye",
    "tie-down-point",
    "tow-ball",
    "hook",
)
LYING = ("side",)
Position = tuple[Metre, Metre]


@dataclass(frozen=True)
class Winch:
    """A winch as marked: its pull on the first layer, its drum and its line."""

    pull: Newton
    drum: Metre
    rope: Metre
    wraps_per_layer: int
    line: str
    dead_wraps: int | None = None
    drum_width: Metre | None = None


@dataclass(frozen=True)
class Vehicle:
    """A vehicle as it stands, load and people included, or as it lies on its `lying` side."""

    name: str
    mass: Kilogram
    at: Position
    points: Mapping[str, Item] = field(default_factory=dict)
    winch: Winch | None = None
    grip: Ratio | None = None
    held: str = "braked"
    exit: Radian | None = None
    travel: Metre | None = None
    lying: str | None = None
