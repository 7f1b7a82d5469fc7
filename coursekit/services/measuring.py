"""Pulls that a load cell measured: tried first, then written like any pull of a rig."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from coursekit.files.load_cell import CellFile
from coursekit.mechanics.nomenclature import MetrePerSecond
from coursekit.problems import Problem, Problems, Where
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import NotFound, Refused
from coursekit.services.loads import Felt, KitInRig, loads_on_items, rig_meant, solved_with_kit
from coursekit.services.preparing import require_version
from coursekit.services.pull_desk import PullDesk, PullReport, RigPull, chosen_in, kit_in_rig
from coursekit.services.pulls import check_pull
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Ending, Origin
from coursekit.wear.measured import (
    CellReading,
    Compared,
    NoLoadThere,
    TooSlow,
    as_driven,
    compare,
)

# Nobody drives into a kinetic rope faster: a slip of the keys. Common practice, no source.
FASTEST = 10.0


@dataclass(frozen=True, kw_only=True)
class MeasuredPull(RigPull):
    """A pull of a rig with what a load cell read beside the item `place`.

    `speed` is the closing speed that was driven; None as the rig says. [m/s].
    """

    reading: CellReading
    place: str
    speed: MetrePerSecond | None = None


@dataclass(frozen=True)
class Measured:
    """A measured pull beside the solved one, and what each kit item would bear of it."""

    compared: Compared
    felt: tuple[Felt, ...]


def reading_of(file: CellFile) -> CellReading:
    """Return what stays of a cell's file."""
    trace = file.trace
    return CellReading(
        sha256=file.sha256,
        peak=trace.peak,
        peak_time=trace.peak_time,
        interval=trace.interval_at_peak,
        samples=trace.times.size,
        rate=trace.rate,
        unit=file.unit,
        flat=trace.flat_time,
        zero=(file.rest or 0.0) if file.is_balanced else 0.0,
        most=file.most,
    )


def try_measured_pull(unit: Unit, actor: Actor, pull: MeasuredPull, now: datetime) -> Measured:
    """Return what a measured pull would write, and write nothing."""
    actor.require(Role.INSTRUCTOR)
    _check(pull, now)
    with unit.read() as session:
        _refuse_known_file(session, actor, pull)
        scenario = scenario_of(require_version(session, actor, pull.version_id).document, {})
        ids = [item_id for item_id in pull.items.values() if item_id is not None]
        today = queries.schools.one_school(session, actor.school_id).day_of(now)
        rows = queries.kit.items_of_ids(session, actor.school_id, ids, today)
    found = {row.id: kit_in_rig(row, row.type) for row in rows}
    if set(ids) - set(found):
        raise NotFound("item")
    kit = {
        name: None if item_id is None else found[item_id] for name, item_id in pull.items.items()
    }
    return _measured(scenario, pull, kit)


def record_measured_pull(unit: Unit, actor: Actor, pull: MeasuredPull, now: datetime) -> PullReport:
    """Record a measured pull: an entry for each item of the rig, and what follows."""
    actor.require(Role.INSTRUCTOR)
    _check(pull, now)
    with unit.write() as session:
        desk = PullDesk(session, actor, now)
        known = desk.known(pull)
        if known is not None:
            return desk.report(known, was_there=True)
        _refuse_known_file(session, actor, pull)
        scenario = scenario_of(require_version(session, actor, pull.version_id).document, {})
        measured = _measured(scenario, pull, desk.kit_in_rig(pull.items))
        method = rig_meant(scenario, pull.rig).method
        record = desk.add(pull, method, pull.reading.sha256)
        return desk.write(record, list(measured.felt), chosen_in(pull))


def _measured(
    scenario: Scenario, pull: MeasuredPull, kit: Mapping[str, KitInRig | None]
) -> Measured:
    rig = as_driven(rig_meant(scenario, pull.rig), pull.speed)
    solution = solved_with_kit(scenario.situation, rig, kit)
    try:
        compared = compare(solution, pull.reading, pull.place, pull.speed)
    except NoLoadThere:
        what = "The solver gives no load there to hold the measured one against"
        raise Problems(
            [Problem(Where("place"), what, "Choose the item that the cell sat beside")]
        ) from None
    except TooSlow as slow:
        what = f"The cell wrote too seldom: {slow.missed:.0%} of the peak may be missed"
        mend = "Set the cell to write more often, and log this pull as it is solved"
        raise Problems([Problem(Where("file"), what, mend)]) from None
    ending = Ending(pull.ended)
    pulls = loads_on_items(solution, kit, ending, Origin.MEASURED, compared.load)
    proof = {"cell": compared.proof.document()}
    return Measured(compared, tuple(Felt(item, felt, proof) for item, felt in pulls))


def _check(pull: MeasuredPull, now: datetime) -> None:
    check_pull(pull.ended, pull.key, pull.at, now)
    if pull.speed is not None and not 0.0 < pull.speed <= FASTEST:
        what = f"A closing speed is above 0 and up to {FASTEST:g} m/s"
        raise Problems([Problem(Where("speed"), what, "Look at the number and its unit")])
    if pull.reading.most is not None and not pull.reading.most > 0.0:
        what = "The range of a cell is above 0"
        raise Problems([Problem(Where("most"), what, "Look at the number and its unit")])


def _refuse_known_file(session: Session, actor: Actor, pull: MeasuredPull) -> None:
    """Refuse a file whose pull stands in the ledger: one file is one pull."""
    if queries.pulls.has_file(session, actor.school_id, pull.reading.sha256):
        raise Refused(
            "The pull of this file is logged already",
            "Choose another file, or reverse the entries of that pull first",
        )
