"""A rig as a document writes it, and the document of a rig.

Whether its places and items exist is the matter of `rigging.soundness`; here
its keys, words and quantities are read.
"""

from __future__ import annotations

import math
from typing import Annotated, Any

from pydantic import Field, model_validator

from coursekit.files.gear_spec import si
from coursekit.files.plain_fields import Text, one_of
from coursekit.files.quantity_fields import ForceFromZero, LegAngle, Speed
from coursekit.files.spec import Spec
from coursekit.quantities.parse import parse_quantity
from coursekit.quantities.units import Kind
from coursekit.rigging.gear import HITCHES
from coursekit.rigging.rig import RIG_METHODS, ROLES, Line, LineEnd, Piece, PulleyStation, Rig

LARGEST = 50
"""Parts of one list of a rig; no rig comes near it."""


class PieceSpec(Spec):
    """One item of a joint: its name alone, or with its hitch."""

    item: Text = Field(examples=["sling-1"])
    hitch: Annotated[str, one_of(HITCHES, "hitch")] = "straight"
    angle: LegAngle | None = None
    choke: LegAngle | None = None
    off_line: LegAngle | None = None

    @model_validator(mode="before")
    @classmethod
    def _from_name(cls, value: Any) -> Any:
        return {"item": value} if isinstance(value, str) else value

    def piece(self) -> Piece:
        """Return the piece in SI."""
        return Piece(self.item, self.hitch, si(self.angle), si(self.choke), si(self.off_line))


Pieces = Annotated[tuple[PieceSpec, ...], Field(max_length=LARGEST)]
Names = Annotated[tuple[Text, ...], Field(max_length=LARGEST)]


def _pieces(specs: tuple[PieceSpec, ...]) -> tuple[Piece, ...]:
    return tuple(spec.piece() for spec in specs)


class PulleySpec(Spec):
    """A pulley that the line passes."""

    at: Text = Field(examples=["oak"])
    by: Text = Field(examples=["block-1"])
    joined_with: Pieces = Field(default=(), alias="with")

    def station(self) -> PulleyStation:
        """Return the station of the pulley."""
        return PulleyStation(self.at, self.by, _pieces(self.joined_with))


class LineEndSpec(Spec):
    """Where a line ends."""

    at: Text = Field(examples=["stuck_vehicle.rear"])
    joined_with: Pieces = Field(default=(), alias="with")


class LineSpec(Spec):
    """One line from its start past its pulleys to its end."""

    role: Annotated[str, one_of(ROLES, "role of a line")] = "pull"
    start: Text = Field(alias="from", examples=["recovery_vehicle.winch"])
    made_of: Names = Field(examples=["[winch-line]"])
    joined_with: Pieces = Field(default=(), alias="with")
    pulleys: Annotated[tuple[PulleySpec, ...], Field(max_length=LARGEST)] = ()
    to: LineEndSpec = Field(examples=["{at: stuck_vehicle.rear, with: [bow-1]}"])
    dampers: Names = ()

    def line(self) -> Line:
        """Return the line."""
        return Line(
            start=self.start,
            made_of=self.made_of,
            to=LineEnd(self.to.at, _pieces(self.to.joined_with)),
            role=self.role,
            joined_with=_pieces(self.joined_with),
            pulleys=tuple(pulley.station() for pulley in self.pulleys),
            dampers=self.dampers,
        )


class RigSpec(Spec):
    """A whole rig."""

    method: Annotated[str, one_of(RIG_METHODS, "method")] = Field(examples=["winch"])
    lines: Annotated[tuple[LineSpec, ...], Field(max_length=LARGEST)]
    speed: Speed | None = None
    drive: ForceFromZero | None = None

    def rig(self) -> Rig:
        """Return the rig in SI."""
        lines = tuple(line.line() for line in self.lines)
        return Rig(self.method, lines, si(self.speed), si(self.drive) or 0.0)


def rig_document(rig: Rig) -> dict[str, Any]:
    """Return the document of a rig; reading it gives the same rig again."""
    document: dict[str, Any] = {
        "method": rig.method,
        "lines": [_line_document(line) for line in rig.lines],
    }
    if rig.speed is not None:
        document["speed"] = f"{rig.speed!r} m/s"
    if rig.drive:
        document["drive"] = f"{rig.drive!r} N"
    return document


def _line_document(line: Line) -> dict[str, Any]:
    pulleys = [
        {"at": pulley.at, "by": pulley.by} | _with(pulley.joined_with) for pulley in line.pulleys
    ]
    return (
        {"role": line.role, "from": line.start, "made_of": list(line.made_of)}
        | _with(line.joined_with)
        | ({"pulleys": pulleys} if pulleys else {})
        | {"to": {"at": line.to.at} | _with(line.to.joined_with)}
        | ({"dampers": list(line.dampers)} if line.dampers else {})
    )


def _with(pieces: tuple[Piece, ...]) -> dict[str, Any]:
    return {"with": [_piece_document(piece) for piece in pieces]} if pieces else {}


def _piece_document(piece: Piece) -> str | dict[str, str]:
    stated = {"angle": piece.angle, "choke": piece.choke, "off_line": piece.off_line}
    angles = {key: _angle_text(angle) for key, angle in stated.items() if angle is not None}
    if piece.hitch == "straight" and not angles:
        return piece.item
    return {"item": piece.item, "hitch": piece.hitch} | angles


def _angle_text(angle: float) -> str:
    """Return an angle in degrees where that is the same angle again, else in radians."""
    degrees = f"{math.degrees(angle):.12g} deg"
    same = parse_quantity(degrees, Kind.ANGLE, decimal_comma=False).value == angle
    return degrees if same else f"{angle!r} rad"
