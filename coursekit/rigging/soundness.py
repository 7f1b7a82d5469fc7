"""Whether a rig can be solved at all: every place and item known, every part a length.

This is the one place of these rules: files and forms ask here, and `solve`
raises what it finds.  An unsafe rig is sound; it is found unsafe by solving it.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from coursekit.mechanics.resistance import FIELD_RULE_STEEPEST
from coursekit.problems import Problem, Where
from coursekit.rigging.gear import DAMPER, HITCHED, PULLEYS
from coursekit.rigging.plan import distance
from coursekit.rigging.rig import RIG_METHODS, Line, Piece, Rig
from coursekit.rigging.site import FIELD_RULE, Situation

# Two stations closer than this leave no direction to pull in.
SHORTEST_PART = 0.01


def rig_problems(situation: Situation, rig: Rig) -> tuple[Problem, ...]:
    """Return everything that keeps a rig from being solved, in its own order."""
    problems = [*_roles(rig), *situation_problems(situation)]
    for number, line in enumerate(rig.lines):
        field = f"lines.{number}"
        problems.extend(_items(situation, line, field))
        places = list(_places(situation, line, field))
        problems.extend(places or _parts(situation, line, field))
        if rig.method in RIG_METHODS:
            problems.extend(_start(situation, rig, line, field))
    if rig.method in RIG_METHODS:
        problems.extend(_kinetic(situation, rig))
    return tuple(problems)


def situation_problems(situation: Situation) -> tuple[Problem, ...]:
    """Return everything that keeps any rig from being solved in a situation."""
    problems = list(_field_rule(situation))
    if situation.stuck.exit is None:
        problems.append(_problem("exit", "The stuck vehicle has no exit bearing", "Give one"))
    return tuple(problems)


def _problem(field: str, what: str, mend: str) -> Problem:
    return Problem(Where(field), what, mend)


def _roles(rig: Rig) -> Iterator[Problem]:
    pulls = sum(line.role == "pull" for line in rig.lines)
    if pulls != 1:
        yield _problem(
            "lines", f"A rig has exactly one pull line; this one has {pulls}", "Keep one of them"
        )


def _field_rule(situation: Situation) -> Iterator[Problem]:
    if situation.method == FIELD_RULE and situation.ground.slope > FIELD_RULE_STEEPEST:
        yield _problem(
            "ground.slope", "The field rule reads slopes up to 45 deg", "Use the vector method"
        )


def _pieces(line: Line, field: str) -> Iterator[tuple[str, Piece]]:
    joints = [(f"{field}.with", line.joined_with)]
    joints += [(f"{field}.pulleys.{i}.with", p.joined_with) for i, p in enumerate(line.pulleys)]
    joints.append((f"{field}.to.with", line.to.joined_with))
    for at, pieces in joints:
        for i, piece in enumerate(pieces):
            yield f"{at}.{i}", piece


def _items(situation: Situation, line: Line, field: str) -> Iterator[Problem]:
    named = [(f"{field}.made_of.{i}", item) for i, item in enumerate(line.made_of)]
    named += [(where, piece.item) for where, piece in _pieces(line, field)]
    named += [(f"{field}.dampers.{i}", item) for i, item in enumerate(line.dampers)]
    for where, item in named:
        if item not in situation.gear:
            yield _problem(where, f"{item} is not gear at hand", _one_of(situation.gear))
    yield from _hitches(situation, line, field)
    yield from _angles(situation, line, field)
    yield from _dampers(situation, line, field)
    for i, pulley in enumerate(line.pulleys):
        if pulley.by not in situation.gear:
            mend = _one_of(situation.gear)
            yield _problem(f"{field}.pulleys.{i}.by", f"{pulley.by} is not gear at hand", mend)
        elif situation.gear[pulley.by].kind not in PULLEYS:
            yield _problem(
                f"{field}.pulleys.{i}.by",
                f"{pulley.by} is no pulley",
                "Name a pulley block or ring",
            )
    if not line.made_of:
        yield _problem(f"{field}.made_of", "The line is made of nothing", "Name at least one line")


def _hitches(situation: Situation, line: Line, field: str) -> Iterator[Problem]:
    """Yield hitches of what can't make one: a basket would double the limit of a shackle."""
    for where, piece in _pieces(line, field):
        item = situation.gear.get(piece.item)
        if item is not None and piece.hitch != "straight" and item.kind not in HITCHED:
            what = f"{piece.item} is a {item.kind}, and those make no {piece.hitch}"
            yield _problem(f"{where}.hitch", what, "Leave the hitch out, or name a sling")


