"""Where lines meet places, and the load of each place and of each chain of gear.

A place met once has one load.  A place met twice keeps the vector sum as its
own load, while each chain of gear there carries its own.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from coursekit.mechanics.elementary import cos, degrees, hypot, sin
from coursekit.rigging.plan import LinePlan, Vector, scaled, total
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Term, Values

TURN_SOURCE = (
    "vector sum of the line parts that meet there; for equal parts 2 F cos(half the angle), "
    "as in rigging tables"
)

LOAD_ON = "load on {place}"
# Below this angle two parts pull as one way, and no slip about the angle shows.
NEARLY_PARALLEL = math.radians(5.0)


@dataclass(frozen=True)
class LoadedLine:
    """A line laid out, and the key of the force at its start."""

    plan: LinePlan
    key: str


@dataclass(frozen=True)
class Meeting:
    """One station of one line: its place, and the key of the load it brings there."""

    loaded: LoadedLine
    station: int
    at: str
    key: str

    @cached_property
    def unit_force(self) -> Vector:
        """The force on the place for each unit of force at the line's start."""
        return self.loaded.plan.force_at_station(self.station)

    @property
    def is_turn(self) -> bool:
        """Whether a pulley turns the line here."""
        return 0 < self.station < len(self.loaded.plan.stations) - 1


def place_key(at: str) -> str:
    """Return the key of the load on a place."""
    return f"place.{at}.load"


def meetings_of(loaded: Sequence[LoadedLine]) -> tuple[Meeting, ...]:
    """Return every meeting of a line with a place, line by line."""
    met = [(line, i, at) for line in loaded for i, at in enumerate(line.plan.stations)]
    times = Counter(at for _, _, at in met)
    seen: Counter[str] = Counter()
    meetings = []
    for line, station, at in met:
        seen[at] += 1
        key = place_key(at) if times[at] == 1 else f"joint.{at}.{seen[at]}.load"
        meetings.append(Meeting(line, station, at, key))
    return tuple(meetings)


def joint_steps(meetings: Sequence[Meeting]) -> Iterator[Step]:
    """Yield the load of each chain of gear, and of each place that has several."""
    for meeting in meetings:
        yield _meeting_step(meeting)
    for at, times in Counter(meeting.at for meeting in meetings).items():
        if times > 1:
            yield _sum_step(at, [meeting for meeting in meetings if meeting.at == at])


def _meeting_step(meeting: Meeting) -> Step:
    plan, start = meeting.loaded.plan, meeting.loaded.key
    share = hypot(*meeting.unit_force)
    symbol = f"F_{meeting.at}"
    if meeting.is_turn:
        arriving = plan.tensions[meeting.station - 1]
        return Step(
            meeting.key,
            LOAD_ON,
            symbol,
            "N",
            "F = |T1 u1 + T2 u2|",
            TURN_SOURCE,
            lambda v: v[start] * share,
            (start,),
            _turn_slips(meeting),
            words={"place": meeting.at},
            expression=_TURN if plan.tensions[meeting.station] != arriving else _EQUAL_TURN,
            terms=_turn_terms(meeting),
        )
    return Step(
        meeting.key,
        LOAD_ON,
        symbol,
        "N",
        "F = the tension in the line part that ends there",
        "the tension falls at each pulley by its efficiency",
        lambda v: v[start] * share,
        (start,),
        _end_slips(meeting),
        words={"place": meeting.at},
        expression=f"{{t}} * {{{start}}}",
        terms=(Term("t", "share of the pull that is left there", "-", share),),
    )


def _turn_terms(meeting: Meeting) -> tuple[Term, ...]:
    plan, start, station = meeting.loaded.plan, meeting.loaded.key, meeting.station
    return (
        _tension("T1", start, plan.tensions[station - 1], plan.stations[station - 1]),
        _tension("T2", start, plan.tensions[station], plan.stations[station + 1]),
        Term("gamma", "angle between the parts", "rad", lambda _v: plan.angle_at(station)),
    )


# Two parts at an angle, by the law of cosines; the same where both are equal.
_TURN = "sqrt({T1}^2 + {T2}^2 + 2 * {T1} * {T2} * cos({gamma}))"
_EQUAL_TURN = "2 * {T1} * cos({gamma} / 2)"


