"""The store at work, for tests of what happens to its items."""

from __future__ import annotations

from datetime import datetime

from coursekit.services import inspecting, issuing, kit, pulls
from coursekit.services.actor import Actor
from coursekit.services.issuing import GiveBack, Issue
from coursekit.services.kit import Change, Correction
from coursekit.services.pulls import DeclaredPull
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from tests.cast import Cast
from tests.looks import examined


class Store:
    """The store at work: each act is one line of a test, its keys are made here."""

    def __init__(self, unit: Unit, cast: Cast, now: datetime) -> None:
        self.unit, self.cast, self.now = unit, cast, now
        self.mara, self.tobin = cast.instructor.actor, cast.storekeeper.actor
        self.number = 0

    def key(self) -> str:
        self.number += 1
        return f"act-{self.number:05}"

    def life(self, mark: str) -> kit.ItemLife:
        return kit.item_life(self.unit, self.tobin, self.cast.items[mark], self.now.date())

    def status(self, mark: str) -> str:
        return self.life(mark).item.status

    def change(self, mark: str) -> Change:
        item = self.life(mark).item
        return Change(item.id, item.version, "a cut near one eye", self.key())

    def hold(self, mark: str, who: Actor) -> None:
        kit.quarantine(self.unit, who, self.change(mark), self.now)

    def release(self, mark: str, who: Actor) -> None:
        kit.release(self.unit, who, self.change(mark), self.now)

    def examine(self, mark: str, who: Actor, found: str = "") -> None:
        item = self.life(mark).item
        form = examined(
            item.kind, item.id, item.version, self.key(),
            material=item.type.material or "", found=found,
        )  # fmt: skip
        inspecting.inspect(self.unit, who, form, self.now)

    def pull(self, mark: str, ended: str) -> None:
        item_id = self.cast.items[mark]
        sent = DeclaredPull(self.cast.class_id, item_id, "winch", "light", ended, self.key())
        pulls.record_declared_pull(self.unit, self.mara, sent, self.now)

    def issue(self, mark: str, class_id: int) -> None:
        new = Issue(class_id, (self.cast.items[mark],), self.key())
        issuing.issue(self.unit, self.tobin, new, self.now)

    def give_back(self, mark: str, condition: str) -> None:
        item = self.cast.items[mark]
        told = {item: "a nick"} if condition == "damage" else {}
        back = GiveBack(self.cast.class_id, {item: condition}, told, self.key())
        issuing.give_back(self.unit, self.tobin, back, self.now)

    def reverse(self, mark: str, kind: Kind, who: Actor) -> None:
        """Reverse the newest entry of a kind."""
        entry = next(line for line in reversed(self.life(mark).lines) if line.kind == kind)
        wrong = Correction(entry.entry_id, "another item", self.key())
        kit.correct(self.unit, who, wrong, self.now)
