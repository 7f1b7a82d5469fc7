"""Any sequence of moves keeps what must hold of the store: hypothesis makes up the days."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    rule,
    run_state_machine_as_test,
)
from sqlalchemy import URL, func, select

from coursekit.problems import CoursekitError
from coursekit.services import accounting, inspecting, issuing, kit, pulls, repairing
from coursekit.services.accounting import rebuild, verify
from coursekit.services.actor import Actor
from coursekit.services.issuing import Condition, GiveBack, Issue
from coursekit.services.kit import Change, Correction, ItemLife, LifeLine, Retirement
from coursekit.services.pulls import DeclaredPull
from coursekit.services.repairing import Repair
from coursekit.store.queries.ledger import entries_of_items
from coursekit.store.tables import LedgerEntry
from coursekit.store.unit import Unit
from coursekit.wear.counting import Counts, count
from coursekit.wear.ledger import Ending
from coursekit.wear.policy import Counting
from tests.cast import NOW, TODAY, Cast
from tests.databases import Databases, opened
from tests.looks import examined

MARKS = ("Rope 1", "Soft 1", "Bow 1", "Line 1")
DAYS, STEPS = 12, 25

marks = st.sampled_from(MARKS)
endings = st.sampled_from([ending.value for ending in Ending])
conditions = st.sampled_from([condition.value for condition in Condition])


class Days(RuleBasedStateMachine):
    """Mara and Tobin at work with four items; a move that is refused leaves no trace."""

    def __init__(self, unit: Unit, cast: Cast) -> None:
        super().__init__()
        self.unit, self.cast = unit, cast
        self.mara, self.tobin = cast.instructor.actor, cast.storekeeper.actor
        self.now = NOW
        self.number = 0
        self.retired: set[str] = set()

    def key(self) -> str:
        self.number += 1
        return f"move-{self.number:05}"

    def life(self, mark: str) -> ItemLife:
        return kit.item_life(self.unit, self.tobin, self.cast.items[mark], TODAY)

    def entries(self) -> int:
        with self.unit.read() as session:
            return session.scalar(select(func.count()).select_from(LedgerEntry)) or 0

    def act(self, move: Callable[[], object], by: Actor, *, corrects: bool = False) -> bool:
        """Make a move twice, as a phone may send it; whole it counts once, refused not at all."""
        self.now += timedelta(minutes=15)
        before, held = self.entries(), self.held(leaves_pulls=corrects)
        unexamined = set() if corrects else self.unexamined()
        try:
            move()
        except CoursekitError:
            assert self.entries() == before
            return False
        after = self.entries()
        move()
        assert self.entries() == after > before
        self.nobody_alone_lets_out_what_they_held(held, by)
        assert not [mark for mark in unexamined & set(held) if self.is_let_out(mark)]
        return True

    def held(self, *, leaves_pulls: bool) -> dict[str, set[str]]:
        """Return who held each item that is in quarantine since its last release, by name.

        Whoever logged a pull may say that it was another item, and what it brought goes with it.
        """
        found = dict[str, set[str]]()
        for mark in MARKS:
            is_held = self.life(mark).item.status == "quarantined"
            names = found.setdefault(mark, set()) if is_held else set()
            for line in self.standing(mark)[1:]:
                if line.kind == "released":
                    names.clear()
                is_left = leaves_pulls and line.pull_id is not None
                # Received once more: it was lost, and whoever found it holds it.
                if line.kind in ("quarantined", "received") and not is_left:
                    names.add(line.by)
        return found

    def unexamined(self) -> set[str]:
        """Return what met something since it passed an examination last."""
        return {mark for mark in MARKS if self.met(mark)}

    def met(self, mark: str) -> bool:
        has_met = False
        for line in self.standing(mark)[1:]:
            by_pull = line.kind == "quarantined" and line.pull_id is not None
            if by_pull or line.kind in ("repaired", "received") or line.passed is False:
                has_met = True
            elif line.passed:
                has_met = False
        return has_met

    def standing(self, mark: str) -> list[LifeLine]:
        return [line for line in self.life(mark).lines if not line.is_reversed]

    def is_let_out(self, mark: str) -> bool:
        return self.life(mark).item.status in ("in-store", "out")

    def nobody_alone_lets_out_what_they_held(self, held: dict[str, set[str]], by: Actor) -> None:
        name = self.cast.instructor.name if by is self.mara else self.cast.storekeeper.name
        assert not [mark for mark in held if name in held[mark] and self.is_let_out(mark)]

    @rule(mark=marks, size=st.sampled_from(["light", "heavy", "unknown"]), ended=endings,
          ago=st.integers(0, 5_000))  # fmt: skip
    def pull(self, mark: str, size: str, ended: str, ago: int) -> None:
        at = self.now - timedelta(minutes=ago)
        item_id, key = self.cast.items[mark], self.key()
        sent = DeclaredPull(self.cast.class_id, item_id, "kinetic", size, ended, key, at)
        self.act(
            lambda: pulls.record_declared_pull(self.unit, self.mara, sent, self.now), self.mara
        )

    @rule(mark=marks, is_mara=st.booleans())
    def quarantine(self, mark: str, is_mara: bool) -> None:  # noqa: FBT001
        change, who = self.change(mark), self.who(is_mara)
        self.act(lambda: kit.quarantine(self.unit, who, change, self.now), who)

    @rule(mark=marks, is_mara=st.booleans())
    def quarantine_and_reverse(self, mark: str, is_mara: bool) -> None:  # noqa: FBT001
        change, who = self.change(mark), self.who(is_mara)
        if self.act(lambda: kit.quarantine(self.unit, who, change, self.now), who):
            entry = max(line.entry_id for line in self.life(mark).lines)
            wrong = Correction(entry, "no doubt", self.key())
            self.act(lambda: kit.correct(self.unit, who, wrong, self.now), who, corrects=True)

    @rule(mark=marks, is_mara=st.booleans())
    def release(self, mark: str, is_mara: bool) -> None:  # noqa: FBT001
        change, who = self.change(mark), self.who(is_mara)
        self.act(lambda: kit.release(self.unit, who, change, self.now), who)

    @rule(mark=marks, passed=st.booleans(), is_mara=st.booleans())
    def inspect(self, mark: str, passed: bool, is_mara: bool) -> None:  # noqa: FBT001
        who = self.who(is_mara)
        item = self.life(mark).item
        found = "" if passed else "a doubt"
        form = examined(
            item.kind, item.id, item.version, self.key(), material=item.type.material or "",
            found=found,
        )  # fmt: skip
        self.act(lambda: inspecting.inspect(self.unit, who, form, self.now), who)

    @rule(mark=marks, act=st.sampled_from([repairing.lose, repairing.find]), is_mara=st.booleans())
    def lose_or_find(
        self,
        mark: str,
        act: Callable[[Unit, Actor, Change, datetime], None],
        is_mara: bool,  # noqa: FBT001
    ) -> None:
        change, who = self.change(mark), self.who(is_mara)
        self.act(lambda: act(self.unit, who, change, self.now), who)

    @rule(mark=marks)
    def repair(self, mark: str) -> None:
        item = self.life(mark).item
        new = Repair(item.id, item.version, "mended", self.key(), "27 m", "FB-77")
        self.act(lambda: repairing.repair(self.unit, self.tobin, new, self.now), self.tobin)

    @rule(mark=st.sampled_from(MARKS[2:]))
    def retire(self, mark: str) -> None:
        item = self.life(mark).item
        seen_by = self.mara.person_id
        end = Retirement(item.id, item.version, "cut", "cut in three", seen_by, self.key())
        if self.act(lambda: kit.retire(self.unit, self.tobin, end, self.now), self.tobin):
            self.retired.add(mark)

    @rule(chosen=st.lists(marks, min_size=1, max_size=3, unique=True))
    def issue(self, chosen: list[str]) -> None:
        items = tuple(self.cast.items[mark] for mark in chosen)
        new = Issue(self.cast.class_id, items, self.key())
        self.act(lambda: issuing.issue(self.unit, self.tobin, new, self.now), self.tobin)

    @rule(mark=marks, condition=conditions)
    def give_back(self, mark: str, condition: str) -> None:
        item = self.cast.items[mark]
        told = {item: "a nick"} if condition == "damage" else {}
        back = GiveBack(self.cast.class_id, {item: condition}, told, self.key())
        self.act(lambda: issuing.give_back(self.unit, self.tobin, back, self.now), self.tobin)

    @rule(mark=marks, data=st.data(), is_mara=st.booleans())
    def correct(self, mark: str, data: st.DataObject, is_mara: bool) -> None:  # noqa: FBT001
        who = self.who(is_mara)
        entry = data.draw(st.sampled_from([line.entry_id for line in self.life(mark).lines]))
        wrong = Correction(entry, "another item", self.key())
        self.act(lambda: kit.correct(self.unit, who, wrong, self.now), who, corrects=True)

    @rule(mark=marks, size=st.sampled_from(["light", "heavy"]))
    def pull_and_correct(self, mark: str, size: str) -> None:
        before = self.life(mark).item
        item_id, key = self.cast.items[mark], self.key()
        sent = DeclaredPull(self.cast.class_id, item_id, "winch", size, "parted", key, self.now)
        log = pulls.record_declared_pull
        if self.act(lambda: log(self.unit, self.mara, sent, self.now), self.mara):
            wrong = Correction(self.entry_of(key, item_id), "another item", self.key())
            assert self.act(
                lambda: kit.correct(self.unit, self.mara, wrong, self.now), self.mara, corrects=True
            )
            after = self.life(mark).item
            assert (after.counts, after.status) == (before.counts, before.status)

    @invariant()
    def the_ledger_and_the_counts_agree(self) -> None:
        assert verify(self.unit, self.tobin).holds

    @invariant()
    def retired_is_final(self) -> None:
        assert {self.life(mark).item.status for mark in self.retired} <= {"retired"}

    def teardown(self) -> None:
        before = self.counts()
        assert self.folded_backwards() == before
        rebuild(self.unit, self.tobin)
        assert self.counts() == before
        assert accounting.verify(self.unit, self.tobin).holds

    def counts(self) -> dict[str, Counts]:
        return {mark: self.life(mark).item.counts for mark in MARKS}

    def folded_backwards(self) -> dict[str, Counts]:
        """Fold each item's entries as if they had arrived in the other order."""
        ids = [self.cast.items[mark] for mark in MARKS]
        with self.unit.read() as session:
            ledgers = entries_of_items(session, self.tobin.school_id, ids)
        return {
            mark: count(reversed(ledgers[self.cast.items[mark]]), self.counting(mark))
            for mark in MARKS
        }

    def counting(self, mark: str) -> Counting:
        return self.life(mark).item.type.policy.counting

    def change(self, mark: str) -> Change:
        item = self.life(mark).item
        return Change(item.id, item.version, "a doubt", self.key())

    def who(self, is_mara: bool) -> Actor:  # noqa: FBT001
        return self.mara if is_mara else self.tobin

    def entry_of(self, key: str, item_id: int) -> int:
        with self.unit.read() as session:
            found = session.scalar(
                select(LedgerEntry.id).where(LedgerEntry.key == f"{key}/{item_id}")
            )
        assert found is not None
        return found


def test_any_sequence_of_moves_keeps_what_must_hold(
    databases: Databases, school_world: tuple[URL, Cast]
) -> None:
    url, cast = school_world

    class FreshDays(Days):
        def __init__(self) -> None:
            self.opened = opened(databases, databases.copy(url))
            super().__init__(self.opened.__enter__(), cast)

        def teardown(self) -> None:
            try:
                super().teardown()
            finally:
                self.opened.__exit__(None, None, None)

    run_state_machine_as_test(
        FreshDays,
        settings=settings(
            max_examples=DAYS,
            stateful_step_count=STEPS,
            suppress_health_check=list(HealthCheck),
        ),
    )
