"""Anchors as a document writes them: what an assessor or a table says they hold."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, ValidationInfo, field_validator

from coursekit.files.complaint import complaint
from coursekit.files.gear_spec import Edge, si
from coursekit.files.plain_fields import Flag, Place, one_of
from coursekit.files.quantity_fields import Force, Length, Mass, Share, TableDepth
from coursekit.files.spec import Spec
from coursekit.mechanics.holdfast import (
    LEADS,
    PICKETS,
    SLENDEREST_LOG,
    SLENDEREST_TIMBER,
    SOILS,
    TRENCH,
)
from coursekit.quantities.parse import Quantity
from coursekit.rigging.holdfast import Deadman, Pickets
from coursekit.rigging.site import ANCHOR_KINDS, WRAPPED_ANCHORS, Anchor

GROUND_ANCHOR, VEHICLE = "ground-anchor", "vehicle"
LOAM = "loam"


class DeadmanSpec(Spec):
    """A log or timber buried across the pull, as the table of deadmen knows it."""

    depth: TableDepth = Field(examples=["4 ft"])
    face: Length = Field(examples=["18 in"])
    thickness: Length | None = None
    length: Length = Field(examples=["6 ft"])
    lead: Annotated[str, one_of(LEADS, "slope of a deadman's line")] = "1:3"

    @field_validator("length")
    @classmethod
    def _bears_and_stays_straight(cls, length: Quantity, info: ValidationInfo) -> Quantity:
        """Refuse a log that is all trench, or so slender that it bends before it bears."""
        if length.value <= TRENCH:
            what = f"Of a log of {length.text} nothing bears beside the trench of 1 ft"
            raise complaint(what, "Write a length of more than 1 ft")
        face, thickness = info.data.get("face"), info.data.get("thickness")
        if face is not None and thickness is None and length.value > SLENDEREST_LOG * face.value:
            what = f"A log of {length.text} is longer than 5 times its {face.text}"
            raise complaint(what, "Take a thicker one, or state the thickness of a timber")
        if thickness is not None and length.value > SLENDEREST_TIMBER * thickness.value:
            what = f"A timber of {length.text} is longer than 9 times its {thickness.text}"
            raise complaint(what, "Take a thicker one")
        return length

    def deadman(self, soil: str) -> Deadman:
        """Return the deadman in SI."""
        return Deadman(
            depth=self.depth.value,
            face=self.face.value,
            length=self.length.value,
            lead=self.lead,
            soil=soil,
            thickness=si(self.thickness),
        )


class AnchorSpec(Spec):
    """An anchor with the figure that its assessor gives, or what a table makes one from."""

    kind: Annotated[str, one_of(ANCHOR_KINDS, "kind of anchor")]
    at: Place = Field(examples=["[30, -4]"])
    pickets: Annotated[str, one_of(PICKETS, "set of pickets")] | None = None
    deadman: DeadmanSpec | None = None
    soil: Annotated[str, one_of(SOILS, "soil")] = LOAM
    holds: Force | None = Field(default=None, validate_default=True, examples=["60 kN"])
    tested: Flag = False
    edge: Edge = "rounded"
    girth: Length | None = None
    mass: Mass | None = None
    grip: Share | None = None

    @field_validator("pickets", "deadman")
    @classmethod
    def _of_a_ground_anchor(cls, made: Any, info: ValidationInfo) -> Any:
        if info.data.get("kind", GROUND_ANCHOR) != GROUND_ANCHOR:
            raise complaint(
                f"Only a ground-anchor is made of {info.field_name}",
                "Write kind: ground-anchor, or take the key out",
            )
        return made

    @field_validator("deadman")
    @classmethod
    def _one_of_both(cls, deadman: Any, info: ValidationInfo) -> Any:
        if info.data.get("pickets") is not None:
            raise complaint("It is made of pickets already", "Make two anchors of the two")
        return deadman

    @field_validator("soil")
    @classmethod
    def _of_the_table(cls, soil: str, info: ValidationInfo) -> str:
        if soil != LOAM and info.data.get("pickets") is not None:
            raise complaint("The table of pickets is for loam alone", "State what it holds instead")
        return soil

    @field_validator("holds", mode="before")
    @classmethod
    def _or_a_table(cls, holds: Any, info: ValidationInfo) -> Any:
        made = [key for key in ("pickets", "deadman") if info.data.get(key, True) is not None]
        if holds is None and not made:
            raise complaint("It is missing", "Add for example holds: 60 kN", key="holds")
        if holds is not None and made:
            what = f"What it holds follows from its {made[0]}"
            raise complaint(what, "Take one of the two out")
        return holds

    @field_validator("girth")
    @classmethod
    def _of_what_is_wrapped(cls, girth: Any, info: ValidationInfo) -> Any:
        if info.data.get("kind", "tree") not in WRAPPED_ANCHORS:
            what = f"No sling goes round a {info.data['kind']}"
            raise complaint(what, "Take the key out")
        return girth

    @field_validator("mass")
    @classmethod
    def _of_a_vehicle(cls, mass: Any, info: ValidationInfo) -> Any:
        if info.data.get("kind", VEHICLE) != VEHICLE:
            raise complaint("Only a vehicle is held by its mass", "Take the key out")
        return mass

    @field_validator("grip")
    @classmethod
    def _with_a_mass(cls, grip: Any, info: ValidationInfo) -> Any:
        if info.data.get("mass", grip) is None:
            mend = "Add for example mass: 3000 kg"
            raise complaint("The grip says nothing without the mass of the vehicle", mend)
        return grip

    def anchor(self, name: str) -> Anchor:
        """Return the anchor in SI."""
        return Anchor(
            id=name,
            kind=self.kind,
            at=self.at,
            holds=si(self.holds),
            tested=self.tested,
            edge=self.edge,
            girth=si(self.girth),
            mass=si(self.mass),
            grip=si(self.grip),
            pickets=None if self.pickets is None else Pickets(self.pickets),
            deadman=None if self.deadman is None else self.deadman.deadman(self.soil),
        )
