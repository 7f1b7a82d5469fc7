"""The names of a document that may still be full of mistakes.

References are checked against it, so that a line through a place that does not
exist is reported beside a mass in newtons, in one go.  What can't be read of a
place or a kind is left blank here: reading it is reported where it stands.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from coursekit.rigging.gear import Item
from coursekit.rigging.site import Anchor, Ground, Situation
from coursekit.rigging.vehicle import Position, Vehicle, Winch

_UNKNOWN_PLACE = (math.nan, math.nan)
_NOBODY = Vehicle("", 0.0, _UNKNOWN_PLACE, exit=0.0)
_NOWHERE = Situation("", _NOBODY, None, Ground(), {}, {})


@dataclass(frozen=True)
class Outline:
    """The names of a scenario: of its gear and places, its rigs and its tasks."""

    situation: Situation = _NOWHERE
    stem: str | None = None
    rigs: tuple[str, ...] = ()
    # Task id -> what it asks for.
    tasks: Mapping[str, str] = field(default_factory=dict)


def outline_of(document: Any, stem: str | None = None) -> Outline:
    """Return the names that stand in a document, whatever else is wrong with it.

    >>> outline_of({"gear": {"bow-1": {"kind": "bow-shackle"}}, "rigs": 7}).situation.gear.keys()
    dict_keys(['bow-1'])
    """
    root = _mapping(document)
    recovery = root.get("recovery_vehicle")
    situation = Situation(
        method="",
        stuck=_vehicle(root.get("stuck_vehicle")),
        recovery=_vehicle(recovery) if isinstance(recovery, Mapping) else None,
        ground=Ground(),
        anchors={name: _anchor(name, part) for name, part in _parts(root.get("anchors"))},
        gear={name: Item(name, _text(part, "kind")) for name, part in _parts(root.get("gear"))},
    )
    tasks = root.get("tasks")
    entries = [_mapping(task) for task in tasks] if isinstance(tasks, list) else []
    asked = {_text(task, "id"): _text(task, "ask") for task in entries}
    return Outline(situation, stem, tuple(map(str, _mapping(root.get("rigs")))), asked)


def _mapping(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _parts(value: Any) -> list[tuple[str, Mapping[str, Any]]]:
    return [(str(name), _mapping(part)) for name, part in _mapping(value).items()]


def _text(part: Mapping[str, Any], key: str) -> str:
    return str(part.get(key) or "")


def _position(part: Mapping[str, Any]) -> Position:
    # Two places that can't be read must not seem to be one: nan is near to nothing.
    try:
        east, north = part["at"]
        return float(east), float(north)
    except (KeyError, TypeError, ValueError):
        return _UNKNOWN_PLACE


def _anchor(name: str, part: Mapping[str, Any]) -> Anchor:
    return Anchor(name, _text(part, "kind"), _position(part), 0.0)


def _vehicle(value: Any) -> Vehicle:
    part = _mapping(value)
    points = {name: Item(name, _text(point, "kind")) for name, point in _parts(part.get("points"))}
    winch = part.get("winch")
    has_winch = isinstance(winch, Mapping)
    line = _text(_mapping(winch), "line")
    return Vehicle(
        _text(part, "name"),
        0.0,
        _position(part),
        points,
        Winch(0.0, 0.0, 0.0, 1, line) if has_winch else None,
        exit=0.0,
    )
