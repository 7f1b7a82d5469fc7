"""At the counter: the kit list of a class, issue by list or by scan, return with condition."""

import re
from datetime import datetime

import pytest
from markupsafe import escape

from coursekit.services import issuing, kit, teaching
from coursekit.services.issuing import GiveBack, Issue
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from coursekit.wear.lists import list_for
from tests.cast import TODAY, Cast
from tests.kit_acts import LOOKED, hold, status
from tests.shell.statements import counted
from tests.web.visitor import Visitor


@pytest.fixture
def counter(cast: Cast) -> str:
    return f"/kit/classes/{cast.class_id}"


def test_the_list_goes_out_in_one_tap_after_a_look(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    storekeeper.open(counter)
    assert storekeeper.heading == "3 items to issue to Saturday group"
    storekeeper.send(action=counter, **LOOKED)

    assert storekeeper.heading == "Everything for Saturday group is out"
    assert {status(unit, cast, mark) for mark in ("Line 1", "Bow 1", "Damper 1")} == {"out"}
    assert status(unit, cast, "Bow 2") == "in-store"


def test_the_counter_says_what_would_keep_each_kind_in_the_store(
    storekeeper: Visitor, cast: Cast, counter: str
) -> None:
    kinds = {"winch-line": "synthetic", "bow-shackle": None}
    lists = {kind: list_for(kind, material).each_use for kind, material in kinds.items()}

    storekeeper.open(f"/kit/items/{cast.items['Bow 1']}/issue")
    assert all(escape(each.text) in storekeeper.html for each in lists["bow-shackle"])
    assert "ASME B30.26-2010, 26-1.8.4, second-hand" in storekeeper.html
    assert "strand" not in storekeeper.html

    storekeeper.open(counter)
    assert all(escape(each.text) in storekeeper.html for some in lists.values() for each in some)
    storekeeper.send(action=counter, **LOOKED)
    storekeeper.open(f"{counter}/return")
    assert all(escape(each.text) in storekeeper.html for some in lists.values() for each in some)


def test_nothing_goes_out_that_nobody_looked_at(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    storekeeper.open(counter).send(action=counter, labels="y", looks="y")

    assert storekeeper.status == 422
    assert storekeeper.errors == ["▲ Look, then tick it."]
    assert status(unit, cast, "Line 1") == "in-store"


def test_what_stays_is_shown_with_its_reason(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    hold(unit, cast, "Line 1")
    storekeeper.open(counter)

    assert storekeeper.heading == "1 scenario can't be rigged safely with what is fit"
    assert "Too few are fit of: winch line." in storekeeper.html
    assert re.search(r"Stays in the store.*Line 1.*in quarantine", storekeeper.html, re.DOTALL)


def test_what_was_held_since_the_list_was_opened_stays_and_so_does_all_else(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    storekeeper.open(counter)
    hold(unit, cast, "Line 1")
    storekeeper.send(action=counter, **LOOKED)

    assert storekeeper.status == 422
    assert status(unit, cast, "Bow 1") == "in-store"


def test_a_scanned_item_goes_out_with_the_open_class_and_comes_back(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    item = f"/kit/items/{cast.items['Bow 2']}"
    storekeeper.open(item)
    assert f'href="{item}/issue">Issue<' in storekeeper.html
    storekeeper.open(f"{item}/issue").send(class_id=str(cast.class_id), **LOOKED)
    assert storekeeper.heading == "Bow 2: out with a class"
    assert f'href="{item}/issue">Take it back<' in storekeeper.html

    back = storekeeper.client.get(f"{item}/issue").headers["Location"]
    storekeeper.open(back).send(**{f"back-{cast.items['Bow 2']}": "mud"})
    assert "muddy" not in storekeeper.notices
    assert status(unit, cast, "Bow 2") == "in-store"
    assert "exposure" in storekeeper.open(item).html


def test_what_is_back_alike_is_told_at_once_and_only_what_differs_one_by_one(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    storekeeper.open(counter).send(action=counter, **LOOKED)
    row = f"back-{cast.items['Bow 1']}"
    storekeeper.open(f"{counter}/return").send(**{"others": "wet", row: "out"})

    assert status(unit, cast, "Bow 1") == "out"
    assert status(unit, cast, "Line 1") == "in-store"
    assert "exposure" in storekeeper.open(f"/kit/items/{cast.items['Line 1']}").html


def test_damage_goes_into_quarantine_and_is_told(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    storekeeper.open(counter).send(action=counter, **LOOKED)
    row = f"back-{cast.items['Bow 1']}"
    storekeeper.open(f"{counter}/return").send(**{row: "damage"})
    assert storekeeper.status == 422
    assert storekeeper.errors == ["▲ It is empty. Fill it in."]

    told = f"damage-{cast.items['Bow 1']}"
    storekeeper.send(**{row: "damage", told: "its pin is bent"})
    assert status(unit, cast, "Bow 1") == "quarantined"
    assert status(unit, cast, "Line 1") == "out"


def test_a_list_that_is_sent_twice_goes_out_once_and_says_so_twice(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    before = storekeeper.open(counter).response
    storekeeper.send(action=counter, **LOOKED)
    assert "Issued. Log its pulls where they are made." in storekeeper.html
    storekeeper.response = before
    storekeeper.send(action=counter, **LOOKED)

    assert "Issued. Log its pulls where they are made." in storekeeper.html
    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Line 1"], TODAY)
    assert [line.kind for line in life.lines].count("issued") == 1


def test_what_another_issued_meanwhile_is_told_by_its_mark(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str, now: datetime
) -> None:
    storekeeper.open(counter)
    by_another = Issue(cast.class_id, (cast.items["Bow 1"],), "by-another")
    issuing.issue(unit, cast.instructor.actor, by_another, now)
    storekeeper.send(action=counter, **LOOKED)

    assert "Bow 1 is out already. Take it back first." in storekeeper.notices
    assert status(unit, cast, "Line 1") == "in-store"
    storekeeper.open(f"{counter}?item={cast.items['Bow 1']}")
    assert "<li>Bow 1 is out already: take it back first.</li>" in storekeeper.html


def test_one_item_that_is_sent_twice_goes_out_once(storekeeper: Visitor, cast: Cast) -> None:
    item = f"/kit/items/{cast.items['Bow 2']}"
    before = storekeeper.open(f"{item}/issue").response
    for _time in range(2):
        storekeeper.response = before
        storekeeper.send(class_id=str(cast.class_id), **LOOKED)
        assert "Issued. Log its pulls where they are made." in storekeeper.html
        assert storekeeper.path == item


def test_one_item_is_held_against_the_class_that_is_chosen_alone(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    item = f"/kit/items/{cast.items['Bow 2']}/issue"
    with counted() as before:
        storekeeper.open(item)
    mara = cast.instructor.actor
    sunday = teaching.create_class(unit, mara, NewClass(cast.course_id, "Sunday", TODAY), now)
    choice = ScenarioChoice(sunday, (cast.version_id,), seen=1)
    teaching.choose_scenarios(unit, mara, choice)
    teaching.open_class(unit, mara, sunday, now)
    with counted() as after:
        storekeeper.open(item)

    assert len(after) == len(before)
    assert "<li><b>Sunday</b>" in storekeeper.html
    assert "<b>Saturday group</b>" not in storekeeper.html
    here = f'href="{item}?class_id={cast.class_id}">Saturday group<'
    assert here in storekeeper.html
    storekeeper.open(f"{item}?class_id={cast.class_id}").send(**LOOKED)
    assert storekeeper.heading == "Bow 2: out with a class"
    assert (
        storekeeper.client.get(item)
        .headers["Location"]
        .startswith(f"/kit/classes/{cast.class_id}/return")
    )


def test_one_item_that_another_issued_meanwhile_is_told_of(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    storekeeper.open(f"/kit/items/{cast.items['Bow 2']}/issue")
    by_another = Issue(cast.class_id, (cast.items["Bow 2"],), "by-another")
    issuing.issue(unit, cast.instructor.actor, by_another, now)
    storekeeper.send(class_id=str(cast.class_id), **LOOKED)

    assert storekeeper.status == 422
    assert "Bow 2 is out already. Take it back first." in storekeeper.notices


@pytest.mark.parametrize("class_id", ["999", "9" * 20, "none"])
def test_one_item_goes_out_with_no_class_that_is_not_there(
    storekeeper: Visitor, unit: Unit, cast: Cast, class_id: str
) -> None:
    storekeeper.open(f"/kit/items/{cast.items['Bow 2']}/issue")
    storekeeper.send(class_id=class_id, **LOOKED)

    assert storekeeper.status == 422
    assert storekeeper.notices or storekeeper.errors
    assert status(unit, cast, "Bow 2") == "in-store"


def test_a_list_that_is_refused_once_the_class_is_over_says_why(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str, now: datetime
) -> None:
    storekeeper.open(counter)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    storekeeper.send(action=counter, **LOOKED)

    assert any(text.startswith("The class is not open.") for text in storekeeper.notices)


def test_a_return_that_is_sent_twice_counts_once_and_says_so_twice(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    storekeeper.open(counter).send(action=counter, **LOOKED)
    before = storekeeper.open(f"{counter}/return").response
    for _time in range(2):
        storekeeper.response = before
        storekeeper.send(others="wet")
        assert storekeeper.path == counter
        assert "Taken back." in storekeeper.html

    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Line 1"], TODAY)
    assert [line.kind for line in life.lines].count("returned") == 1


def taken_back(unit: Unit, cast: Cast, mark: str, now: datetime) -> None:
    back = GiveBack(cast.class_id, {cast.items[mark]: "clean"}, {}, "by-another")
    issuing.give_back(unit, cast.instructor.actor, back, now)


def test_what_another_took_back_meanwhile_is_named_and_nothing_else_comes_back(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str, now: datetime
) -> None:
    storekeeper.open(counter).send(action=counter, **LOOKED)
    storekeeper.open(f"{counter}/return?item={cast.items['Bow 1']}")
    taken_back(unit, cast, "Bow 1", now)
    storekeeper.send(others="clean")

    assert storekeeper.status == 422
    assert storekeeper.errors == [
        "▲ Bow 1 is not out with this class. Set it to still out: its page tells where it is."
    ]
    assert {status(unit, cast, mark) for mark in ("Line 1", "Damper 1")} == {"out"}


def test_a_scan_of_what_is_back_already_opens_no_form_for_all_the_others(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str, now: datetime
) -> None:
    storekeeper.open(counter).send(action=counter, **LOOKED)
    taken_back(unit, cast, "Bow 1", now)
    storekeeper.open(f"{counter}/return?item={cast.items['Bow 1']}")

    assert storekeeper.notices == ["Not out with this class, so back already or never taken: Bow 1"]
    assert storekeeper.forms == []
    assert f'href="{counter}/return">Show all that is out<' in storekeeper.html


def test_an_item_that_stays_says_why_and_what_could_go_instead(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    hold(unit, cast, "Bow 1")
    storekeeper.open(f"/kit/items/{cast.items['Bow 1']}/issue")

    assert storekeeper.heading == "Bow 1 stays: in quarantine"
    assert (
        "<li>It is in quarantine until another competent person has released it.</li>"
        in storekeeper.html
    )
    assert re.search(r"Could go instead.*Take Bow 2", storekeeper.html, re.DOTALL)
    assert f'href="/kit/items/{cast.items["Bow 2"]}/issue"' in storekeeper.html
    assert storekeeper.forms == []


def test_an_item_that_nothing_is_as_strong_as_says_so(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    hold(unit, cast, "Rope 1")
    storekeeper.open(f"/kit/items/{cast.items['Rope 1']}/issue")

    assert "Nothing of its kind in the store is fit and as strong." in storekeeper.html


def test_everything_that_keeps_an_item_in_the_store_is_told(storekeeper: Visitor) -> None:
    storekeeper.open("/kit/items/new").send(mark="Bow 9", unlabelled="y")
    storekeeper.open(f"{storekeeper.path}/issue")

    for sentence in (
        "Its rating can&#39;t be read.",
        "Nobody knows when it was made.",
        "Its last thorough examination is too long ago, or was never recorded.",
    ):
        assert f"<li>{sentence}</li>" in storekeeper.html


def test_nothing_goes_out_with_a_class_that_is_over(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str, now: datetime
) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    assert "Kit goes out once the class is open." in storekeeper.open(counter).html


def test_the_store_and_the_class_lead_to_the_list(
    storekeeper: Visitor, instructor: Visitor, cast: Cast, counter: str
) -> None:
    assert f'href="{counter}">Kit for Saturday group<' in storekeeper.open("/kit").html
    assert f'href="{counter}"' in instructor.open(f"/classes/{cast.class_id}").html


def test_the_list_says_of_which_item_the_length_was_not_checked(
    storekeeper: Visitor, cast: Cast
) -> None:
    storekeeper.open(f"/kit/classes/{cast.class_id}")

    assert (
        "Not checked, because the register has no length of it: is Line 1 long enough?"
        in storekeeper.html
    )
