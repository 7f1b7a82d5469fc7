"""A whole scenario as a document writes it."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field, PlainValidator, ValidationInfo, field_validator

from coursekit.files.anchor_spec import AnchorSpec
from coursekit.files.complaint import complaint, text_of
from coursekit.files.gear_spec import GearSpec
from coursekit.files.plain_fields import Flag, Identifier, ScenarioId, Text, one_of, outline
from coursekit.files.quantity_fields import Share
from coursekit.files.rig_spec import RigSpec
from coursekit.files.site_spec import GroundSpec, PolicySpec, SpreadSpec
from coursekit.files.spec import Spec
from coursekit.files.task_spec import AnyTaskSpec
from coursekit.files.vehicle_spec import RecoveryVehicleSpec, StuckVehicleSpec
from coursekit.files.yard_spec import YardTaskSpec, refuse_repeated
from coursekit.mechanics.resistance import FIELD_RULE_STEEPEST
from coursekit.rigging.site import METHODS, Situation
from coursekit.scenario.model import EXPECTATIONS, LEVELS
from coursekit.scenario.tasks import OWN_RIG

FORMAT = "1"
VEHICLES = ("stuck_vehicle", "recovery_vehicle")


def _format(value: object) -> int:
    if text_of(value) != FORMAT:
        raise complaint(f"Format {text_of(value)} is not known here", f"Write format: {FORMAT}")
    return int(FORMAT)


def _thing_id(name: str) -> str:
    if name in VEHICLES:
        raise complaint(f"{name} stands for a vehicle", "Give it another name")
    return name


def _gear_id(name: str, info: ValidationInfo) -> str:
    if name in outline(info).situation.anchors:
        mend = "Give one of the two another name"
        raise complaint(f"{name} is the name of an anchor already", mend)
    return name


def _rig_id(name: str) -> str:
    if name == OWN_RIG:
        raise complaint("own stands for the student's own rig", "Give this rig another name")
    return name


ThingId = Annotated[Identifier, AfterValidator(_thing_id)]
GearId = Annotated[ThingId, AfterValidator(_gear_id)]
RigId = Annotated[Identifier, AfterValidator(_rig_id)]


class RangeSpec(Spec):
    """The values that a field may take; read by `ranges`, which knows the field."""

    lowest: Text = Field(alias="from", examples=["2200 kg"])
    highest: Text = Field(alias="to", examples=["3100 kg"])
    step: Text = Field(examples=["50 kg"])


class ScenarioSpec(Spec):
    """One scenario."""

    format: Annotated[int, PlainValidator(_format)] = Field(examples=[FORMAT])
    id: ScenarioId = Field(examples=["ford-exit"])
    title: Text = Field(examples=["Bogged at the ford exit"])
    level: Annotated[str, one_of(LEVELS, "level")] = Field(examples=["foundation"])
    brief: Text = Field(examples=["what the student reads"])
    method: Annotated[str, one_of(METHODS, "method")] = "vector"
    expect: Annotated[str, one_of(EXPECTATIONS, "expectation")] = "go"
    stuck_vehicle: StuckVehicleSpec
    recovery_vehicle: RecoveryVehicleSpec | None = None
    ground: GroundSpec
    anchors: dict[ThingId, AnchorSpec] = Field(default={})
    gear: dict[GearId, GearSpec] = Field(default={})
    policy: PolicySpec = PolicySpec()
    spread: SpreadSpec = SpreadSpec()
    vary: dict[Text, RangeSpec] = Field(default={})
    rigs: dict[RigId, RigSpec] = Field(default={})
    pass_mark: Share | None = Field(default=None, alias="pass")
    weakest_may_change: Flag = False
    tasks: tuple[AnyTaskSpec, ...] = Field(examples=["[{id: total, ask: quantity, …}]"])
    yard: tuple[YardTaskSpec, ...] = ()

    @field_validator("ground")
    @classmethod
    def _fits_the_method(cls, ground: GroundSpec, info: ValidationInfo) -> GroundSpec:
        steep = ground.slope is not None and ground.slope.value > FIELD_RULE_STEEPEST
        if steep and info.data.get("method") == "field-rule":
            mend = "Use the vector method"
            raise complaint("The field rule reads slopes up to 45 deg", mend, key="slope")
        return ground

    @field_validator("ground")
    @classmethod
    def _fits_the_vehicle(cls, ground: GroundSpec, info: ValidationInfo) -> GroundSpec:
        stuck = info.data.get("stuck_vehicle")
        if stuck is not None and stuck.lying is not None and ground.bogged != "none":
            mend = "Write bogged: none, or take lying out of the stuck vehicle"
            raise complaint("A vehicle on its side is not bogged to a depth", mend, key="bogged")
        return ground

    @field_validator("tasks")
    @classmethod
    def _ask_something(cls, tasks: tuple[AnyTaskSpec, ...]) -> tuple[AnyTaskSpec, ...]:
        if not tasks:
            raise complaint("The scenario asks nothing", "Add a task")
        return tasks

    @field_validator("yard")
    @classmethod
    def _have_their_own_names(cls, yard: tuple[YardTaskSpec, ...]) -> tuple[YardTaskSpec, ...]:
        refuse_repeated("task", (task.id for task in yard))
        return yard

    def situation(self) -> Situation:
        """Return the situation in SI."""
        recovery = self.recovery_vehicle
        return Situation(
            method=self.method,
            stuck=self.stuck_vehicle.vehicle(),
            recovery=None if recovery is None else recovery.vehicle(),
            ground=self.ground.ground(),
            anchors={name: anchor.anchor(name) for name, anchor in self.anchors.items()},
            gear={name: item.item(name) for name, item in self.gear.items()},
            policy=self.policy.policy(),
            spread=self.spread.spread(),
        )
