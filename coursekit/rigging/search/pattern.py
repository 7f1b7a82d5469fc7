"""A layout as a search lists it: method, stations in order, and what each line is made of.

It says where gear is wanted (its slots), and becomes a rig when the slots are filled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from coursekit.rigging.rig import Line, LineEnd, Piece, PulleyStation, Rig
from coursekit.rigging.site import Situation

CONNECTOR, SLING, JOINER, PULLEY = "connector", "sling", "joiner", "pulley"


@dataclass(frozen=True)
class Slot:
    """One place in a rig where one item of gear is wanted.

    `number` is the line's station, or for a connector the joint between two of its lines.
    """

    line: int
    number: int
    part: str
    at: str | None = None


@dataclass(frozen=True)
class LinePattern:
    """One line of a layout: the places it meets, and the lines that it is joined of."""

    stations: tuple[str, ...]
    made_of: tuple[str, ...]
    role: str = "pull"

    @property
    def pulleys(self) -> tuple[str, ...]:
        """The places where it turns."""
        return self.stations[1:-1]

    @property
    def starts_at_winch(self) -> bool:
        """Whether a winch pulls it in, so that nothing joins it to its start."""
        return self.stations[0].endswith(".winch")


@dataclass(frozen=True)
class Pattern:
    """A layout: the line that pulls, and the one that holds where the vehicle would run away."""

    method: str
    pull: LinePattern
    hold: LinePattern | None = None

    @property
    def lines(self) -> tuple[LinePattern, ...]:
        """Its lines, the one that pulls first."""
        return (self.pull,) if self.hold is None else (self.pull, self.hold)

    @property
    def used_in_order(self) -> tuple[str, ...]:
        """The items that its lines are made of."""
        return tuple(name for line in self.lines for name in line.made_of)

    def slots(self, situation: Situation) -> tuple[Slot, ...]:
        """Return where gear is wanted, line by line, pulleys not among it."""
        return tuple(
            slot
            for number, line in enumerate(self.lines)
            for slot in _slots(situation, number, line)
        )

    def pulley_slots(self) -> tuple[Slot, ...]:
        """Return where pulleys are wanted, in the order in which the line meets them."""
        turns = enumerate(self.pull.pulleys, start=1)
        return tuple(Slot(0, number, PULLEY, at) for number, at in turns)

    def rig(
        self,
        filled: Mapping[Slot, Piece],
        dampers: tuple[str, ...] = (),
        speed: float | None = None,
    ) -> Rig:
        """Return the rig with its slots filled; a slot left empty has nothing in it.

        A damper goes on the line that pulls first.
        """
        lines = (
            _line(line, number, filled, dampers[number : number + 1])
            for number, line in enumerate(self.lines)
        )
        return Rig(self.method, tuple(lines), speed)


def _slots(situation: Situation, number: int, line: LinePattern) -> Iterator[Slot]:
    for joint in range(len(line.made_of) - 1):
        yield Slot(number, joint, CONNECTOR)
    for station, at in enumerate(line.stations):
        if station == 0 and line.starts_at_winch:
            continue
        if situation.is_wrapped(at):
            yield Slot(number, station, SLING, at)
        yield Slot(number, station, JOINER, at)


def _line(
    line: LinePattern, number: int, filled: Mapping[Slot, Piece], dampers: tuple[str, ...]
) -> Line:
    def joined(station: int) -> tuple[Piece, ...]:
        at = line.stations[station]
        slots = (Slot(number, station, SLING, at), Slot(number, station, JOINER, at))
        return tuple(filled[slot] for slot in slots if slot in filled)

    last = len(line.stations) - 1
    pulleys = tuple(
        PulleyStation(at, filled[Slot(number, station, PULLEY, at)].item, joined(station))
        for station, at in enumerate(line.pulleys, start=1)
    )
    return Line(
        line.stations[0],
        tuple(_made_of(line, number, filled)),
        LineEnd(line.stations[last], joined(last)),
        line.role,
        joined(0),
        pulleys,
        dampers,
    )


def _made_of(line: LinePattern, number: int, filled: Mapping[Slot, Piece]) -> Iterator[str]:
    for joint, item in enumerate(line.made_of):
        connector = Slot(number, joint - 1, CONNECTOR)
        if joint and connector in filled:
            yield filled[connector].item
        yield item
