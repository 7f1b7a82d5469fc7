"""Kit as text for a terminal, as JSON in SI, and as rows of a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import TYPE_CHECKING, Any

from coursekit.quantities.display import show_load

if TYPE_CHECKING:
    from coursekit.services.keeping import History, ItemRow, LifeLine

_GONE = {"retired", "lost"}


def due_document(items: Iterable[ItemRow]) -> list[dict[str, Any]]:
    """Return what is due, the earliest first; what is retired or lost is left out."""
    return [
        {
            "mark": row.mark,
            "type": row.type.name,
            "kind": row.kind,
            "status": row.status,
            "reasons": [
                {
                    "cause": reason.cause.value,
                    "on": reason.on.isoformat() if reason.on else None,
                    "retires": reason.retires,
                }
                for reason in row.due.now
            ],
            "use": row.use,
            "limit": row.use_limit,
        }
        for row in _due(items)
    ]


def due_text(items: Iterable[ItemRow], on: date) -> str:
    """Return the due list as lines, or that nothing is due."""
    rows = _due(items)
    if not rows:
        return f"Nothing is due on {on}."
    lines = [f"Due on {on}: {len(rows)}"]
    for row in rows:
        why = "; ".join(_reason(reason.cause.value, reason.on) for reason in row.due.now)
        act = "retire" if row.due.is_to_retire else "examine"
        lines.append(f"  {row.mark:<16} {row.type.name:<24} {act:<8} {why} ({_use(row)})")
    return "\n".join(lines)


def _due(items: Iterable[ItemRow]) -> list[ItemRow]:
    rows = [row for row in items if row.due.is_due and row.status not in _GONE]
    return sorted(rows, key=lambda row: (min(_days(row)), row.mark))


def _days(row: ItemRow) -> list[date]:
    return [reason.on or date.min for reason in row.due.now]


def _reason(cause: str, on: date | None) -> str:
    return cause if on is None else f"{cause} since {on}"


def _use(row: ItemRow) -> str:
    if row.use_limit is None:
        return "no use count"
    return f"use {row.use:.4g} of {row.use_limit:.4g}"


def history_document(found: Iterable[History], on: date) -> list[dict[str, Any]]:
    """Return every entry up to a day, item by item; loads in newton."""
    return [
        {"mark": history.item.mark, **_entry(line)}
        for history in found
        for line in history.lines
        if line.day <= on
    ]


def _entry(line: LifeLine) -> dict[str, Any]:
    pull = line.pull
    return {
        "at": line.at.isoformat(),
        "day": line.day.isoformat(),
        "kind": line.kind,
        "by": line.by,
        "class": line.class_title,
        "method": pull.method if pull else None,
        "ended": pull.ended.value if pull else None,
        "origin": pull.origin.value if pull else None,
        "load": pull.load if pull else None,
        "limit": pull.limit if pull else None,
        "passed": line.passed,
        "reason": line.reason,
        "adds": line.counted.added if line.counted else 0.0,
        "reversed": line.is_reversed,
        "late": line.is_late,
    }


def history_text(found: Iterable[History], on: date) -> Iterator[str]:
    """Yield each item with its entries up to a day, one a line."""
    for history in found:
        yield f"{history.item.mark}: {history.item.type.name}, {_use(history.item)}"
        for line in history.lines:
            if line.day <= on:
                yield f"  {_line(line)}"


def _line(line: LifeLine) -> str:
    parts = [line.day.isoformat(), f"{line.kind:<12}", f"by {line.by}"]
    if line.pull:
        load = "load unknown" if line.pull.load is None else show_load(line.pull.load)
        parts += [line.pull.method, line.pull.ended.value, load, line.pull.origin.value]
    if line.counted and line.counted.added:
        parts.append(f"adds {line.counted.added:.4g}")
    parts += [line.reason] if line.reason else []
    parts += ["reversed"] if line.is_reversed else []
    return "  ".join(parts)
