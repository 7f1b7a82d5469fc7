"""Anchors that are made on the spot: pickets, and a log buried as a deadman."""

from __future__ import annotations

from dataclasses import dataclass

from coursekit.mechanics.holdfast import (
    HOLDING_POWER,
    PICKETS,
    SLENDEREST_LOG,
    SLENDEREST_TIMBER,
    SOILS,
    TRENCH,
    deadman_holds,
)
from coursekit.mechanics.nomenclature import Count, Metre, Newton, NewtonPerSquareMetre
from coursekit.mechanics.ranges import require_in_range

# A depth that was written in another unit may miss its row by a rounding.
_DUST = 1e-9


@dataclass(frozen=True)
class Pickets:
    """Pickets in line with the pull, the row nearest the pull first, in loam."""

    rows: str

    @property
    def count(self) -> Count:
        """How many pickets there are in all rows."""
        return sum(int(row) for row in self.rows.split("-"))

    @property
    def holds(self) -> Newton:
        """What they hold by the table; KeyError for a set that it does not have."""
        return PICKETS[self.rows]


@dataclass(frozen=True)
class Deadman:
    """A buried log: its mean depth, its face and length, the slope of its line, its soil."""

    depth: Metre
    face: Metre
    length: Metre
    lead: str = "1:3"
    soil: str = "loam"
    # Of a timber along the pull; a log is as thick as its face is high.
    thickness: Metre | None = None

    @property
    def row(self) -> Metre:
        """The row of the table that counts: the deepest that the log reaches.

        Raises ValueError for a log shallower than the table.
        """
        return max(row for row in HOLDING_POWER if row <= self.depth * (1.0 + _DUST))

    def power(self, row: Metre) -> NewtonPerSquareMetre:
        """Return what the soil in front of it bears, by a row of the table."""
        return SOILS[self.soil] * HOLDING_POWER[row][self.lead]

    @property
    def longest(self) -> Metre:
        """The most that it may be long before it bends rather than bears."""
        if self.thickness is None:
            return SLENDEREST_LOG * self.face
        return SLENDEREST_TIMBER * self.thickness

    @property
    def holds(self) -> Newton:
        """What it holds by the table; OutOfRange where it is too short or too slender."""
        require_in_range(TRENCH, self.longest, log=self.length)
        return deadman_holds(self.power(self.row), self.face, self.length, TRENCH)


Holdfast = Pickets | Deadman
