"""What the shell asks of the register: whose it is, what is due, and what happened to an item."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from coursekit.problems import Problem, Problems, Where
from coursekit.services.actor import Actor, Role
from coursekit.services.past import folded
from coursekit.store import queries
from coursekit.store.queries.kit import ItemRow
from coursekit.store.queries.lives import LifeLine
from coursekit.store.queries.schools import School
from coursekit.store.unit import Unit

__all__ = ["History", "ItemRow", "Keeper", "LifeLine", "histories", "keeper"]


@dataclass(frozen=True)
class Keeper:
    """A school, and who acts for its store from the shell: the first who may."""

    school: School
    actor: Actor


@dataclass(frozen=True)
class History:
    """One item and every line of its ledger, by the time of the event."""

    item: ItemRow
    lines: tuple[LifeLine, ...]


def keeper(unit: Unit, school: str | None) -> Keeper | None:
    """Return who acts for a school's store; None where no school is set up yet.

    Raises
    ------
    Problems
        If there are several schools and none is named, or none has the name, or
        nobody of it keeps the store.
    """
    with unit.read() as session:
        found = queries.schools.all_schools(session)
        if not found and school is None:
            return None
        chosen = _chosen(found, school)
        for person in sorted(queries.people.staff(session, chosen.id), key=lambda row: row.id):
            if Role.STOREKEEPER in person.roles and person.ended_at is None:
                roles = frozenset(Role(role) for role in person.roles)
                return Keeper(chosen, Actor(person.id, chosen.id, roles))
    what = f"Nobody of {chosen.name} keeps the store"
    raise _no_school(what, "Give somebody the role storekeeper in the app")


def _chosen(schools: tuple[School, ...], name: str | None) -> School:
    named = [one for one in schools if name is None or one.name == name]
    if len(named) == 1:
        return named[0]
    known = ", ".join(one.name for one in schools) or "none yet"
    if name is None:
        raise _no_school("There are several schools", f"Name one of: {known}")
    raise _no_school(f"There is no school called {name[:80]}", f"Name one of: {known}")


def _no_school(what: str, mend: str) -> Problems:
    return Problems([Problem(Where("--school"), what, mend)])


def histories(
    unit: Unit, actor: Actor, marks: tuple[str, ...], on: date, today: date
) -> Iterator[History]:
    """Yield the history of the items of these marks, or of every item where none is named.

    Each is as it stood on a day.  2 queries, and 1 for each item, so that a large ledger is
    never held at once; for a day that is past 1 more for each few hundred items.

    Raises
    ------
    Problems
        If the register has no item of a mark.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        rows = queries.kit.items(session, actor.school_id, on)
        there = folded(session, actor, rows, on, today)
        items = {row.mark: row for row in (*rows, *there)}
        missing = [mark for mark in marks if mark not in items]
        if missing:
            raise Problems(
                Problem(
                    Where("MARK"),
                    f"No item is marked {mark[:80]}",
                    "Write the mark as the register has it",
                )
                for mark in missing
            )
        for mark in marks or tuple(items):
            row = items[mark]
            counting = row.type.policy.counting
            lines = queries.lives.life(session, actor.school_id, row.id, counting)
            yield History(row, lines)
