"""What is done with an item of the cast's kit, and where it stands then."""

from __future__ import annotations

from datetime import datetime

from coursekit.services import inspecting, kit
from coursekit.services.kit import Change, ItemRow
from coursekit.store.unit import Unit
from tests.cast import NOW, TODAY, Cast
from tests.looks import examined

LOOKED = {"labels": "y", "looks": "y", "clean": "y"}
"""The ticks of the counter, before anything goes out."""


def row_of(unit: Unit, cast: Cast, mark: str) -> ItemRow:
    """Return an item as it stands on the day of the tests."""
    return kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], TODAY).item


def status(unit: Unit, cast: Cast, mark: str) -> str:
    """Return where an item stands."""
    return row_of(unit, cast, mark).status


def hold(unit: Unit, cast: Cast, mark: str, now: datetime = NOW) -> None:
    """Let Mara put an item into quarantine."""
    item = row_of(unit, cast, mark)
    change = Change(item.id, item.version, "a doubt", f"hold-{item.id:04}")
    kit.quarantine(unit, cast.instructor.actor, change, now)


def examine(unit: Unit, cast: Cast, mark: str, *, found: str = "") -> None:
    """Let Tobin examine an item, which fails where anything was `found`."""
    item = row_of(unit, cast, mark)
    key = f"examined-{item.id}-{item.version}"
    material = item.type.material or ""
    look = examined(item.kind, item.id, item.version, key, material=material, found=found)
    inspecting.inspect(unit, cast.storekeeper.actor, look, NOW)