def _angles(situation: Situation, line: Line, field: str) -> Iterator[Problem]:
    """Yield angles of what is not loaded that way, so that none is stated in vain."""
    for where, piece in _pieces(line, field):
        item = situation.gear.get(piece.item)
        if piece.choke is not None and piece.hitch != "choker":
            what = f"{piece.item} is not choked, so it has no angle of choke"
            yield _problem(f"{where}.choke", what, "Write hitch: choker, or take the angle out")
        if piece.off_line is not None and item is not None and item.kind != "bow-shackle":
            what = f"{piece.item} is a {item.kind}; the steps off its line are a bow-shackle's"
            yield _problem(f"{where}.off_line", what, "Take the angle out")


def _dampers(situation: Situation, line: Line, field: str) -> Iterator[Problem]:
    for i, name in enumerate(line.dampers):
        item = situation.gear.get(name)
        if item is not None and item.kind != DAMPER:
            yield _problem(f"{field}.dampers.{i}", f"{name} is no damper", "Name a line damper")


def _one_of(names: object) -> str:
    listed = ", ".join(names) if hasattr(names, "__iter__") else ""
    return f"Take one of: {listed}" if listed else "There is none at hand"


def _places(situation: Situation, line: Line, field: str) -> Iterator[Problem]:
    fields = [f"{field}.from"]
    fields += [f"{field}.pulleys.{i}.at" for i in range(len(line.pulleys))]
    fields.append(f"{field}.to.at")
    for where, place in zip(fields, line.stations, strict=True):
        if not situation.has_place(place):
            known = all_places(situation)
            joined = [name for name in known if where == fields[0] or not _is_winch(name)]
            yield _problem(where, f"There is no place {place}", _one_of(joined))
        elif _is_winch(place) and where != fields[0]:
            mend = "Name a point of the vehicle, or an anchor"
            yield _problem(where, f"Nothing can be joined to {place}", mend)


def _is_winch(place: str) -> bool:
    return place.endswith(".winch")


def all_places(situation: Situation) -> tuple[str, ...]:
    """Return every place where gear can be joined, vehicles first."""
    places = []
    for name, vehicle in situation.vehicles():
        places += [f"{name}.{point}" for point in vehicle.points]
        places += [f"{name}.winch"] if vehicle.winch else []
    return (*places, *situation.anchors)


def _parts(situation: Situation, line: Line, field: str) -> Iterator[Problem]:
    positions = [situation.position(place) for place in line.stations]
    for i, (a, b) in enumerate(itertools.pairwise(positions)):
        if distance(a, b) < SHORTEST_PART:
            where = f"{field}.pulleys.{i}.at" if i < len(line.pulleys) else f"{field}.to.at"
            here, there = line.stations[i], line.stations[i + 1]
            yield _problem(
                where, f"{here} and {there} stand in the same place", "Take a place apart from it"
            )


def _start(situation: Situation, rig: Rig, line: Line, field: str) -> Iterator[Problem]:
    if not situation.has_place(line.start):
        return
    if line.role == "hold":
        return
    if rig.method == "winch":
        yield from _winch_start(situation, line, field)
    elif not line.start.startswith("recovery_vehicle.") or line.starts_at_winch:
        yield _problem(
            f"{field}.from",
            f"A {rig.method} line starts at a point of the recovery vehicle",
            "Write for example recovery_vehicle.front",
        )
    elif not line.to.at.startswith("stuck_vehicle."):
        yield _problem(
            f"{field}.to.at",
            f"A {rig.method} line ends at a point of the stuck vehicle",
            "Write for example stuck_vehicle.rear",
        )


def _winch_start(situation: Situation, line: Line, field: str) -> Iterator[Problem]:
    if not line.starts_at_winch:
        yield _problem(f"{field}.from", "A winch line starts at a winch", "Name one")
        return
    vehicle = situation.vehicle_at(line.start)
    winch = vehicle.winch if vehicle else None
    if winch and winch.line and line.made_of and line.made_of[0] != winch.line:
        yield _problem(
            f"{field}.made_of.0",
            f"The line starts with {line.made_of[0]}, and {winch.line} is on this winch",
            "Name the winch's own line first",
        )


def _kinetic(situation: Situation, rig: Rig) -> Iterator[Problem]:
    if rig.method != "winch":
        for number, line in enumerate(rig.lines):
            if line.role == "pull" and line.pulleys:
                where = f"lines.{number}.pulleys"
                yield _problem(where, f"A {rig.method} line passes no pulley", "Leave them out")
        if situation.recovery is None:
            yield _problem("method", f"A {rig.method} needs a recovery vehicle", "Take the winch")
    if rig.method == "kinetic" and rig.speed is None:
        mend = f"Write for example {'4 mph' if situation.us_units else '2 m/s'}"
        yield _problem("speed", "A kinetic pull needs its closing speed", mend)
