"""Items of gear: what is joined, what stretches, what wraps, what must be rated."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from coursekit.mechanics.nomenclature import Metre, Newton, Ratio

ITEM_KINDS = (
    "winch-line",
    "extension-line",
    "kinetic-rope",
    "kinetic-strap",
    "roundsling",
    "tree-strap",
    "tow-strap",
    "chain",
    "bow-shackle",
    "soft-shackle",
    "hook",
    "pulley-block",
    "pulley-ring",
    "receiver-mount",
    "bridle",
    "ground-anchor",
    "line-damper",
)
CONDITIONS = (
    "cut",
    "worn",
    "melted",
    "bent",
    "no-label",
    "knotted",
    "chemical",
    "uv",
    "overloaded",
    "retired",
)
HITCHES = ("straight", "choker", "basket")

SHACKLES = frozenset({"bow-shackle", "soft-shackle"})
JOINERS = SHACKLES | {"hook"}
PULLEYS = frozenset({"pulley-block", "pulley-ring"})
KINETIC_LINES = frozenset({"kinetic-rope", "kinetic-strap"})
LINES = KINETIC_LINES | {"winch-line", "extension-line", "tow-strap"}
WRAPPING = frozenset({"roundsling", "tree-strap"})
# What can go round something, choked or in a basket, and what has two legs.
HITCHED = WRAPPING | {"chain", "bridle", "tow-strap"}
DAMPER = "line-damper"
# What the trade rates by a working load limit, never by breaking strength alone.
NEEDS_WLL = frozenset({"bow-shackle", "roundsling", "chain", "hook"})
METAL = PULLEYS | {"bow-shackle", "chain", "hook", "receiver-mount", "ground-anchor"}
SYNTHETIC_LINES = frozenset({"winch-line", "extension-line"})
TEXTILE = KINETIC_LINES | WRAPPING | {"tow-strap", "soft-shackle", "bridle"}


@dataclass(frozen=True)
class Stretch:
    """How far a line stretches: a strain at a share of its breaking strength.

    A low-stretch line has `strain` None: it is no elastic part.  The tension goes with the
    stretch to the power of `stiffening`, or along a `curve` of strains and shares, of which
    `strain` and `at` are then the last.
    """

    strain: Ratio | None
    at: Ratio = 1.0
    stiffening: Ratio = 1.0
    curve: tuple[tuple[Ratio, Ratio], ...] = ()

    @property
    def is_straight(self) -> bool:
        """Whether its tension is a straight line over its stretch."""
        return self.stiffening == 1.0 and not self.curve


@dataclass(frozen=True)
class Item:
    """One item of gear, or a point of a vehicle: both carry load and have limits."""

    id: str
    kind: str
    wll: Newton | None = None
    mbs: Newton | None = None
    length: Metre | None = None
    material: str | None = None
    efficiency: Ratio | None = None
    bearing: str | None = None
    stretch: Stretch | None = None
    wet: bool = False
    condition: tuple[str, ...] = ()
    edge: str = "rounded"
    latch: bool = False
    made: date | None = None
    # Of a line, and of the groove that a pulley's sheave bends one over.
    diameter: Metre | None = None
    sheave: Metre | None = None
    worked: bool = False

    @property
    def is_textile(self) -> bool:
        """Whether an edge can cut it."""
        return self.kind in TEXTILE or (self.kind in SYNTHETIC_LINES and not self.is_wire)

    @property
    def is_wire(self) -> bool:
        """Whether it is wire rope; a winch line is synthetic unless it says wire."""
        return self.material == "wire"

    @property
    def is_unrated(self) -> bool:
        """Whether nobody knows what it may carry."""
        return self.wll is None and self.mbs is None

    @property
    def lacks_wll(self) -> bool:
        """Whether its kind is used by its WLL, and it shows none."""
        return self.kind in NEEDS_WLL and self.wll is None

    def is_cut_by(self, edge: str) -> bool:
        """Whether an edge would cut it under load."""
        return edge == "sharp" and self.is_textile

    @property
    def is_metal(self) -> bool:
        """Whether it is a heavy metal part that a parted line would throw."""
        return self.kind in METAL

    @property
    def is_elastic(self) -> bool:
        """Whether it can be the elastic part of a kinetic line."""
        if self.stretch is not None:
            return self.stretch.strain is not None
        return self.kind in KINETIC_LINES

    @property
    def is_wet_nylon(self) -> bool:
        """Whether water has taken a share of its strength.

        Kinetic lines are nylon unless they say otherwise (common practice, no source).
        """
        nylon = self.material == "nylon" or (self.material is None and self.kind in KINETIC_LINES)
        return self.wet and nylon

    @property
    def line_length(self) -> Metre:
        """What it adds to a line: shackles add no length, all else its own."""
        return 0.0 if self.kind in SHACKLES else (self.length or 0.0)
