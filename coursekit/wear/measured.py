"""A pull that a load cell measured: what proves it, and what it makes of the solved loads.

The cell sits beside one item of the rig.  Every other item bears what was solved for it,
over or under by as much as the measured force is beside the solved one at the cell.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any, Final

from coursekit.mechanics.nomenclature import MetrePerSecond, Newton, Ratio, Second
from coursekit.mechanics.trace import ForceTrace
from coursekit.problems import CoursekitError
from coursekit.rigging.chains.elastic import elastic_line
from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import Solution

MOST_MISSED: Final[Ratio] = 0.25
"""A cell that may miss more of the peak proves nothing; common practice, no source."""

SLOW_STEADY_RATE: Final = 10.0
"""Samples in a second below which a winch pull or a tow may hide a jerk; common practice,
no source."""

FLAT: Final[Ratio] = 0.02
"""Within this share of its peak a cell may well write one and the same reading; common
practice, no source."""


END: Final[Ratio] = 0.99
"""From this share of its range on a cell may have written less than was there; common
practice, no source."""

STILL: Final = 10.0
"""So many intervals at one and the same highest reading make its range worth asking for;
common practice, no source."""


class NoLoadThere(CoursekitError):
    """The solver gives no load where the cell sat, so nothing can be held against it."""


class TooSlow(CoursekitError):
    """The samples are so far apart that the peak of a kinetic pull may lie between them."""

    def __init__(self, missed: Ratio) -> None:
        self.missed = missed
        super().__init__(missed)


@dataclass(frozen=True)
class CellReading:
    """What stays of a cell's file: its peak, and what proves it.

    `interval` is the longer one beside the peak, `flat` how long it stayed at its peak, `zero`
    what was taken off each reading, `most` the end of the cell's range where it is known.
    `sha256` is of the whole file, which its owner keeps.
    """

    sha256: str
    peak: Newton
    peak_time: Second
    interval: Second
    samples: int
    rate: float
    unit: str
    flat: Second = 0.0
    zero: Newton = 0.0
    most: Newton | None = None

    @property
    def is_at_end(self) -> bool:
        """Whether its peak lies at the end of the range that is known of it."""
        return self.most is not None and self.peak + self.zero >= END * self.most

    @property
    def stands_still(self) -> bool:
        """Whether it stayed so long at its peak that its range is worth knowing."""
        return self.flat * self.rate >= STILL * (1.0 - FLAT)


@dataclass(frozen=True)
class CellProof:
    """A reading with the item that the cell sat beside, the force solved there, and the speed.

    `missed` is the share of the peak that may lie between two samples; `speed` is None where
    the pull was driven as the rig says.  Where it `is_cut` the force was as high or higher.
    """

    reading: CellReading
    place: str
    solved: Newton
    missed: Ratio = 0.0
    speed: MetrePerSecond | None = None
    is_cut: bool = False

    @property
    def force(self) -> Newton:
        """The measured force that counts: what may have been missed is on it, to be safe."""
        return self.reading.peak / (1.0 - self.missed)

    @property
    def ratio(self) -> Ratio:
        """Measured over solved, at the cell."""
        return self.force / self.solved

    def document(self) -> dict[str, Any]:
        """Return it as a ledger entry keeps it."""
        return asdict(self)

    @classmethod
    def of_document(cls, document: Mapping[str, Any]) -> CellProof:
        """Return what a ledger entry kept."""
        return cls(**{**document, "reading": CellReading(**document["reading"])})


@dataclass(frozen=True)
class Compared:
    """A measured pull beside the solved one; `solved` is the force over time at the cell."""

    proof: CellProof
    solved: ForceTrace | None
    scale: Ratio

    def load(self, solved: Newton | None, limit: Newton | None = None) -> Newton | None:
        """Return what an item bore for which the solver gives a load, None where it isn't known.

        A kinetic pull is solved with an allowance on its peak, which a measured one needs not.
        Where the cell was at its end the load is as high or higher: it is only known to be
        above a limit that even this is above.
        """
        if solved is None:
            return None
        load = solved * self.scale
        is_known = not self.proof.is_cut or load == 0.0 or (limit is not None and load > limit)
        return load if is_known else None


def compare(
    solution: Solution, reading: CellReading, place: str, speed: MetrePerSecond | None = None
) -> Compared:
    """Return a measured pull beside the solved one.

    Raises
    ------
    NoLoadThere
        If the solver gives no load for the item that the cell sat beside.
    TooSlow
        If the peak of a kinetic pull may lie between two samples.

    A kinetic peak at which the cell stands still for longer than such a peak does is cut off;
    a steady pull may stand still, so of that only the cell's range tells.

    Source: loads of one pull go together (statics of the plan); what two samples miss is
    derived, see `ForceTrace.missed_share`.  Limits: hold lines and anchors are scaled alike.
    """
    values = solution.values
    load = values.get(f"item.{place}.load")
    if not load:
        raise NoLoadThere(place)
    peak, design = values.get("kinetic.peak"), values.get("kinetic.design")
    solved = load if not peak or not design else load * peak / design
    curve = _curve(solution, solved)
    missed = 0.0 if curve is None else curve.missed_share(reading.interval)
    if missed > MOST_MISSED:
        raise TooSlow(missed)
    is_flat = curve is not None and curve.missed_share(reading.flat) > FLAT
    proof = CellProof(reading, place, solved, missed, speed, is_flat or reading.is_at_end)
    return Compared(proof, curve, proof.force / load)


def places_for_cell(solution: Solution) -> tuple[str, ...]:
    """Return the items beside which a cell measures something, in the order of the rig."""
    names = dict.fromkeys(solution.rig.items())
    return tuple(name for name in names if solution.values.get(f"item.{name}.load"))


def as_driven(rig: Rig, speed: MetrePerSecond | None) -> Rig:
    """Return a kinetic rig with the speed that was driven, any other as it is."""
    return rig if speed is None or rig.speed is None else replace(rig, speed=speed)


def _curve(solution: Solution, solved: Newton) -> ForceTrace | None:
    """Return the solved force over time at the cell, None where nothing stretches."""
    values = solution.values
    elastic = elastic_line(solution.situation, solution.rig.pull_line)
    if not values.get("kinetic.peak") or elastic is None:
        return None
    times, forces = elastic.history(values)
    return ForceTrace(times, forces * (solved / values["kinetic.peak"]))
