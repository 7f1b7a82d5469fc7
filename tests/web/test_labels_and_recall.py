"""Labels that a phone's camera opens, and a batch that is recalled in one step."""

import re
from datetime import date, datetime, timedelta

import pytest

from coursekit.files.kit_table import TableRow
from coursekit.services import (
    accounting,
    amending,
    importing,
    inspecting,
    issuing,
    kit,
    recalling,
    register,
    repairing,
)
from coursekit.services.amending import ItemChange
from coursekit.services.issuing import Issue
from coursekit.services.kit import Change, Correction, Retirement
from coursekit.services.recalling import Recall
from coursekit.services.register import NewItem
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast
from tests.looks import examined
from tests.shell.statements import counted
from tests.web.visitor import Visitor


@pytest.fixture
def slings(unit: Unit, cast: Cast, now: datetime) -> dict[str, int]:
    """Three slings of batch RS-7: one in the store, one out, one retired."""
    actor, week_ago = cast.storekeeper.actor, now - timedelta(days=7)
    type_id = kit.item_life(unit, actor, cast.items["Sling 1"], TODAY).item.type.id
    items: dict[str, int] = {}
    for mark in ("Sling 7", "Sling 8", "Sling 9"):
        new = NewItem(type_id, mark, batch="RS-7", made=date(2026, 1, 15))
        items[mark] = register.register_item(unit, actor, new, week_ago)
        key = f"look-{items[mark]:04}"
        looked_at = examined("roundsling", items[mark], 1, key)
        inspecting.inspect(unit, actor, looked_at, week_ago)
    issuing.issue(unit, actor, Issue(cast.class_id, (items["Sling 8"],), "issue-001"), now)
    mara = cast.instructor.actor.person_id
    end = Retirement(items["Sling 9"], 2, "cut", "cut in three", mara, "retire-01")
    kit.retire(unit, actor, end, now)
    return items


def statuses(unit: Unit, cast: Cast, items: dict[str, int]) -> list[str]:
    rows = kit.list_items(unit, cast.storekeeper.actor, TODAY)
    return [row.status for row in rows if row.id in items.values()]


def test_a_batch_is_out_of_use_in_one_step_wherever_its_items_are(
    storekeeper: Visitor, unit: Unit, cast: Cast, slings: dict[str, int]
) -> None:
    storekeeper.open(f"/kit/items/{slings['Sling 7']}")
    assert 'href="/kit/recall?batch=RS-7"' in storekeeper.html
    storekeeper.open("/kit/recall?batch=RS-7")
    assert storekeeper.heading == "Take all 2 items of batch RS-7 out of use?"
    storekeeper.send(action="/kit/recall?batch=RS-7", reason="the maker recalled it")

    assert statuses(unit, cast, slings) == ["quarantined", "quarantined", "retired"]
    assert statuses(unit, cast, {"": cast.items["Sling 1"]}) == ["in-store"]
    assert accounting.verify(unit, cast.storekeeper.actor).holds


def test_a_recall_needs_a_reason(
    storekeeper: Visitor, unit: Unit, cast: Cast, slings: dict[str, int]
) -> None:
    storekeeper.open("/kit/recall?batch=RS-7").send(action="/kit/recall?batch=RS-7", reason=" ")

    assert storekeeper.status == 422
    assert statuses(unit, cast, slings) == ["in-store", "out", "retired"]


def test_a_recall_sent_twice_counts_once(
    unit: Unit, cast: Cast, now: datetime, slings: dict[str, int]
) -> None:
    new = Recall("RS-7", "the maker recalled it", "recall-01")

    assert [recalling.recall(unit, cast.storekeeper.actor, new, now) for _ in "12"] == [2, 0]


def test_what_comes_into_a_recalled_batch_later_is_held_too(
    unit: Unit, cast: Cast, now: datetime, slings: dict[str, int]
) -> None:
    actor = cast.storekeeper.actor
    recalling.recall(unit, actor, Recall("RS-7", "the maker recalled it", "recall-01"), now)
    sling = kit.item_life(unit, actor, slings["Sling 7"], TODAY).item.type
    for mark, batch in (("Late 1", "RS-7"), ("Late 2", "RS-8")):
        register.register_item(unit, actor, NewItem(sling.id, mark, batch=batch), now)
    cells = {"type": sling.name, "kind": sling.kind, "wll": "3000 kg"}
    rows = [TableRow(2, {**cells, "mark": "Late 3", "batch": "RS-7"})]
    importing.import_kit(unit, actor, "kit.csv", rows, now)

    items = {row.mark: row for row in kit.list_items(unit, actor, TODAY)}
    late = [items[f"Late {number}"] for number in (1, 2, 3)]
    assert [row.status for row in late] == ["quarantined", "in-store", "quarantined"]
    told = kit.item_life(unit, actor, late[0].id, TODAY).lines[-1]
    assert (told.kind, told.reason) == ("quarantined", "the maker recalled it")


