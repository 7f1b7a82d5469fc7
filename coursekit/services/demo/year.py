"""Living the demo school's year through the services, as if each day were today."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from coursekit.files.load_cell import read_cell
from coursekit.services import inspecting, kit, pulls, register, teaching
from coursekit.services.actor import Actor
from coursekit.services.demo.cell_file import cell_file
from coursekit.services.demo.days import (
    EVENTS,
    Held,
    OfItem,
    OfRig,
    Pulls,
    Released,
    Retired,
    Round,
    YardDay,
)
from coursekit.services.demo.gear import COSTS, STOCK, TYPES, Stocked
from coursekit.services.inspecting import Inspection
from coursekit.services.kit import Change, Retirement
from coursekit.services.measuring import MeasuredPull, reading_of, record_measured_pull
from coursekit.services.pull_desk import DeclaredPull, RigPull
from coursekit.services.register import NewItem
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.inspection import Looked, Occasion, Seen
from coursekit.wear.lists import list_for
from coursekit.wear.status import Status

YARD_COURSE = "Yard days"
_BETWEEN_PULLS = timedelta(minutes=12)


def live_a_year(yard: Yard) -> None:
    """Stock the store and let the year's days pass, the oldest first."""
    types = {
        new.name: register.register_type(yard.unit, yard.juno, new, yard.at(395)) for new in TYPES
    }
    arrivals = [(stock.days_ago, stock) for stock in STOCK]
    happened = [(event.days_ago, event) for event in EVENTS]
    for days_ago, event in sorted([*arrivals, *happened], key=lambda one: -one[0]):
        if isinstance(event, Stocked):
            yard.stock(event, types[event.type_name])
        else:
            yard.live(event, yard.at(days_ago))


