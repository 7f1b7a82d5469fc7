"""What one plan is worked out from, and the names and numbers as it says them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from coursekit.drawing.plan_frame import Frame, Point
from coursekit.drawing.plan_shapes import Stance
from coursekit.drawing.plan_words import PlanWords
from coursekit.quantities.display import Direction, show, show_given, show_load
from coursekit.quantities.units import Kind
from coursekit.rigging.plan import LinePlan
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import PlaceLoad, Solution


@dataclass(frozen=True)
class Shown:
    """What the plan says; what a task asks for is left out by whoever sets the task.

    `asked` are the places whose load is marked with a question.  `whole_area`
    draws all the ground where nobody stands, and the rig so much smaller.
    `unit` is that of forces, `length` that of distances.
    `names` are of items and anchors by id, `given` the texts of the scenario by field.
    """

    tensions: bool = True
    loads: bool = True
    weakest: bool = True
    stand_off: bool = True
    asked: Collection[str] = ()
    whole_area: bool = False
    unit: str = "kN"
    length: str = "m"
    names: Mapping[str, str] = field(default_factory=dict)
    given: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Sheet:
    """A situation on its frame, with the lines laid out and the loads where known."""

    situation: Situation
    plans: tuple[LinePlan, ...]
    solution: Solution | None
    shown: Shown
    words: PlanWords
    standing: tuple[Stance, ...]
    frame: Frame

    def point(self, place: str) -> Point:
        """Return where a place of the rig lies."""
        return self.frame.place(self.situation.position(place))

    def name(self, name: str) -> str:
        """Return what an item, anchor or vehicle point is called."""
        if name in self.shown.names:
            return self.shown.names[name]
        vehicle = self.situation.vehicle_at(name)
        point = name.partition(".")[2]
        return name if vehicle is None else f"{vehicle.name} ({point})"

    def given(self, key: str, value: float, kind: Kind, unit: str) -> str:
        """Return a given quantity as the scenario words it."""
        return self.shown.given.get(key) or show_given(value, kind, unit)

    @property
    def slope(self) -> str:
        """The slope as given."""
        return self.given("ground.slope", self.situation.ground.slope, Kind.ANGLE, "deg")

    def mass(self, stance: Stance) -> str:
        """Return a vehicle's mass as given."""
        return self.given(f"{stance.role}_vehicle.mass", stance.vehicle.mass, Kind.MASS, "kg")

    def length(self, metres: float, direction: Direction = "nearest") -> str:
        """Return a distance as shown."""
        return show(metres, Kind.LENGTH, self.shown.length, direction)

    def load(self, newtons: float) -> str:
        """Return a load as shown."""
        return show_load(newtons, self.shown.unit)

    @property
    def places(self) -> tuple[PlaceLoad, ...]:
        """The places whose load is worth an arrow, and may be shown or is asked."""
        found = self.solution.places if self.solution else ()
        return tuple(
            place
            for place in found
            if (self.shown.loads or place.at in self.shown.asked) and self._gathers(place)
        )

    @property
    def stand_off(self) -> float | None:
        """How far away people stand, None where no solved rig says so."""
        return self.solution.values["stand_off"] if self.solution else None

    @property
    def told_stand_off(self) -> str | None:
        """The same as text, rounded up; None where it is unknown or may not be told."""
        if self.stand_off is None or not self.shown.stand_off:
            return None
        return self.length(self.stand_off, "up")

    def _gathers(self, place: PlaceLoad) -> bool:
        """Whether a load is asked, or is more than the tension of the one part that ends there."""
        met = [
            0 < number < len(plan.stations) - 1
            for plan in self.plans
            for number, at in enumerate(plan.stations)
            if at == place.at
        ]
        return place.at in self.shown.asked or len(met) > 1 or any(met)
