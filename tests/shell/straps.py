"""A store with many items, more than a page or a list takes."""

from __future__ import annotations

from datetime import datetime

from coursekit.files.kit_table import TableRow
from coursekit.services import importing
from coursekit.store.unit import Unit
from tests.cast import Cast


def many(unit: Unit, cast: Cast, now: datetime, number: int = 150) -> None:
    """Fill the store with tow straps whose date of make nobody knows."""
    rows = [
        TableRow(
            line,
            {
                "mark": f"T {line:03}",
                "type": "Tow strap",
                "kind": "tow-strap",
                "place": f"Bay {line % 2}",
            },
        )
        for line in range(1, number + 1)
    ]
    importing.import_kit(unit, cast.storekeeper.actor, "kit.csv", rows, now)
