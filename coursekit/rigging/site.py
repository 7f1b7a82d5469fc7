"""The ground, its anchors, and the whole situation that a rig stands in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from coursekit.mechanics.nomenclature import Kilogram, Metre, Newton, Radian, Ratio
from coursekit.mechanics.tables import (
    ANCHOR_FACTOR,
    KINETIC_ALLOWANCE,
    LOWEST_GRIP,
    SPREAD,
    SURFACES,
    TOW_ALLOWANCE,
    design_factor,
)
from coursekit.rigging.gear import Item
from coursekit.rigging.holdfast import Deadman, Holdfast, Pickets
from coursekit.rigging.vehicle import Position, Vehicle

ANCHOR_KINDS = ("tree", "rock", "ground-anchor", "vehicle", "structure")
BOGGED = ("none", "hubs", "sills", "bonnet")
METHODS = VECTOR, FIELD_RULE = ("vector", "field-rule")
# These have nothing to shackle to: a sling goes round them.
WRAPPED_ANCHORS = frozenset({"tree", "rock", "structure"})


@dataclass(frozen=True)
class Ground:
    """What the wheels stand on: rolling share, slope, and how deep it holds them."""

    surface: str | None = None
    rolling: Ratio | None = None
    slope: Radian = 0.0
    downhill: Radian | None = None
    bogged: str = "none"

    @property
    def coefficient(self) -> Ratio:
        """Rolling resistance over weight: the scenario's own figure before the table's."""
        if self.rolling is not None:
            return self.rolling
        return SURFACES[self.surface].rolling if self.surface else 0.0

    @property
    def table_grip(self) -> Ratio:
        """Grip that the table gives this surface; the lowest where none is stated."""
        return SURFACES[self.surface].grip if self.surface else LOWEST_GRIP


@dataclass(frozen=True)
class Anchor:
    """A tree, rock or the like, with what an assessor or a table says it holds."""

    id: str
    kind: str
    at: Position
    # The assessor's figure; None for an anchor that a table knows.
    holds: Newton | None
    tested: bool = False
    edge: str = "rounded"
    # Of a vehicle that stands on its brakes; the grip is that of the ground where left out.
    mass: Kilogram | None = None
    grip: Ratio | None = None
    # Distance once round what a sling goes round: a basket's angle then follows.
    girth: Metre | None = None
    # One of these where it was made on the spot: what it holds then follows.
    pickets: Pickets | None = None
    deadman: Deadman | None = None

    @property
    def holdfast(self) -> Holdfast | None:
        """What it was made of on the spot, None for what an assessor found there."""
        return self.deadman or self.pickets

    def assessed_at(self, holds: Newton) -> Anchor:
        """Return the anchor with an assessor's figure in place of what it was made of."""
        return replace(self, holds=holds, pickets=None, deadman=None)


@dataclass(frozen=True)
class Policy:
    """The school's rules; defaults are common practice, no source, unless a table says.

    `wet_stiffness` and `worked_stiffness` multiply the stated stiffness of a wet nylon and of
    a worked rope: both are stiffer than new, how much nobody publishes, and a stiffer rope
    peaks higher.  1 takes it as stated.
    """

    factors: Mapping[str, float] = field(default_factory=dict)
    anchor_factor: float | None = None
    sling_factors: str = "b30.9"
    tow_allowance: float = TOW_ALLOWANCE
    kinetic_allowance: float = KINETIC_ALLOWANCE
    wet_stiffness: float = 1.0
    worked_stiffness: float = 1.0
    stop_on: tuple[str, ...] = ("off-line-pull", "strap-mismatch")
    # What a synthetic line keeps where it bends over a pulley; no readable standard says.
    bent_synthetic: Ratio | None = None

    def factor(self, kind: str) -> float:
        """Return the factor that turns the breaking strength of a kind into its limit."""
        return self.factors.get(kind, design_factor(kind))

    def anchor(self, anchor: Anchor) -> float:
        """Return the factor on what an anchor is said to hold."""
        if anchor.tested:
            return ANCHOR_FACTOR["tested"]
        return ANCHOR_FACTOR["untested"] if self.anchor_factor is None else self.anchor_factor


@dataclass(frozen=True)
class Spread:
    """How far estimates may lie from what is stated, to either side.

    `mass`, `rolling` and `efficiency` are shares of the stated value.
    """

    mass: Ratio = SPREAD["mass"]
    rolling: Ratio = SPREAD["rolling"]
    slope: Radian = SPREAD["slope"]
    efficiency: Ratio = SPREAD["efficiency"]


@dataclass(frozen=True)
class Situation:
    """Everything that a rig is solved against.

    All of it is in SI; `us_units` says that its readers work in feet and pounds,
    so that their mistakes of units are told from those of others.
    """

    method: str
    stuck: Vehicle
    recovery: Vehicle | None
    ground: Ground
    anchors: Mapping[str, Anchor]
    gear: Mapping[str, Item]
    policy: Policy = Policy()
    us_units: bool = False
    # None where every number is taken as certain.
    spread: Spread | None = Spread()

    def vehicles(self) -> Iterator[tuple[str, Vehicle]]:
        """Yield the vehicles that are there, by their name in a place."""
        yield "stuck_vehicle", self.stuck
        if self.recovery is not None:
            yield "recovery_vehicle", self.recovery

    def vehicle_at(self, place: str) -> Vehicle | None:
        """Return the vehicle that a place belongs to, None for an anchor."""
        name = place.partition(".")[0]
        return dict(self.vehicles()).get(name)

    def point_at(self, place: str) -> Item | None:
        """Return the vehicle point of a place, None for a winch or an anchor."""
        vehicle = self.vehicle_at(place)
        return None if vehicle is None else vehicle.points.get(place.partition(".")[2])

    def position(self, place: str) -> Position:
        """Return where a place is on the plan.

        Raises KeyError for a place that does not exist: `rig.check` reports it first.
        """
        vehicle = self.vehicle_at(place)
        return vehicle.at if vehicle is not None else self.anchors[place].at

    def edge_at(self, place: str) -> str:
        """Return what edge gear bears on at a place: rounded or sharp."""
        point = self.point_at(place)
        anchor = self.anchors.get(place)
        return point.edge if point else (anchor.edge if anchor else "rounded")

    def is_wrapped(self, place: str) -> bool:
        """Whether a place has nothing to shackle to, so that a sling goes round it."""
        anchor = self.anchors.get(place)
        return anchor is not None and anchor.kind in WRAPPED_ANCHORS

    def has_place(self, place: str) -> bool:
        """Whether gear can be joined at a place: an anchor, a point, or a winch."""
        if place in self.anchors:
            return True
        vehicle = self.vehicle_at(place)
        name = place.partition(".")[2]
        if vehicle is None:
            return False
        return name in vehicle.points or (name == "winch" and vehicle.winch is not None)

    def diameter_of(self, line: Item) -> Metre | None:
        """Return the diameter of a line: its own figure before that of its winch's rope."""
        winches = (vehicle.winch for _, vehicle in self.vehicles() if vehicle.winch)
        ropes = (winch.rope for winch in winches if winch.line == line.id)
        return next(ropes, None) if line.diameter is None else line.diameter

    def grip(self, vehicle: Vehicle | Anchor) -> Ratio:
        """Return the grip that a vehicle, or one that serves as an anchor, can count on."""
        return self.ground.table_grip if vehicle.grip is None else vehicle.grip
