"""Kit as text for a terminal, as JSON in SI, and as rows of a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import TYPE_CHECKING, Any

from coursekit.quantities.display import show_load
from coursekit.wear.inspection import Seen
from coursekit.wear.lists import criterion_of
from coursekit.wear.status import AWAY

if TYPE_CHECKING:
    from coursekit.services.keeping import History, ItemRow, LifeLine


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
    rows = [row for row in items if row.due.is_due and row.status not in AWAY]
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
        "inspection": _inspection(line.detail),
        "reason": line.reason,
        "adds": line.counted.added if line.counted else line.brought,
        "reversed": line.is_reversed,
        "late": line.is_late,
    }


def _inspection(detail: Mapping[str, Any]) -> dict[str, Any] | None:
    """Return what an examination looked at; lengths in metres, counts as they are."""
    if "lines" not in detail:
        return None
    return {
        "list": detail["list"],
        "occasion": detail["occasion"],
        "event": detail.get("event"),
        "lines": [
            {"line": line["line"], "seen": line["seen"], "sizes": line.get("sizes")}
            for line in detail["lines"]
        ],
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
    if line.brought:
        parts.append(f"came with {line.brought:.4g}")
    if line.counted and line.counted.added:
        parts.append(f"adds {line.counted.added:.4g}")
    if line.passed is not None:
        parts += ["passed" if line.passed else "did not pass", *_looked(line.detail)]
    parts += [line.reason] if line.reason else []
    parts += ["reversed"] if line.is_reversed else []
    return "  ".join(parts)


def _looked(detail: Mapping[str, Any]) -> Iterator[str]:
    """Yield how many lines were looked at, and each that was found."""
    lines = detail.get("lines", ())
    if lines:
        looked_at = sum(line["seen"] != Seen.UNSEEN for line in lines)
        yield f"{looked_at} of {len(lines)} lines looked at"
    for line in lines:
        if line["seen"] == Seen.FOUND:
            criterion = criterion_of(detail["list"], line["line"])
            text = criterion.text if criterion else line["line"]
            sizes = f" ({', '.join(line['typed'])})" if "typed" in line else ""
            yield f"found: {text}{sizes}"
