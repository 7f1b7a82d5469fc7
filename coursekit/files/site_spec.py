"""Ground, anchors and the school's policy as a document writes them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field, ValidationInfo, field_validator

from coursekit.files.complaint import complaint
from coursekit.files.gear_spec import si
from coursekit.files.plain_fields import one_of
from coursekit.files.quantity_fields import (
    Bearing,
    Factor,
    Share,
    ShareFromZero,
    Slope,
    SpreadAngle,
    SpreadShare,
)
from coursekit.files.spec import Spec
from coursekit.mechanics.tables import SURFACES
from coursekit.rigging.findings import MAJOR, RULES
from coursekit.rigging.gear import ITEM_KINDS
from coursekit.rigging.site import BOGGED, Ground, Policy, Spread

MAJOR_RULES = tuple(rule for rule, severity in RULES.items() if severity == MAJOR)
SLING_FACTORS = ("b30.9", "en1492")


class GroundSpec(Spec):
    """The ground: what it costs a wheel, how it slopes, how deep it holds the vehicle."""

    bogged: Annotated[str, one_of(BOGGED, "depth")] = "none"
    rolling: ShareFromZero | None = None
    surface: Annotated[str, one_of(SURFACES, "surface")] | None = Field(
        default=None, validate_default=True
    )
    slope: Slope | None = None
    downhill: Bearing | None = Field(default=None, validate_default=True)

    @field_validator("surface", mode="before")
    @classmethod
    def _or_rolling(cls, surface: Any, info: ValidationInfo) -> Any:
        is_needed = info.data.get("bogged") == "none" and info.data.get("rolling", 0.0) is None
        if surface is None and is_needed:
            raise complaint(
                "The ground says neither its surface nor its rolling resistance",
                f"Add for example surface: wet-grass. Known here: {', '.join(SURFACES)}",
                key="surface",
            )
        return surface

    @field_validator("downhill", mode="before")
    @classmethod
    def _of_a_slope(cls, downhill: Any, info: ValidationInfo) -> Any:
        slope = info.data.get("slope")
        if downhill is None and slope is not None and slope.value > 0.0:
            raise complaint(
                f"A slope of {slope.text} needs the bearing of its steepest descent",
                "Add for example downhill: 270 deg",
                key="downhill",
            )
        return downhill

    def ground(self) -> Ground:
        """Return the ground in SI."""
        return Ground(
            surface=self.surface,
            rolling=si(self.rolling),
            slope=si(self.slope) or 0.0,
            downhill=si(self.downhill),
            bogged=self.bogged,
        )


class SpreadSpec(Spec):
    """How far the estimates of the site may lie from what the file states."""

    mass: SpreadShare | None = None
    rolling: SpreadShare | None = None
    slope: SpreadAngle | None = None
    efficiency: SpreadShare | None = None

    def spread(self) -> Spread:
        """Return the spread in SI, the usual one where the file states none."""
        stated = {
            "mass": self.mass,
            "rolling": self.rolling,
            "slope": self.slope,
            "efficiency": self.efficiency,
        }
        return Spread(**{name: own.value for name, own in stated.items() if own is not None})


class PolicySpec(Spec):
    """The school's own rules in place of the usual ones."""

    factors: dict[Annotated[str, one_of(ITEM_KINDS, "kind of gear")], Factor] = Field(default={})
    anchor_factor: Factor | None = None
    sling_factors: Annotated[str, one_of(SLING_FACTORS, "set of sling factors")] | None = None
    tow_allowance: Factor | None = None
    kinetic_allowance: Factor | None = None
    bent_synthetic: Share | None = None
    wet_stiffness: Factor | None = None
    worked_stiffness: Factor | None = None
    stop_on: tuple[Annotated[str, one_of(MAJOR_RULES, "major rule")], ...] | None = None

    @field_validator(
        "factors",
        "anchor_factor",
        "tow_allowance",
        "kinetic_allowance",
        "wet_stiffness",
        "worked_stiffness",
    )
    @classmethod
    def _never_below_one(cls, value: Any) -> Any:
        """Refuse a factor that would make a limit of more than the strength."""
        factors = value.values() if isinstance(value, Mapping) else [value]
        if any(factor.value < 1.0 for factor in factors):
            raise complaint("A factor below 1 takes safety away", "Write a number of 1 or more")
        return value

    def policy(self) -> Policy:
        """Return the rules, the usual ones where the school states none."""
        usual = Policy()
        return Policy(
            factors={kind: factor.value for kind, factor in self.factors.items()},
            anchor_factor=si(self.anchor_factor),
            sling_factors=self.sling_factors or usual.sling_factors,
            tow_allowance=si(self.tow_allowance) or usual.tow_allowance,
            kinetic_allowance=si(self.kinetic_allowance) or usual.kinetic_allowance,
            bent_synthetic=si(self.bent_synthetic),
            wet_stiffness=si(self.wet_stiffness) or usual.wet_stiffness,
            worked_stiffness=si(self.worked_stiffness) or usual.worked_stiffness,
            stop_on=usual.stop_on if self.stop_on is None else self.stop_on,
        )