def test_an_item_whose_label_turns_out_to_be_of_a_recalled_batch_is_held(
    unit: Unit, cast: Cast, now: datetime, slings: dict[str, int]
) -> None:
    actor = cast.storekeeper.actor
    recalling.recall(unit, actor, Recall("RS-7", "the maker recalled it", "recall-01"), now)
    row = kit.item_life(unit, actor, cast.items["Sling 1"], TODAY).item
    new = NewItem(row.type.id, row.mark, row.serial, "RS-7", row.made)
    change = ItemChange(row.id, row.version, new, "read anew", "change-001")
    for _ in "12":
        amending.change_item(unit, actor, change, now)

    found = kit.item_life(unit, actor, row.id, TODAY)
    assert found.item.status == "quarantined"
    assert found.lines[-1].reason == "the maker recalled it"


def test_a_lost_item_of_the_batch_is_held_for_the_recall_when_it_is_found(
    unit: Unit, cast: Cast, now: datetime, slings: dict[str, int]
) -> None:
    def change(key: str) -> Change:
        row = kit.item_life(unit, cast.storekeeper.actor, slings["Sling 7"], TODAY).item
        return Change(row.id, row.version, "gone", key)

    actor = cast.storekeeper.actor
    repairing.lose(unit, actor, change("lose-0001"), now)
    recalling.recall(unit, actor, Recall("RS-7", "the maker recalled it", "recall-01"), now)
    repairing.find(unit, actor, change("find-0001"), now)

    last = kit.item_life(unit, actor, slings["Sling 7"], TODAY).lines[-1]
    assert (last.kind, last.reason) == ("quarantined", "the maker recalled it")


def test_a_recall_that_was_reversed_holds_nothing_more(
    unit: Unit, cast: Cast, now: datetime, slings: dict[str, int]
) -> None:
    actor = cast.storekeeper.actor
    recalling.recall(unit, actor, Recall("RS-7", "a slip of the batch", "recall-01"), now)
    for number, mark in enumerate(("Sling 7", "Sling 8")):
        entry = kit.item_life(unit, actor, slings[mark], TODAY).lines[-1].entry_id
        wrong = Correction(entry, "another batch", f"correct-{number}")
        kit.correct(unit, cast.instructor.actor, wrong, now)
    type_id = kit.item_life(unit, actor, slings["Sling 7"], TODAY).item.type.id
    late = register.register_item(unit, actor, NewItem(type_id, "Late 1", batch="RS-7"), now)

    assert statuses(unit, cast, {**slings, "Late 1": late}) == [
        "in-store", "in-store", "out", "retired",
    ]  # fmt: skip


@pytest.mark.parametrize("batch", ["", "RS-8", "x" * 500])
def test_a_batch_that_is_not_there_is_not_found(
    storekeeper: Visitor, slings: dict[str, int], batch: str
) -> None:
    assert storekeeper.open(f"/kit/recall?batch={batch}").status == 404


def test_a_batch_is_found_in_the_store(storekeeper: Visitor, slings: dict[str, int]) -> None:
    assert "Sling 8" in storekeeper.open("/kit?words=rs-7").html


def test_a_code_looks_for_no_rig(storekeeper: Visitor, cast: Cast) -> None:
    """A sheet of labels asks for as many codes as it has labels."""
    with counted() as statements:
        storekeeper.open(f"/kit/items/{cast.items['Bow 1']}/code.svg")

    assert not [each for each in statements if "class_scenarios" in each]
    assert storekeeper.open("/kit/items/999/code.svg").status == 404


def test_a_label_has_a_code_that_opens_its_item(storekeeper: Visitor, cast: Cast) -> None:
    storekeeper.open("/kit/labels/sheet?words=Bow&sheet=letter-30")
    item = cast.items["Bow 1"]

    assert storekeeper.heading == "2 labels to print"
    assert f'src="/kit/items/{item}/code.svg"' in storekeeper.html
    assert "WLL 3.25 t" in storekeeper.html
    code = storekeeper.open(f"/kit/items/{item}/code.svg")
    assert code.response.mimetype == "image/svg+xml"
    assert "style=" not in code.html


def test_what_is_gone_gets_no_label(storekeeper: Visitor, slings: dict[str, int]) -> None:
    storekeeper.open("/kit/labels/sheet?words=RS-7")

    assert storekeeper.heading == "2 labels to print"
    assert "Sling 9" not in storekeeper.html


def test_places_that_are_used_up_stay_empty_and_a_full_sheet_is_followed_by_another(
    storekeeper: Visitor, cast: Cast
) -> None:
    storekeeper.open("/kit/labels/sheet?sheet=letter-10&skip=3")
    sheets = re.findall(
        r'<ul class="label-sheet letter-10 letter">(.*?)</ul>', storekeeper.html, re.DOTALL
    )

    # 3 places and 10 items make 13 of 10 a sheet.
    assert [sheet.count("<li>") for sheet in sheets] == [10, 3]
    assert sheets[0].count("<li></li>") == 3


@pytest.mark.parametrize("query", ["sheet=none&skip=-1", "skip=9999999", "skip=x", "words=%00"])
def test_what_is_not_known_of_a_sheet_takes_the_usual(storekeeper: Visitor, query: str) -> None:
    storekeeper.open(f"/kit/labels/sheet?{query}")

    assert storekeeper.status == 200


def test_the_choice_of_labels_keeps_what_was_searched(storekeeper: Visitor) -> None:
    storekeeper.open("/kit/labels?words=Bow")

    assert storekeeper.heading == "2 labels to print"
    assert storekeeper.value("words") == "Bow"
