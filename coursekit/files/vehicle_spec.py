"""Vehicles, their points and their winches as a document writes them."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    Field,
    PlainValidator,
    ValidationInfo,
    field_validator,
)

from coursekit.files.complaint import advice, complaint, text_of
from coursekit.files.gear_spec import PointSpec, si
from coursekit.files.plain_fields import (
    CountFromOne,
    CountFromZero,
    Identifier,
    Place,
    Text,
    one_of,
    outline,
)
from coursekit.files.quantity_fields import Bearing, Force, Length, Mass, Share
from coursekit.files.spec import Spec
from coursekit.quantities.errors import quoted
from coursekit.quantities.parse import Quantity
from coursekit.rigging.vehicle import LYING, Vehicle, Winch

HELD = ("braked", "anchored")
WINCH = "winch"


def _gear_at_hand(value: object, info: ValidationInfo) -> str:
    name, gear = text_of(value), outline(info).situation.gear
    if name not in gear:
        raise complaint(f"{quoted(name)} is not gear at hand", advice(name, gear))
    return name


def _point_name(name: str) -> str:
    if name == WINCH:
        raise complaint("A point can't be called winch", "Name it by where it is, as in front")
    return name


PointName = Annotated[Identifier, AfterValidator(_point_name)]


class WinchSpec(Spec):
    """A winch as its plate and its maker's sheet state it."""

    pull: Force = Field(examples=["4300 kgf"])
    drum: Length = Field(examples=["64 mm"])
    rope: Length = Field(examples=["10 mm"])
    wraps_per_layer: CountFromOne = Field(examples=["8"])
    dead_wraps: CountFromZero | None = None
    drum_width: Length | None = None
    line: Annotated[str, PlainValidator(_gear_at_hand)] = Field(examples=["winch-line"])

    def winch(self) -> Winch:
        """Return the winch in SI."""
        return Winch(
            pull=self.pull.value,
            drum=self.drum.value,
            rope=self.rope.value,
            wraps_per_layer=self.wraps_per_layer,
            line=self.line,
            dead_wraps=self.dead_wraps,
            drum_width=si(self.drum_width),
        )


class VehicleSpec(Spec):
    """What both vehicles state."""

    name: Text = Field(examples=["loaded utility 4x4"])
    mass: Mass = Field(examples=["2650 kg"])
    at: Place = Field(examples=["[0, 0]"])
    points: dict[PointName, PointSpec] = Field(default={})
    winch: WinchSpec | None = None

    def _vehicle(self, key: str, **more: Any) -> Vehicle:
        points = {name: point.item(f"{key}.{name}") for name, point in self.points.items()}
        winch = None if self.winch is None else self.winch.winch()
        return Vehicle(self.name, self.mass.value, self.at, points, winch, **more)


class StuckVehicleSpec(VehicleSpec):
    """The vehicle that must move, and the way it must go."""

    exit: Bearing = Field(examples=["90 deg"])
    lying: Annotated[str, one_of(LYING, "way to lie")] | None = None
    travel: Length | None = None

    @field_validator("travel")
    @classmethod
    def _on_its_wheels(cls, travel: Quantity, info: ValidationInfo) -> Quantity:
        if info.data.get("lying") is not None:
            mend = "Take travel out, or lying"
            raise complaint("A vehicle is righted where it lies: it does not travel", mend)
        return travel

    def vehicle(self) -> Vehicle:
        """Return the vehicle in SI."""
        exit_way, travel = self.exit.value, si(self.travel)
        return self._vehicle("stuck_vehicle", exit=exit_way, travel=travel, lying=self.lying)


class RecoveryVehicleSpec(VehicleSpec):
    """The vehicle that pulls."""

    grip: Share | None = None
    held: Annotated[str, one_of(HELD, "way to be held")] = "braked"

    def vehicle(self) -> Vehicle:
        """Return the vehicle in SI."""
        return self._vehicle("recovery_vehicle", grip=si(self.grip), held=self.held)
