"""Gear and vehicle points as a document writes them."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import (
    BeforeValidator,
    Field,
    ValidationInfo,
    field_validator,
)

from coursekit.files.complaint import complaint
from coursekit.files.plain_fields import Date, Flag, Text, listed, one_of
from coursekit.files.quantity_fields import Force, Length, Share
from coursekit.files.spec import Spec
from coursekit.files.stretch_spec import StretchSpec
from coursekit.quantities.parse import Quantity
from coursekit.rigging.gear import (
    CONDITIONS,
    ITEM_KINDS,
    KINETIC_LINES,
    LINES,
    PULLEYS,
    Item,
)
from coursekit.rigging.vehicle import POINT_KINDS

EDGES = ("rounded", "sharp")
BEARINGS = ("rolling", "plain")
# A line of unknown length can neither reach nor stretch by any figure.
NEEDS_LENGTH = KINETIC_LINES | {"winch-line", "extension-line", "tow-strap"}

Edge = Annotated[str, one_of(EDGES, "edge")]
Condition = Annotated[str, one_of(CONDITIONS, "condition")]


class RatedSpec(Spec):
    """What any item may carry, gear and points alike; the kind is checked by each."""

    kind: str
    wll: Force | None = None
    mbs: Force | None = None
    length: Length | None = None
    made: Date | None = None
    material: Text | None = None
    wet: Flag = False
    condition: Annotated[tuple[Condition, ...], BeforeValidator(listed)] = ()
    edge: Edge = "rounded"
    efficiency: Share | None = None
    bearing: Annotated[str, one_of(BEARINGS, "bearing")] | None = None
    stretch: StretchSpec | None = None
    worked: Flag = False
    latch: Flag = False
    diameter: Length | None = None
    sheave: Length | None = None

    @field_validator("mbs")
    @classmethod
    def _above_wll(cls, mbs: Quantity, info: ValidationInfo) -> Quantity:
        wll = info.data.get("wll")
        if wll is not None and wll.value > mbs.value:
            raise complaint(
                f"The WLL of {wll.text} is above the MBS of {mbs.text}",
                "Read both from the label again: the WLL is a part of the MBS",
            )
        return mbs

    @field_validator("latch")
    @classmethod
    def _of_a_hook(cls, latch: Any, info: ValidationInfo) -> Any:
        if info.data.get("kind", "hook") != "hook":
            raise complaint("Only a hook has a latch", "Take the key out")
        return latch

    @field_validator("bearing")
    @classmethod
    def _of_a_block(cls, bearing: str, info: ValidationInfo) -> str:
        if info.data.get("kind", "pulley-block") != "pulley-block":
            raise complaint("Only a pulley-block has a bearing", "Take the key out")
        return bearing

    @field_validator("diameter")
    @classmethod
    def _of_a_rope(cls, diameter: Quantity, info: ValidationInfo) -> Quantity:
        if info.data.get("kind", "winch-line") not in LINES:
            raise complaint("Only a line has a diameter that matters", "Take the key out")
        return diameter

    @field_validator("sheave")
    @classmethod
    def _of_a_pulley(cls, sheave: Quantity, info: ValidationInfo) -> Quantity:
        if info.data.get("kind", "pulley-block") not in PULLEYS:
            raise complaint("Only a pulley has a sheave", "Take the key out")
        return sheave

    def item(self, name: str) -> Item:
        """Return the item in SI."""
        return Item(
            id=name,
            kind=self.kind,
            wll=si(self.wll),
            mbs=si(self.mbs),
            length=si(self.length),
            material=self.material,
            efficiency=si(self.efficiency),
            bearing=self.bearing,
            stretch=None if self.stretch is None else self.stretch.stretch(),
            wet=self.wet,
            condition=self.condition,
            edge=self.edge,
            latch=self.latch,
            made=self.made,
            diameter=si(self.diameter),
            sheave=si(self.sheave),
            worked=self.worked,
        )


class GearSpec(RatedSpec):
    """One item of the gear at hand."""

    kind: Annotated[str, one_of(ITEM_KINDS, "kind of gear")]
    length: Length | None = Field(default=None, validate_default=True, examples=["28 m"])

    @field_validator("length", mode="before")
    @classmethod
    def _of_a_line(cls, length: Any, info: ValidationInfo) -> Any:
        kind = info.data.get("kind")
        if length is None and kind in NEEDS_LENGTH:
            mend = "Add for example length: 9 m"
            raise complaint(f"A {kind} needs its length", mend, key="length")
        return length


class PointSpec(RatedSpec):
    """One point of a vehicle where gear may be joined."""

    kind: Annotated[str, one_of(POINT_KINDS, "kind of point")]


def si(quantity: Quantity | None) -> float | None:
    """Return the SI value of a quantity that may be left out."""
    return None if quantity is None else quantity.value
