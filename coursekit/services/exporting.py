"""The register as rows of a table, the same columns that an import reads."""

from __future__ import annotations

from collections.abc import Iterable

from coursekit.services.kit_rules import rule_text
from coursekit.services.used import used_text
from coursekit.store.queries.kit import ItemRow

__all__ = ["export_rows"]


def export_rows(items: Iterable[ItemRow]) -> list[dict[str, str]]:
    """Return the register as rows of text by column."""
    return [_row(row) for row in items]


def _row(row: ItemRow) -> dict[str, str]:
    marked = {one.name: one.marked for one in (*row.type.ratings, *row.type.hitches)}
    return {
        "mark": row.mark,
        "type": row.type.name,
        "kind": row.kind,
        "material": row.type.material or "",
        "size": row.type.size,
        "wll": marked.get("wll", ""),
        "mbs": marked.get("mbs", ""),
        "serial": row.serial,
        "batch": row.batch,
        "made": row.made.isoformat() if row.made else "",
        "label": "yes" if row.is_labelled else "no",
        "place": row.place,
        "cost": "" if row.cost_cents is None else f"{row.cost_cents / 100:.2f}",
        "instructions": " ".join(row.type.instructions.split()),
        "length": row.type.length,
        "choker": marked.get("choker", ""),
        "basket": marked.get("basket", ""),
        "coldest": row.type.coldest,
        "hottest": row.type.hottest,
        "rule": rule_text(row.type.policy),
        "first_used": row.counts.first_used.isoformat() if row.counts.first_used else "",
        "used_before": used_text(row.counts, row.type.policy.counting),
        "status": row.status,
        "use": f"{row.use:.6g}",
        "limit": "" if row.use_limit is None else f"{row.use_limit:.6g}",
        "due": "; ".join(reason.cause.value for reason in row.due.now),
    }
