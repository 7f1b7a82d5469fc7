"""A rig as a person builds it: lines, the pulleys they pass, what joins what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.mechanics.nomenclature import MetrePerSecond, Newton, Radian

RIG_METHODS = ("winch", "kinetic", "tow")
ROLES = ("pull", "hold")


@dataclass(frozen=True)
class Piece:
    """One item in a joint, with the hitch it makes and the angles it is loaded at."""

    item: str
    hitch: str = "straight"
    # Between the legs of a basket or bridle; left out, it follows from the girth or is 0.
    angle: Radian | None = None
    # Of a choker; left out, it lies as it likes, at over 120 deg.
    choke: Radian | None = None
    # Of a bow shackle, off the line from its pin to its bow.
    off_line: Radian | None = None


@dataclass(frozen=True)
class PulleyStation:
    """A pulley that the line passes: where, by which item, joined with what."""

    at: str
    by: str
    joined_with: tuple[Piece, ...] = ()


@dataclass(frozen=True)
class LineEnd:
    """Where a line ends and what joins it there, anchor or vehicle side first."""

    at: str
    joined_with: tuple[Piece, ...] = ()


@dataclass(frozen=True)
class Line:
    """One line from its start past its pulleys to its end."""

    start: str
    made_of: tuple[str, ...]
    to: LineEnd
    role: str = "pull"
    joined_with: tuple[Piece, ...] = ()
    pulleys: tuple[PulleyStation, ...] = ()
    dampers: tuple[str, ...] = ()

    @property
    def stations(self) -> tuple[str, ...]:
        """The places that the line meets, in order."""
        return (self.start, *(pulley.at for pulley in self.pulleys), self.to.at)

    @property
    def starts_at_winch(self) -> bool:
        """Whether a winch pulls the line in."""
        return self.start.endswith(".winch")

    def items(self) -> Iterator[str]:
        """Yield every item of the line as often as the rig names it."""
        yield from self.made_of
        yield from (piece.item for piece in self.joined_with)
        for pulley in self.pulleys:
            yield pulley.by
            yield from (piece.item for piece in pulley.joined_with)
        yield from (piece.item for piece in self.to.joined_with)
        yield from self.dampers


@dataclass(frozen=True)
class Rig:
    """A whole rig: one line that pulls, and lines that hold."""

    method: str
    lines: tuple[Line, ...]
    speed: MetrePerSecond | None = None
    drive: Newton = 0.0

    @property
    def pull_line(self) -> Line:
        """The one line that pulls."""
        return next(line for line in self.lines if line.role == "pull")

    @property
    def hold_lines(self) -> tuple[Line, ...]:
        """The lines that keep the vehicle from running away."""
        return tuple(line for line in self.lines if line.role == "hold")

    @property
    def pieces(self) -> int:
        """How many pieces it takes; dampers and holding lines are never charged."""
        return sum(1 for _ in self.pull_line.items()) - len(self.pull_line.dampers)

    def items(self) -> Iterator[str]:
        """Yield every item as often as the rig names it."""
        for line in self.lines:
            yield from line.items()
