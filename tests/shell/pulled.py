"""Pulls that tests record, and what is read of them."""

from datetime import datetime

from sqlalchemy import func, select

from coursekit.services import pulls
from coursekit.services.pull_desk import DeclaredPull, PullReport, RigPull
from coursekit.store.queries.pulls import PullLine
from coursekit.store.tables import LedgerEntry
from coursekit.store.unit import Unit
from tests.cast import Cast


def record(unit: Unit, cast: Cast, now: datetime, pull: RigPull | DeclaredPull) -> PullReport:
    actor = cast.instructor.actor
    if isinstance(pull, RigPull):
        return pulls.record_rig_pull(unit, actor, pull, now)
    return pulls.record_declared_pull(unit, actor, pull, now)


def by_mark(report: PullReport) -> dict[str, PullLine]:
    return {line.mark: line for line in report.lines}


def declared(cast: Cast, mark: str = "Rope 1", size: str = "heavy") -> DeclaredPull:
    item_id = cast.items[mark]
    return DeclaredPull(cast.class_id, item_id, "kinetic", size, "came-free", "pull-0001")


def entries(unit: Unit) -> int:
    with unit.read() as session:
        return session.scalar(select(func.count()).select_from(LedgerEntry)) or 0