def _tension(symbol: str, start: str, share: float, toward: str) -> Term:
    return Term(
        symbol,
        "tension in the part toward {place}",
        "N",
        lambda v: v[start] * share,
        "up",
        {"place": toward},
    )


def _sum_step(at: str, meetings: Sequence[Meeting]) -> Step:
    def load(v: Values) -> float:
        return hypot(*total(scaled(m.unit_force, v[m.loaded.key]) for m in meetings))

    return Step(
        place_key(at),
        LOAD_ON,
        f"F_{at}",
        "N",
        "F = |sum of the parts that meet there|",
        TURN_SOURCE,
        load,
        tuple(dict.fromkeys(m.loaded.key for m in meetings)),
        words={"place": at},
    )


def force_on_place(at: str, meetings: Sequence[Meeting], values: Values) -> Vector | None:
    """Return the force on a place, None where a line's force has no meaning."""
    here = [meeting for meeting in meetings if meeting.at == at]
    if any(values[m.loaded.key] is None for m in here):
        return None
    return total(scaled(m.unit_force, values[m.loaded.key]) for m in here)


def force_on_vehicle(vehicle: str, loaded: Sequence[LoadedLine], values: Values) -> Vector | None:
    """Return the force of a whole rig on a vehicle, None where it has no meaning."""
    bearing = [line for line in loaded if line.plan.stations_on(vehicle)]
    if any(values[line.key] is None for line in bearing):
        return None
    return total(scaled(line.plan.force_on(vehicle), values[line.key]) for line in bearing)


def _turn_slips(meeting: Meeting) -> tuple[Slip, ...]:
    plan, station, start = meeting.loaded.plan, meeting.station, meeting.loaded.key
    arriving = plan.tensions[station - 1]
    angle = plan.angle_at(station)
    meets = f"{degrees(angle):.0f} deg"
    slips = [
        Slip(
            "single-line-load",
            "one line's load on a turn",
            lambda v: v[start] * arriving,
            "{given} is one part of the line, and a turn carries both. The parts meet at "
            "{angle} and add up to {truth}.",
            DANGEROUS,
            {"angle": meets},
        )
    ]
    if angle > NEARLY_PARALLEL:
        slips.extend(_angle_slips(start, arriving, angle))
    if plan.tensions[station] != arriving:
        slips.append(
            Slip(
                "friction-left-out-of-turn",
                "the friction of the pulley left out",
                lambda v: 2.0 * v[start] * arriving * cos(angle / 2.0),
                "The part behind the pulley pulls less than the part before it: together "
                "{truth}, not {given}.",
            )
        )
    return tuple(slips)


def _angle_slips(start: str, arriving: float, angle: float) -> Iterator[Slip]:
    parts = {"angle": f"{degrees(angle):.0f} deg"}
    yield Slip(
        "twice-the-line",
        "twice the line, whatever the angle",
        lambda v: 2.0 * v[start] * arriving,
        "Two parallel parts would come to {given}. These meet at "
        "{angle}, so they add up to {truth}.",
        words=parts,
    )
    yield Slip(
        "sine-for-cosine",
        "sine for cosine, or the angle of deflection for the angle between the parts",
        lambda v: 2.0 * v[start] * arriving * sin(angle / 2.0),
        "The load is twice the line times the cosine of half the angle between the parts "
        "({angle}): {truth}, not {given}.",
        DANGEROUS,
        parts,
    )
    if angle < math.pi / 2.0:
        yield Slip(
            "full-angle-for-half",
            "the full angle taken for its half",
            lambda v: 2.0 * v[start] * arriving * cos(angle),
            "{given} takes the cosine of the whole angle; take it of half: the parts meet at "
            "{angle}, which gives {truth}.",
            DANGEROUS,
            parts,
        )


def _end_slips(meeting: Meeting) -> tuple[Slip, ...]:
    start = meeting.loaded.key
    if meeting.loaded.plan.tensions[-1] == 1.0 or meeting.station == 0:
        return ()
    return (
        Slip(
            "friction-left-out-of-end",
            "the friction on the way left out",
            lambda v: v[start],
            "{given} is the pull at the winch; behind the pulleys {truth} is left.",
        ),
    )
