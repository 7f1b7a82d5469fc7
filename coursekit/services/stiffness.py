"""A rope's stiffness by its measured pulls: each solved again as it was rigged and driven."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from coursekit.mechanics.nomenclature import MetrePerSecond, Newton, NewtonPerMetre, Ratio
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems
from coursekit.rigging.chains.elastic import ElasticLine, ElasticPart, elastic_line
from coursekit.rigging.solver import Solution
from coursekit.services.actor import Actor, Role
from coursekit.services.loads import KitInRig, rig_meant, solved_with_kit
from coursekit.services.pull_desk import kit_in_rig
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.pulls import MeasuredRow
from coursekit.store.unit import Unit
from coursekit.wear.measured import NoLoadThere, TooSlow, as_driven, compare
from coursekit.wear.stiffness import MeasuredSnatch, StiffnessFit, fit_stiffness


@dataclass(frozen=True)
class MeasuredPeak:
    """One peak of a rope as it was read beside the solved ones: as it is stated, and as it fits."""

    pull_id: int
    class_id: int
    at: datetime
    speed: MetrePerSecond
    measured: Newton
    stated: Newton
    fitted: Newton | None


@dataclass(frozen=True)
class RopeStiffness:
    """What the measured pulls of a rope say of its stiffness.

    `stated` is its stiffness from rest to the last point that its label states, `reckoned`
    the factor on it that the school's own rule gives a worked or wet rope; of the last pull.
    """

    peaks: tuple[MeasuredPeak, ...]
    stated: NewtonPerMetre
    reckoned: Ratio
    fit: StiffnessFit | None


@dataclass(frozen=True)
class _Solved:
    """A measured pull that was solved again, and the rope's part of its line."""

    row: MeasuredRow
    solution: Solution
    line: ElasticLine
    part: ElasticPart

    @property
    def measured(self) -> Newton:
        """The peak in the rope as it was read, without what two readings may have missed.

        What is put on to be safe would make every rope seem stiffer than it is.
        """
        return self.row.load * (1.0 - self.row.proof.missed)

    def peak(self, factor: Ratio) -> Newton:
        """Return the solved peak with a factor on the rope's stated stiffness."""
        return self.line.with_factor(self.part.item.id, factor).peak(self.solution.values)


def rope_stiffness(unit: Unit, actor: Actor, item_id: int, today: date) -> RopeStiffness | None:
    """Return what a rope's measured kinetic pulls say of it, None where it has none.

    Pulls whose entries were reversed are left out, and those whose cell may have been at the
    end of its range: their peaks say only how high it was at least.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        rows = queries.pulls.measured_kinetic(session, actor.school_id, item_id)
        if not rows:
            return None
        ids = {used for row in rows for used in row.items.values() if used is not None}
        items = queries.kit.items_of_ids(session, actor.school_id, ids, today)
    kit = {item.id: kit_in_rig(item, item.type) for item in items}
    solved = tuple(_solved(rows, kit, item_id))
    if not solved:
        return None
    fit = fit_stiffness([MeasuredSnatch(one.measured, one.peak) for one in solved])
    part = solved[-1].part
    return RopeStiffness(
        peaks=tuple(_peak(one, fit) for one in solved),
        stated=part.secant(as_new=True),
        reckoned=part.stiffer_by,
        fit=fit,
    )


def _solved(
    rows: tuple[MeasuredRow, ...], kit: Mapping[int, KitInRig], item_id: int
) -> Iterator[_Solved]:
    for row in rows:
        scenario = scenario_of(row.document, {})
        in_rig = {name: None if used is None else kit.get(used) for name, used in row.items.items()}
        try:
            rig = as_driven(rig_meant(scenario, row.rig), row.proof.speed)
            solution = solved_with_kit(scenario.situation, rig, in_rig)
            again = compare(solution, row.proof.reading, row.proof.place)
        except (Problems, OutOfRange, NoLoadThere, TooSlow):
            # The ratings of an item may have been mended since, so that it no longer fits.
            continue
        if again.proof.is_cut:
            continue
        line = elastic_line(solution.situation, rig.pull_line)
        names = {name for name, used in row.items.items() if used == item_id}
        parts = [part for part in line.parts if part.item.id in names] if line else []
        if line is not None and parts:
            yield _Solved(row, solution, line, parts[0])


def _peak(one: _Solved, fit: StiffnessFit | None) -> MeasuredPeak:
    return MeasuredPeak(
        pull_id=one.row.pull_id,
        class_id=one.row.class_id,
        at=one.row.at,
        speed=one.solution.values["kinetic.speed"],
        measured=one.measured,
        stated=one.peak(1.0),
        fitted=one.peak(fit.factor) if fit else None,
    )
