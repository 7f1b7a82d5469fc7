"""A rig in words, line by line: what a drawing can't show of joints and hitches."""

from __future__ import annotations

from collections.abc import Iterator

from flask_babel import gettext as _

from coursekit.quantities.display import show_given
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.rig import Line, Piece, Rig
from coursekit.scenario.model import Scenario
from coursekit.web import words
from coursekit.web.plan import names_of

STRAIGHT = "straight"


def rig_text(scenario: Scenario, rig: Rig) -> tuple[str, ...]:
    """Return the sentences of a rig."""
    names, units = names_of(scenario), units_of(scenario)
    sentences = [str(words.RIG_METHODS[rig.method]) + "."]
    for line in rig.lines:
        sentences.extend(_line(names, line))
    if rig.speed is not None:
        speed = show_given(rig.speed, Kind.SPEED, units[Kind.SPEED])
        sentences.append(_("The rope comes taut at %(speed)s.", speed=speed))
    if rig.drive:
        force = show_given(rig.drive, Kind.FORCE, units[Kind.FORCE])
        sentences.append(_("Drive force kept on: %(force)s.", force=force))
    return tuple(sentences)


def _line(names: dict[str, str], line: Line) -> Iterator[str]:
    made_of = ", ".join(names[item] for item in line.made_of)
    start = names[line.start] + _joined(names, line.joined_with)
    if line.role == "hold":
        yield _("A line that holds starts at %(start)s: %(made_of)s.", start=start, made_of=made_of)
    else:
        yield _("The line starts at %(start)s: %(made_of)s.", start=start, made_of=made_of)
    for pulley in line.pulleys:
        at = names[pulley.at] + _joined(names, pulley.joined_with)
        yield _("It passes %(pulley)s at %(at)s.", pulley=names[pulley.by], at=at)
    yield _("It ends at %(end)s.", end=names[line.to.at] + _joined(names, line.to.joined_with))
    if line.dampers:
        yield _("On it lies %(dampers)s.", dampers=", ".join(names[item] for item in line.dampers))


def _joined(names: dict[str, str], pieces: tuple[Piece, ...]) -> str:
    if not pieces:
        return ""
    return " " + _("with %(pieces)s", pieces=", ".join(_piece(names, piece) for piece in pieces))


def _piece(names: dict[str, str], piece: Piece) -> str:
    told = [names[piece.item]]
    if piece.hitch != STRAIGHT or piece.angle:
        told.append(str(words.HITCHES[piece.hitch]))
    if piece.angle:
        told.append(_("legs at %(angle)s", angle=_degrees(piece.angle)))
    if piece.choke is not None:
        told.append(_("angle of choke %(angle)s", angle=_degrees(piece.choke)))
    if piece.off_line is not None:
        told.append(_("pulled %(angle)s off its line", angle=_degrees(piece.off_line)))
    return " ".join(told)


def _degrees(angle: float) -> str:
    return show_given(angle, Kind.ANGLE, "deg")
