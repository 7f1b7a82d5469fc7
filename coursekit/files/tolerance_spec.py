"""How far an answer may lie off, as a document writes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import PlainSerializer, PlainValidator, ValidationInfo

from coursekit.files.complaint import advice, complaint, text_of
from coursekit.files.plain_fields import outline
from coursekit.files.quantity_fields import read_as
from coursekit.files.quantity_names import kind_of
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import Quantity, read_number
from coursekit.quantities.units import Kind
from coursekit.scenario.tasks import Tolerance


@dataclass(frozen=True)
class StatedTolerance:
    """How far an answer may lie off, as written: a share each side, or one amount."""

    below: Quantity | None = None
    above: Quantity | None = None
    amount: Quantity | None = None

    def sides(self) -> dict[str, Quantity]:
        """Return the shares that are stated."""
        sides = {"below": self.below, "above": self.above}
        return {name: share for name, share in sides.items() if share is not None}

    def as_written(self) -> Any:
        """Return what a document holds: both shares, or the amount."""
        if self.amount is not None:
            return self.amount.text
        return {name: share.text for name, share in self.sides().items()}

    def tolerance(self) -> Tolerance:
        """Return the tolerance in SI; a side that is not stated is the usual one."""
        if self.amount is not None:
            return Tolerance(absolute=self.amount.value)
        return Tolerance(**{name: share.value for name, share in self.sides().items()})


def _tolerance(value: object, info: ValidationInfo) -> StatedTolerance:
    if isinstance(value, Mapping):
        return StatedTolerance(**{key: _side(key, share) for key, share in value.items()})
    text = text_of(value)
    kind = kind_of(info.data.get("of", ""), outline(info).situation)
    if kind in {None, Kind.RATIO} or _is_share(text):
        share = _share(text)
        return StatedTolerance(share, share)
    amount = read_as(kind, text)
    if amount.value < 0.0:
        raise complaint(f"{text} is below zero", "Write how far an answer may lie off")
    return StatedTolerance(amount=amount)


def _is_share(text: str) -> bool:
    try:
        return read_number(text, decimal_comma=False).token in {"", "%"}
    except QuantityError:
        return False


def _side(key: str, value: object) -> Quantity:
    if key not in {"below", "above"}:
        raise complaint("This key is not known here", advice(key, ("below", "above")), key=key)
    return _share(value, key)


def _share(value: object, key: str = "") -> Quantity:
    share = read_as(Kind.RATIO, value)
    if not 0.0 <= share.value <= 1.0:
        raise complaint(f"{share.text} is no share", "Write 0 % to 100 %, as in 5 %", key=key)
    return share


# Stands after `of` in its task: an amount is read by the kind of what is asked for.
ToleranceOfTask = Annotated[
    StatedTolerance,
    PlainValidator(_tolerance),
    PlainSerializer(StatedTolerance.as_written),
]