@dataclass(frozen=True)
class Yard:
    """The school's yard and store, with the two who work there."""

    unit: Unit
    wren: Actor
    juno: Actor
    now: datetime
    versions: Mapping[str, int]

    def at(self, days_ago: int) -> datetime:
        """Return the morning of a day."""
        return self.now - timedelta(days=days_ago)

    def stock(self, stock: Stocked, type_id: int) -> None:
        """Register what came in, with a first examination where it can have one."""
        at = self.at(stock.days_ago)
        made = None if stock.age is None else (at - timedelta(days=stock.age)).date()
        for mark in stock.marks:
            new = NewItem(
                type_id,
                mark,
                serial=f"FH-{len(self._items(at)) + 101}",
                batch=stock.batch,
                made=made,
                is_labelled=stock.is_labelled,
                place=f"Rack {stock.type_name[0]}",
                cost=COSTS.get(stock.type_name, ""),
            )
            item_id = register.register_item(self.unit, self.juno, new, at)
            self._inspect(self._item(item_id, at), at + timedelta(hours=1), Occasion.FIRST, {})

    def live(self, event: YardDay | Round | Released | Retired | Held, at: datetime) -> None:
        """Let one event happen."""
        match event:
            case YardDay():
                self._yard_day(event, at)
            case Round():
                self._round(event, at)
            case Released():
                self._release(event, at)
            case Retired():
                self._retire(event, at)
            case Held():
                item = self._by_mark(event.mark, at)
                change = Change(item.id, item.version, event.reason, f"held-{item.id}-{at:%Y%m%d}")
                kit.quarantine(self.unit, self.wren, change, at)

    def pull(self, class_id: int, pulled: Pulls, at: datetime) -> None:
        """Log the pulls of a day in a class, one after the other."""
        for number, (pull, size) in enumerate(_one_by_one(pulled), start=1):
            key = f"class-{class_id}-{number:03}"
            when = at + number * _BETWEEN_PULLS
            if isinstance(pull, OfRig):
                self._pull_rig(class_id, pull, key, when)
            else:
                self._pull_item(class_id, pull, size, key, when)

    def _yard_day(self, day: YardDay, at: datetime) -> None:
        class_id = self._class(day, at)
        self.pull(class_id, day.pulls, at)
        teaching.close_class(self.unit, self.wren, class_id, at + timedelta(hours=7))

    def _class(self, day: YardDay, at: datetime) -> int:
        course_id = teaching.add_course(self.unit, self.wren, YARD_COURSE, at)
        new = NewClass(course_id, day.title, at.date())
        class_id = teaching.create_class(self.unit, self.wren, new, at)
        slugs = dict.fromkeys(pull.scenario for pull in day.pulls if isinstance(pull, OfRig))
        version_ids = tuple(self.versions[slug] for slug in slugs)
        choice = ScenarioChoice(class_id, version_ids, seen=1)
        teaching.choose_scenarios(self.unit, self.wren, choice)
        teaching.open_class(self.unit, self.wren, class_id, at)
        return class_id

    def _pull_rig(self, class_id: int, pull: OfRig, key: str, at: datetime) -> None:
        version_id = self.versions[pull.scenario]
        rig = RigPull(
            class_id,
            version_id,
            "given",
            self._chosen(version_id, pull, at),
            pull.ended,
            key,
        )
        if pull.cell is None:
            pulls.record_rig_pull(self.unit, self.wren, rig, at)
            return
        reading = reading_of(read_cell("cell.csv", cell_file(pull.cell)))
        measured = MeasuredPull(**vars(rig), reading=reading, place=pull.cell.place)
        record_measured_pull(self.unit, self.wren, measured, at)

    def _chosen(self, version_id: int, pull: OfRig, at: datetime) -> dict[str, int | None]:
        """Return an item of the store for each of the rig, another where one is taken."""
        marks = {row.mark: row.id for row in self._items(at)}
        chosen: dict[str, int | None] = {gear: marks[mark] for gear, mark in pull.uses.items()}
        for item in pulls.rig_items(self.unit, self.wren, version_id, "given", at.date()):
            free = [
                row
                for row in item.candidates
                if row.due.may_go_out and row.id not in chosen.values()
            ]
            least_worn = min(free, key=lambda row: row.counts.pulls, default=None)
            chosen.setdefault(item.gear_id, least_worn.id if least_worn else None)
        return chosen

    def _pull_item(self, class_id: int, pull: OfItem, size: str, key: str, at: datetime) -> None:
        item = self._by_mark(pull.mark, at)
        declared = DeclaredPull(class_id, item.id, "kinetic", size, pull.ended, key)
        pulls.record_declared_pull(self.unit, self.wren, declared, at)

    def _round(self, event: Round, at: datetime) -> None:
        for item in self._items(at):
            is_here = item.status in (Status.IN_STORE, Status.QUARANTINED)
            if is_here and item.mark not in event.left_out:
                line, findings = event.failed.get(item.mark, ("", ""))
                marked = {line: Looked(Seen.FOUND)} if line else {}
                if item.mark in event.measured:
                    key, looked = event.measured[item.mark]
                    marked[key] = looked
                self._inspect(item, at, Occasion.PERIODIC, marked, findings)

    def _inspect(
        self,
        item: ItemRow,
        at: datetime,
        occasion: Occasion,
        marked: Mapping[str, Looked],
        findings: str = "",
        event: str = "",
    ) -> None:
        """Examine an item of which every line is fine but for those that are marked."""
        listed = list_for(item.kind, item.type.material)
        fine = {each.key: Looked(Seen.FINE) for each in listed.criteria}
        key = f"round-{item.id}-{at:%Y%m%d}"
        lines = {**fine, **marked}
        examined = Inspection(
            item.id, item.version, listed.name, lines, findings, key, occasion, event
        )
        inspecting.inspect(self.unit, self.juno, examined, at)

    def _release(self, event: Released, at: datetime) -> None:
        for item in self._items(at):
            if item.status == Status.QUARANTINED and item.mark not in event.kept_back:
                self._inspect(item, at, Occasion.AFTER, {}, event=event.after)
                key = f"release-{item.id}-{at:%Y%m%d}"
                change = Change(item.id, item.version + 1, event.finding, key)
                kit.release(self.unit, self.juno, change, at)

    def _retire(self, event: Retired, at: datetime) -> None:
        item = self._by_mark(event.mark, at)
        people = {name: person_id for person_id, name in kit.witnesses(self.unit, self.juno)}
        end = Retirement(
            item.id,
            item.version,
            event.reason,
            event.destroyed,
            people[event.witness],
            f"retire-{item.id}-{at:%Y%m%d}",
        )
        kit.retire(self.unit, self.juno, end, at)

    def _items(self, at: datetime) -> tuple[ItemRow, ...]:
        return kit.list_items(self.unit, self.juno, at.date())

    def _item(self, item_id: int, at: datetime) -> ItemRow:
        return kit.item_life(self.unit, self.juno, item_id, at.date()).item

    def _by_mark(self, mark: str, at: datetime) -> ItemRow:
        return {row.mark: row for row in self._items(at)}[mark]


def _one_by_one(pulled: Pulls) -> Iterator[tuple[OfRig | OfItem, str]]:
    """Yield each pull of a day with its declared size; a rig's is solved."""
    for pull in pulled:
        if isinstance(pull, OfRig):
            yield pull, ""
        else:
            for size in pull.sizes:
                yield pull, size
