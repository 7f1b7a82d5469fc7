"""What stands at the counter: whether each item may go out, and has enough left for the day."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from coursekit.problems import Problem, Problems, Where
from coursekit.services.demand import Demand, demand
from coursekit.services.equipping import equip, kinds_of
from coursekit.services.planning import ClassPlan, plan_of
from coursekit.services.replacing import replacements
from coursekit.store import queries
from coursekit.store.queries.kit import ItemRow
from coursekit.wear.planning import Enough
from coursekit.wear.schedule import Bar, Cause
from coursekit.wear.status import Status

_BARS: Mapping[Bar, str] = {
    Bar.QUARANTINED: "it is in quarantine",
    Bar.UNLABELLED: "its rating can't be read",
    Bar.UNRATED: "its type has no rating",
    Bar.UNDATED: "nobody knows when it was made",
    Bar.RETIRED: "it is retired",
    Bar.LOST: "it is lost",
    Bar.OUT: "it is out with a class",
}
_CAUSES: Mapping[Cause, str] = {
    Cause.USE: "its use count is spent",
    Cause.AGE: "it is too old",
    Cause.CALENDAR: "it is too long in use",
    Cause.INSPECTION: "it has to be examined first",
}


@dataclass(frozen=True)
class Counter:
    """What is to go out with a class, all of its kinds, and what the class's plan asks of each."""

    going: tuple[ItemRow, ...]
    alike: tuple[ItemRow, ...]
    plan_number: int
    day: Demand

    def refuse_unfit(self) -> None:
        """Raise what keeps items in the store, for all of them at once."""
        problems = [problem for row in self.going for problem in self._unfit(row)]
        if problems:
            raise Problems(problems)

    def told(self, item_id: int) -> Mapping[str, str]:
        """Return what the ledger keeps of it: for how many pulls of which plan it went out."""
        row = next(row for row in self.going if row.id == item_id)
        return {"pulls": str(self.day.of(row).planned), "plan": str(self.plan_number)}

    def _unfit(self, row: ItemRow) -> Iterator[Problem]:
        where, enough = Where(f"items.{row.id}"), self.day.of(row)
        if row.status == Status.OUT:
            yield Problem(where, f"{row.mark} is out already", "Take it back first")
        elif not row.due.may_go_out:
            what = f"{row.mark} can't go out: {', '.join(_why(row))}"
            instead = " or ".join(other.mark for other in self._instead(row))
            yield Problem(where, what, f"Take {instead or 'another of its kind'} in its place")
        elif not enough.is_enough:
            what = (
                f"{row.mark} has enough left for {enough.covered} of the {enough.planned} pulls "
                "that are planned for it"
            )
            yield Problem(where, what, self._mend(row))

    def _mend(self, row: ItemRow) -> str:
        fewer = "plan fewer pulls, or issue another of its type with it, to take turns"
        instead = " or ".join(other.mark for other in self._instead(row))
        return f"Take {instead} in its place, {fewer}" if instead else fewer.capitalize()

    def _instead(self, row: ItemRow) -> tuple[ItemRow, ...]:
        free = (other for other in self.alike if other not in self.going)
        return replacements(row, (other for other in free if self.day.of(other).is_enough))


def _why(row: ItemRow) -> Iterator[str]:
    yield from (_BARS[bar] for bar in row.due.bars)
    yield from (_CAUSES[reason.cause] for reason in row.due.now)


def enough_for(
    session: Session, school_id: int, class_id: int, item_ids: Collection[int], today: date
) -> Mapping[int, Enough]:
    """Return of each of some items what a class plans for it: 13 queries."""
    meant = meant_plan(session, school_id, class_id, today)
    counter = at_the_counter(session, school_id, class_id, item_ids, today, meant)
    return {row.id: counter.day.of(row) for row in counter.going}


def meant_plan(session: Session, school_id: int, class_id: int, today: date) -> ClassPlan:
    """Return what a class plans, with the rigs that it can be given: 6 queries.

    Where the search has to look for a rig this takes a while, so it is no part of a write.
    """
    plan = plan_of(session, school_id, class_id)
    rows = queries.kit.items_of_kinds(session, school_id, kinds_of(plan), today)
    return equip(plan, rows, queries.issues.out_with(session, school_id, class_id)).plan


def at_the_counter(
    session: Session,
    school_id: int,
    class_id: int,
    item_ids: Collection[int],
    today: date,
    meant: ClassPlan,
) -> Counter:
    """Return some items of the school as they stand at the counter for a class: 7 queries."""
    plan = plan_of(session, school_id, class_id).with_rigs_of(meant)
    going = queries.kit.items_of_ids(session, school_id, item_ids, today)
    kinds = {row.kind for row in going}
    alike = queries.kit.items_of_kinds(session, school_id, kinds, today)
    out = queries.issues.out_with(session, school_id, class_id)
    there = [row for row in alike if row.id in out and row.status == Status.OUT]
    day = demand(plan, alike).shared_by([*there, *(row for row in going if row not in there)])
    return Counter(going, alike, plan.number, day)
