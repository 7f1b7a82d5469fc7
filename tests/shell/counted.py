"""Kit of which the school allows so many pulls, some of them made."""

from __future__ import annotations

from datetime import date, datetime

from coursekit.services import inspecting, pulls, register
from coursekit.services.pulls import DeclaredPull
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from coursekit.wear.policy import ClassesPolicy, Policy
from tests.cast import Cast
from tests.looks import examined

POLICY = Policy(ClassesPolicy(limit=30.0))


class CountedKit:
    """Items of one type of which the school allows 30 pulls, each used up so far."""

    def __init__(
        self,
        unit: Unit,
        cast: Cast,
        now: datetime,
        kind: str = "winch-line",
        mbs: str = "88 kN",
    ) -> None:
        self.unit, self.cast, self.now, self.kind = unit, cast, now, kind
        self.material = "synthetic" if kind == "winch-line" else "HMPE"
        new = NewType(f"Counted {kind}", kind, self.material, mbs=mbs, policy=POLICY)
        self.type_id = register.register_type(unit, cast.storekeeper.actor, new, now)

    def with_left(self, mark: str, left: int) -> int:
        """Register an item with so much of its 30 left, and return its id."""
        actor = self.cast.storekeeper.actor
        item = NewItem(self.type_id, mark, made=date(2026, 1, 15))
        item_id = register.register_item(self.unit, actor, item, self.now)
        looked_at = examined(self.kind, item_id, 1, f"look-at-{item_id}", material=self.material)
        inspecting.inspect(self.unit, actor, looked_at, self.now)
        heavy, light = divmod(30 - left, 3)
        for number, size in enumerate(["heavy"] * heavy + ["light"] * light):
            key = f"worn-{item_id}-{number:04}"
            class_id = self.cast.class_id
            pull = DeclaredPull(class_id, item_id, "winch", size, "came-free", key)
            pulls.record_declared_pull(self.unit, self.cast.instructor.actor, pull, self.now)
        return item_id
