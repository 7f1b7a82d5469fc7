"""How a line stretches as a document writes it: one word, one point, a power or a table."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Any

from pydantic import (
    Field,
    PlainSerializer,
    PlainValidator,
    TypeAdapter,
    ValidationInfo,
    field_validator,
    model_serializer,
    model_validator,
)

from coursekit.files.complaint import complaint
from coursekit.files.quantity_fields import Exponent, Share, ShareFromZero
from coursekit.files.spec import Spec
from coursekit.quantities.errors import quoted
from coursekit.quantities.parse import Quantity
from coursekit.rigging.gear import Stretch

LOW_STRETCH = "low"
_PAIR = 2
_LEAST = 0.0001
_SHARE: TypeAdapter[Quantity] = TypeAdapter(Share)


def _point(value: object) -> tuple[Quantity, Quantity]:
    if not isinstance(value, list | tuple) or len(value) != _PAIR:
        mend = "Write [strain, share of MBS], as in [30 %, 100 %]"
        raise complaint("A point of a curve is two shares", mend)
    strain, share = (part if isinstance(part, Quantity) else _share(part) for part in value)
    return strain, share


def _share(value: object) -> Quantity:
    return _SHARE.validate_python(value)


def _as_texts(point: tuple[Quantity, Quantity]) -> list[str]:
    return [share.text for share in point]


CurvePoint = Annotated[
    tuple[Quantity, Quantity], PlainValidator(_point), PlainSerializer(_as_texts)
]


def _require_stretch(strain: Quantity) -> None:
    if strain.value < _LEAST:
        raise complaint(
            f"A strain of {strain.text} is less than any line has",
            "Write low for a line that does not stretch",
        )


class StretchSpec(Spec):
    """How far a line stretches: a strain at a share of its breaking strength.

    An exponent makes it stiffen from there; a curve lists strain and share point by point.
    The word `low` is a strain of nothing: such a line is no elastic part.
    """

    curve: tuple[CurvePoint, ...] | None = None
    strain: ShareFromZero | None = Field(default=None, validate_default=True, examples=["30 %"])
    at: Share | None = None
    exponent: Exponent | None = None

    @model_validator(mode="before")
    @classmethod
    def _from_word(cls, value: Any) -> Any:
        if isinstance(value, str):
            if value.strip() != LOW_STRETCH:
                mend = "Write low, or {strain: 30 %, at: 100 %}"
                raise complaint(f"{quoted(value)} is no stretch known here", mend)
            return {"strain": "0 %"}
        return value

    @field_validator("curve")
    @classmethod
    def _rises(cls, curve: tuple[CurvePoint, ...] | None) -> tuple[CurvePoint, ...] | None:
        if curve is None:
            return curve
        if len(curve) < _PAIR:
            mend = "Add another, or write {strain: 30 %, at: 100 %} for a straight line"
            raise complaint("A curve needs two points or more", mend)
        for before, after in pairwise(curve):
            if any(low.value >= high.value for low, high in zip(before, after, strict=True)):
                raise complaint(
                    f"The curve does not rise to [{', '.join(_as_texts(after))}]",
                    "Write strain and share of MBS from the lowest to the highest, as in "
                    "[[5 %, 10 %], [15 %, 40 %], [30 %, 100 %]]",
                )
        _require_stretch(curve[-1][0])
        return curve

    @field_validator("strain", mode="before")
    @classmethod
    def _or_curve(cls, strain: Any, info: ValidationInfo) -> Any:
        if strain is None and info.data.get("curve", ()) is None:
            raise complaint("It is missing", "Add for example strain: 30 %", key="strain")
        return strain

    @field_validator("strain")
    @classmethod
    def _none_or_some(cls, strain: Quantity | None) -> Quantity | None:
        if strain is not None and strain.value:
            _require_stretch(strain)
        return strain

    @field_validator("strain", "at", "exponent")
    @classmethod
    def _beside_no_curve(cls, value: Quantity | None, info: ValidationInfo) -> Quantity | None:
        if value is not None and info.data.get("curve") is not None:
            mend = "Take this key out, or the curve"
            raise complaint("A curve says all of the stretch by itself", mend)
        return value

    @field_validator("exponent")
    @classmethod
    def _never_softens(cls, exponent: Quantity | None) -> Quantity | None:
        if exponent is not None and exponent.value < 1.0:
            raise complaint(
                f"{exponent.text} is below 1: no rope grows softer as it stretches",
                "Write 1 for a straight line, or up to 10",
            )
        return exponent

    @model_serializer(mode="plain")
    def _as_written(self) -> Any:
        if self.curve is not None:
            return {"curve": [_as_texts(point) for point in self.curve]}
        stated = {"strain": self.strain, "at": self.at, "exponent": self.exponent}
        if self.strain is None or not self.strain.value:
            return LOW_STRETCH
        return {key: quantity.text for key, quantity in stated.items() if quantity is not None}

    def stretch(self) -> Stretch:
        """Return the stretch in SI."""
        if self.curve is not None:
            curve = tuple((strain.value, share.value) for strain, share in self.curve)
            strain, share = curve[-1]
            return Stretch(strain, share, curve=curve)
        return Stretch(
            self.strain.value or None if self.strain else None,
            1.0 if self.at is None else self.at.value,
            1.0 if self.exponent is None else self.exponent.value,
        )
