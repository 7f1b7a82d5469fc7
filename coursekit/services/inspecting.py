"""Examinations: what was looked at on an item, line by line, and what follows.

The lines stay in the entry, so that years later it can be told what was looked at.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.store import tables
from coursekit.store.unit import Unit
from coursekit.wear.inspection import (
    Criterion,
    Looked,
    Measure,
    Occasion,
    Seen,
    Verdict,
    seen_at,
    verdict,
)
from coursekit.wear.ledger import Kind
from coursekit.wear.lists import InspectionList, list_for

_AS_TYPED = 40
# It ends the key of the quarantine that a failed examination brings, after that of its own.
FAILED = "/failed"


@dataclass(frozen=True)
class Inspection:
    """An examination by a competent person: what was seen at each line of a list.

    `listed` is the name of the list that the form showed, `event` tells what happened
    where the occasion is an event; `at` None means now. Lengths in metres; the verdict
    follows from the lines.
    """

    item_id: int
    seen: int
    listed: str
    lines: Mapping[str, Looked]
    findings: str
    key: str
    occasion: str = Occasion.PERIODIC
    event: str = ""
    at: datetime | None = None


def inspect(unit: Unit, actor: Actor, inspection: Inspection, now: datetime) -> None:
    """Record an examination; an item on which anything was found goes into quarantine.

    Raises
    ------
    Problems
        If a line was not looked at though nothing was found, a size can't be, the list
        is that of another kind, what was found is not told, what happened is told
        though the occasion is no event, or its time lies ahead or before the item was there.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.write() as session:
        book = Book(session, actor, now)
        entries = _entries(inspection, _list_of(session, book.item(inspection.item_id)), now)
        if not book.has(entries[0]):
            book.item(inspection.item_id, inspection.seen)
            book.write(_held_late(book, entries), {inspection.item_id: "at"})


def _held_late(book: Book, entries: Sequence[NewEntry]) -> list[NewEntry]:
    """Return what is written of an examination: what failed is held from when it is told."""
    examined, *failed = entries
    at = examined.at
    return [
        examined,
        *(replace(one, at=book.holds_from(one.item_id, at) if at else None) for one in failed),
    ]


def _list_of(session: Session, item: tables.KitItem) -> InspectionList:
    kit_type = session.get_one(tables.KitType, item.type_id)
    return list_for(kit_type.kind, kit_type.material)


def _entries(inspection: Inspection, known: InspectionList, now: datetime) -> list[NewEntry]:
    checks = Checks()
    checks.key("key", inspection.key)
    checks.happened("at", inspection.at, now)
    _check_list(checks, inspection, known)
    checks.done()
    _check_sizes(checks, inspection, known)
    checks.done()
    told = verdict(known.criteria, inspection.lines)
    _check_whole(checks, told)
    findings = _findings(checks, inspection, told)
    detail = _detail(checks, inspection, known)
    checks.done()
    key, item_id = inspection.key, inspection.item_id
    examined = NewEntry(
        key,
        item_id,
        Kind.INSPECTED,
        at=inspection.at,
        passed=told.passed,
        reason=findings,
        detail=detail,
    )
    failed = NewEntry(key + FAILED, item_id, Kind.QUARANTINED, reason=findings)
    return [examined, failed] if told.failed else [examined]


def _check_list(checks: Checks, inspection: Inspection, known: InspectionList) -> None:
    strange = [key for key in inspection.lines if known.criterion(key) is None]
    if inspection.listed != known.name or strange:
        checks.add("listed", "This list is that of another kind of item", "Open the form again")


def _check_sizes(checks: Checks, inspection: Inspection, known: InspectionList) -> None:
    for key, looked in inspection.lines.items():
        criterion = known.criterion(key)
        if criterion is not None and looked.sizes:
            _check_measured(checks, f"lines.{key}", criterion.measure, looked)


def _check_measured(checks: Checks, field: str, measure: Measure | None, looked: Looked) -> None:
    if measure is None or len(looked.sizes) != len(measure.names):
        checks.add(field, "This line is not measured so", "Open the form again")
    elif wrong := measure.wrong_size(looked.sizes):
        checks.add(f"{field}.{wrong}", "Such a size can't be", _MENDS[wrong])
    elif measure.seems_swapped(looked.sizes):
        what = "The two sizes seem to stand the wrong way round"
        checks.add(f"{field}.now", what, "Write what it measured as new, then what it measures now")


_MENDS = {
    "as-new": "Write a length above zero",
    "now": "Write a length of zero or more",
    "number": "Write a whole number, zero or more",
    "of": "Write a whole number, no less than the number beside it",
}


def _check_whole(checks: Checks, told: Verdict) -> None:
    for key in () if told.failed else told.unseen:
        checks.add(f"lines.{key}", "It was not looked at", "Look at it, or mark what you found")


def _findings(checks: Checks, inspection: Inspection, told: Verdict) -> str:
    findings = checks.text("findings", inspection.findings, needed=False)
    if told.failed and not findings:
        what = "It fails, and nothing tells what was found"
        checks.add("findings", what, "Write what it is and where")
    return findings


def _detail(checks: Checks, inspection: Inspection, known: InspectionList) -> dict[str, Any]:
    occasion = checks.choice("occasion", inspection.occasion, tuple(Occasion))
    is_after = occasion == Occasion.AFTER
    event = checks.line("event", inspection.event, needed=is_after)
    if event and not is_after:
        what = "It is told only of an item examined after something out of the ordinary"
        checks.add("event", what, "Choose that reason above, or leave this empty")
    unseen = Looked(Seen.UNSEEN)
    lines = [_line(each, inspection.lines.get(each.key, unseen)) for each in known.criteria]
    kept: dict[str, Any] = {"list": known.name, "occasion": occasion, "lines": lines}
    return {**kept, "event": event} if is_after else kept


def _line(criterion: Criterion, looked: Looked) -> dict[str, Any]:
    kept: dict[str, Any] = {"line": criterion.key, "seen": seen_at(criterion, looked).value}
    if looked.sizes:
        kept["sizes"] = list(looked.sizes)
        kept["typed"] = [text[:_AS_TYPED] for text in looked.typed]
    return kept
