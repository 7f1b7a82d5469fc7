"""Items of gear: what is joined, what stretches, what wraps, what must be rated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from coursekit.mechanics.nomenclature import Metre, Newton, Ratio
from coursekit.rigging.material import FIBRES, Stuff, made_of, said_of

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
LOAD_BEARING = frozenset(ITEM_KINDS) - {DAMPER}
# What the trade rates by a working load limit, never by breaking strength alone.
NEEDS_WLL = frozenset({"bow-shackle", "roundsling", "chain", "hook"})
METAL = PULLEYS | {"bow-shackle", "chain", "hook", "receiver-mount", "ground-anchor"}
SYNTHETIC_LINES = frozenset({"winch-line", "extension-line"})
TEXTILE = KINETIC_LINES | WRAPPING | {"tow-strap", "soft-shackle", "bridle"}
# What may be of fibre or of metal, so that the words for its material decide.
EITHER = SYNTHETIC_LINES | {"bridle"}
# Words for a material that are offered; whatever else says what it is will do too.
_FIBRE_WORDS = ("polyester", "nylon", "polypropylene", "HMPE")
STEELS = ("steel", "alloy steel", "stainless steel", "aluminium")
MATERIALS: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(TEXTILE, _FIBRE_WORDS),
    **dict.fromkeys(SYNTHETIC_LINES, ("synthetic", "HMPE", "polyester", "nylon", "wire")),
    **dict.fromkeys(METAL, STEELS),
    **dict.fromkeys(KINETIC_LINES, ("nylon", "polyester")),
    "bridle": (*_FIBRE_WORDS, "wire", "chain"),
    DAMPER: ("canvas", "synthetic"),
}
# What an item of a kind is made of unless it says otherwise, and all that it may be made of.
_FIBRE_ALONE, _NYLON_ALONE, _WIRE_ALONE, _METAL_ALONE = (
    frozenset({stuff}) for stuff in (Stuff.FIBRE, Stuff.NYLON, Stuff.WIRE, Stuff.METAL)
)
_Kinds = tuple[frozenset[Stuff], frozenset[Stuff]]
_STUFF: Mapping[str, _Kinds] = {
    **dict.fromkeys(TEXTILE | {DAMPER}, (_FIBRE_ALONE, FIBRES)),
    **dict.fromkeys(KINETIC_LINES, (_NYLON_ALONE, FIBRES)),
    **dict.fromkeys(SYNTHETIC_LINES, (_FIBRE_ALONE, FIBRES | {Stuff.WIRE})),
    "bridle": (_FIBRE_ALONE, FIBRES | {Stuff.WIRE, Stuff.CHAIN}),
}


def stuff_of(kind: str, material: str | None) -> frozenset[Stuff]:
    """Return everything that an item of a kind may be made of.

    More than one where the words for its material leave it open; each rule then takes its
    safe side.  A winch line is synthetic and a kinetic line nylon where the words say
    nothing that is known (common practice, no source).

    >>> stuff_of("kinetic-rope", None), stuff_of("extension-line", "steel cable")
    (frozenset({<Stuff.NYLON: 'nylon'>}), frozenset({<Stuff.WIRE: 'wire'>}))
    """
    usual, possible = _STUFF.get(kind, (_METAL_ALONE, _METAL_ALONE))
    return made_of(material, usual=usual, possible=possible)


def is_unclear(kind: str, material: str | None) -> bool:
    """Whether a rule goes by the material of a kind, and its words say nothing that is known.

    >>> is_unclear("winch-line", "blue"), is_unclear("winch-line", "steel cable")
    (True, False)
    """
    return kind in EITHER | KINETIC_LINES and said_of(material) is None


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
    def stuff(self) -> frozenset[Stuff]:
        """Everything that it may be made of."""
        return stuff_of(self.kind, self.material)

    @property
    def is_textile(self) -> bool:
        """Whether an edge can cut it, or may."""
        return self.kind in TEXTILE or (
            self.kind in SYNTHETIC_LINES and not FIBRES.isdisjoint(self.stuff)
        )

    @property
    def is_wire(self) -> bool:
        """Whether it is wire rope, or may be."""
        return Stuff.WIRE in self.stuff

    @property
    def is_surely_wire(self) -> bool:
        """Whether it is wire rope beyond doubt."""
        return self.stuff == _WIRE_ALONE

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
        """Whether water has taken a share of its strength, or may have."""
        return self.wet and Stuff.NYLON in self.stuff

    @property
    def may_be_no_nylon(self) -> bool:
        """Whether it may be of something else than nylon."""
        return self.stuff != _NYLON_ALONE

    @property
    def line_length(self) -> Metre:
        """What it adds to a line: shackles add no length, all else its own."""
        return 0.0 if self.kind in SHACKLES else (self.length or 0.0)
