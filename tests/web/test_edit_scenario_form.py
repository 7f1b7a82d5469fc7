"""An instructor changes a scenario with plain controls: the file stays a file that a hand wrote."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from flask import Flask

from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import canonical_document, read_scenario_text
from coursekit.files.yaml_tree import FieldPath
from coursekit.rigging.search import safe_rigs
from coursekit.rigging.solver import solve
from coursekit.scenario.offer import is_good
from coursekit.services import drafting
from coursekit.store.unit import Unit
from coursekit.web.prepare import editor_sections
from coursekit.web.prepare.editor_changes import data_of, with_typed
from coursekit.web.prepare.editor_found import LISTED, found_in, key_of
from coursekit.web.prepare.editor_sections import all_controls, sections_of
from tests.cast import NOW, Cast
from tests.shell.files.ford import FORD, changed
from tests.shell.files.test_scenario_edit import leaves
from tests.web.visitor import Visitor

STOCK = sorted(resource_dir("scenarios").glob("*.yaml"))
LARGEST = 100_000
STATIC = Path(editor_sections.__file__).parents[1] / "static"
STALE = {"csrf_token": "of yesterday"}


@pytest.fixture
def form(instructor: Visitor, cast: Cast) -> Visitor:
    """The school's scenario as a form, in a draft that has just begun."""
    page = instructor.open(f"/scenarios/{cast.version_id}")
    return page.send(f"/scenarios/{cast.version_id}/change")


def text_of(unit: Unit, cast: Cast) -> str:
    return drafting.drafts(unit, cast.instructor.actor)[0].text


def test_a_form_sent_back_as_it_came_changes_no_byte(form: Visitor, unit: Unit, cast: Cast) -> None:
    form.send(form.path, act="try")

    assert form.status == 200
    assert text_of(unit, cast) == FORD


def prefixes(path: FieldPath) -> list[FieldPath]:
    return [path[:length] for length in range(1, len(path) + 1)]


@pytest.mark.parametrize("path", STOCK, ids=lambda path: path.stem)
def test_every_value_of_every_file_has_a_control_that_keeps_it(app: Flask, path: Path) -> None:
    text = path.read_text("utf-8")
    data = data_of(text)
    with app.test_request_context():
        controls = list(all_controls(sections_of(data)))
        sent = {each.name: each.text or "" for each in controls}

        assert [each.name for each in controls if each.text is None] == []
        paths = {each.path for each in controls}
        left = [leaf for leaf in leaves(data) if not set(prefixes(leaf)) & paths]
        assert [leaf for leaf in left if leaf[-1] not in {"ask", "format"}] == []
        assert len({each.name for each in controls}) == len(controls)
        assert with_typed(text, sent) == text


@pytest.mark.parametrize(
    ("name", "typed", "by_hand"),
    [
        ("/stuck_vehicle/mass", "2700 kg", ("mass: 2650 kg", "mass: 2700 kg")),
        ("/recovery_vehicle/at", "23, 0", ("at: [22, 0]", "at: [23, 0]")),
        ("/gear/old-strap/condition", "cut", ("[cut, no-label]", "[cut]")),
        ("/gear/rope-k/stretch", "strain 25 %", ("{strain: 30 %, at: 100 %}", "{strain: 25 %}")),
        ("/vary/ground.slope/to", "9 deg", ("to: 10 deg", "to: 9 deg")),
        ("/tasks/0/tolerance", "5 %", ("{below: 3 %, above: 8 %}", "5 %")),
        ("/tasks/1/scheme", "safe 5, margin 1", ("reaches: 1, margin: 1, economy: 1", "margin: 1")),
        (
            "/rigs/turned/lines/0/pulleys/0/with",
            "sling-1 choker, bow-1",
            ("basket, angle: 40 deg", "choker"),
        ),
        ("/anchors/oak/tested", "true", ("tested: false", "tested: true")),
        ("/pass", "", ("pass: 75 %\n", "")),
    ],
)
@pytest.mark.independent("the same change made by hand in the file")
def test_a_field_and_a_hand_give_the_same_digest(
    form: Visitor, unit: Unit, cast: Cast, name: str, typed: str, by_hand: tuple[str, str]
) -> None:
    form.send(form.path, act="try", **{name: typed})
    hand = changed(by_hand)
    if "scheme" in name:
        hand = hand.replace("safe: 3", "safe: 5")

    edited = text_of(unit, cast)
    assert read_scenario_text(edited, "draft").digest == read_scenario_text(hand, "hand").digest
    assert canonical_document(edited) == canonical_document(hand)


def test_what_is_wrong_stands_beside_its_field_and_in_the_summary(form: Visitor) -> None:
    form.send(form.path, act="try", **{"/stuck_vehicle/mass": "2700 kN"})

    assert form.value("/stuck_vehicle/mass") == "2700 kN"
    assert form.heading.endswith("1 thing to mend")
    assert 'href="#/stuck_vehicle/mass"' in form.html
    assert any("a mass is needed" in error for error in form.errors)
    assert 'aria-describedby="/stuck_vehicle/mass-error"' in form.html


def test_a_rig_that_no_longer_holds_is_told_at_once(form: Visitor) -> None:
    form.send(form.path, act="try", **{"/stuck_vehicle/mass": "9500 kg"})

    assert "not to be pulled" in form.html
    assert "0 of 2 named rigs are safe and do the job" in form.html
    assert "keeps it from a class" in form.html


def test_things_are_added_with_a_name_and_a_kind_and_no_figure(
    form: Visitor, unit: Unit, cast: Cast
) -> None:
    form.send(form.path, add="/gear", **{"name:/gear": "bow-9", "kind:/gear": "bow-shackle"})
    form.send(form.path, add="/anchors", **{"name:/anchors": "", "kind:/anchors": "rock"})
    form.send(form.path, add="/tasks", **{"name:/tasks": "pull", "kind:/tasks": "quantity"})
    points = "/stuck_vehicle/points"
    form.send(form.path, add=points, **{f"kind:{points}": "recovery-point"})

    text = text_of(unit, cast)
    assert "  bow-9: {kind: bow-shackle}\n" in text
    assert "  rock: {kind: rock}\n" in text
    assert "  - {id: pull, ask: quantity, marks: 1}\n" in text
    assert form.value("/anchors/rock/holds") == ""
    assert form.value(f"{points}/point/wll") == ""
    assert "anchors.rock.holds" in form.html


def test_a_rig_is_built_from_its_lines_pulleys_and_joints(
    form: Visitor, unit: Unit, cast: Cast
) -> None:
    form.send(form.path, add="/rigs", **{"name:/rigs": "new", "kind:/rigs": "winch"})
    line = "/rigs/new/lines/0"
    form.send(form.path, add=f"{line}/pulleys")
    filled = {
        f"{line}/from": "recovery_vehicle.winch",
        f"{line}/made_of": "winch-line, soft-1, line-2",
        f"{line}/pulleys/0/at": "oak",
        f"{line}/pulleys/0/by": "ring-1",
        f"{line}/pulleys/0/with": "sling-1 basket 40 deg, bow-1",
        f"{line}/to/at": "stuck_vehicle.rear",
        f"{line}/to/with": "hook-1",
    }
    form.send(form.path, act="try", **filled)

    scenario = read_scenario_text(text_of(unit, cast), "draft")
    assert scenario.rigs["new"] == scenario.rigs["turned"]
    form.send(form.path, add="/rigs/new/lines")
    assert form.value("/rigs/new/lines/1/role") == "hold"


def test_what_is_removed_goes_and_the_rest_stays(form: Visitor, unit: Unit, cast: Cast) -> None:
    form.send(form.path, remove="/gear/hook-1")

    gone = "  hook-1: {kind: hook, wll: 3 t, latch: true}\n"
    assert text_of(unit, cast) == changed((gone, ""))
    assert "rigs.turned.lines.0.to.with.0" in form.html
    form.send(form.path, remove="/stuck_vehicle")
    assert "stuck_vehicle:" in text_of(unit, cast)


def test_a_number_varies_from_where_it_stands(form: Visitor, unit: Unit, cast: Cast) -> None:
    field = "gear.block-1.efficiency"
    form.send(form.path, add="/vary", **{"kind:/vary": field})
    assert form.value(f"/vary/{field}/from") == "0.95"

    form.send(form.path, act="try", **{f"/vary/{field}/from": "0.9", f"/vary/{field}/step": "0.05"})
    vary = {each.field: each.count for each in read_scenario_text(text_of(unit, cast), "x").vary}
    assert vary[field] == 2


def test_a_seldom_field_is_added_to_an_item(form: Visitor, unit: Unit, cast: Cast) -> None:
    form.send(form.path, add="/gear/", **{"name:/gear/": "bow-1", "kind:/gear/": "made"})
    assert "gear.bow-1.made" in form.html

    form.send(form.path, act="try", **{"/gear/bow-1/made": "2024-05-31"})
    assert "bow-1: {kind: bow-shackle, wll: 3.25 t, mbs: 19.5 t, made: 2024-05-31}" in text_of(
        unit, cast
    )


def test_a_second_tab_is_told_what_differs_and_loses_nothing(
    form: Visitor, unit: Unit, cast: Cast
) -> None:
    other = Visitor(form.client).open(form.path)
    form.send(form.path, act="try", **{"/stuck_vehicle/mass": "2600 kg"})
    other.send(other.path, act="try", **{"/stuck_vehicle/mass": "2800 kg"})

    assert other.status == 422
    assert "stuck_vehicle.mass: the draft says “2600 kg” now." in other.notices[0]
    assert other.value("/stuck_vehicle/mass") == "2800 kg"
    assert "2600 kg" in text_of(unit, cast)
    other.send(other.path, act="try")
    assert "2800 kg" in text_of(unit, cast)


def test_a_stale_page_comes_back_with_what_was_typed(form: Visitor, unit: Unit, cast: Cast) -> None:
    form.send(form.path, **STALE, **{"/stuck_vehicle/mass": "2800 kg"})

    assert form.status == 422
    assert "What you typed is still here" in form.notices[0]
    assert form.value("/stuck_vehicle/mass") == "2800 kg"
    assert text_of(unit, cast) == FORD


def test_a_text_that_no_form_can_show_is_mended_as_text(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    for text in ("gear: [\n", "- a list\n", "a: &x 1\nb: *x\n", "title: x\ntitle: y\n"):
        draft_id = drafting.begin_with(unit, cast.instructor.actor, text, NOW)
        instructor.open(f"/scenarios/drafts/{draft_id}")

        assert instructor.path == f"/scenarios/drafts/{draft_id}/text"
        assert "can't be shown as a form" in instructor.notices[0]


def test_the_page_of_a_long_scenario_is_small(instructor: Visitor, unit: Unit, cast: Cast) -> None:
    longest = max((path.read_text("utf-8") for path in STOCK), key=len)
    draft_id = drafting.begin_with(unit, cast.instructor.actor, longest, NOW)
    instructor.open(f"/scenarios/drafts/{draft_id}")
    loaded = re.findall(r'(?:href|src)="/static/((?:css|js)/[^"]+)"', instructor.html)

    assert len(loaded) > 3
    files = sum(len((STATIC / name).read_bytes()) for name in [*loaded, "js/storage.js"])
    assert len(instructor.html) + files < LARGEST


class TestFoundRigs:
    """The safe rigs that the gear allows are counted, and one of them can be taken over."""

    @pytest.fixture
    def keys(self, form: Visitor) -> list[str]:
        return re.findall(r'name="take" value="(\w+)"', form.html)

    @pytest.mark.independent("the search of the command line, without the bound of a page")
    def test_they_are_counted_and_the_best_told_in_words(self, form: Visitor) -> None:
        count = len(safe_rigs(read_scenario_text(FORD, "x").situation).rigs)

        assert count == 1
        assert "1 way to rig it is safe and does the job" in form.html
        assert form.html.count("Take it as the rig given") == min(count, LISTED)

    def test_one_becomes_the_rig_given_and_the_old_one_stays(
        self, form: Visitor, unit: Unit, cast: Cast, keys: list[str]
    ) -> None:
        form.send(form.path, take=keys[0], **{"/stuck_vehicle/mass": "2660 kg"})
        taken = read_scenario_text(text_of(unit, cast), "draft")
        old = read_scenario_text(FORD, "old")

        assert key_of(taken.rigs["given"]) == keys[0]
        assert taken.rigs["before"] == old.rigs["given"]
        assert taken.shown["stuck_vehicle.mass"] == "2660 kg"
        assert is_good(solve(taken.situation, taken.rigs["given"]))

    def test_it_can_be_taken_in_the_text_too(
        self, form: Visitor, unit: Unit, cast: Cast, keys: list[str]
    ) -> None:
        form.open(f"{form.path}/text").send(form.path, take=keys[0])

        taken = read_scenario_text(text_of(unit, cast), "draft")
        assert key_of(taken.rigs["given"]) == keys[0]

    def test_one_that_is_not_safe_any_more_is_not_taken(
        self, form: Visitor, unit: Unit, cast: Cast, keys: list[str]
    ) -> None:
        form.send(form.path, take=keys[0], **{"/gear/winch-line/mbs": "1 kN"})

        assert form.status == 422
        assert "not among the safe ones any more" in form.notices[0]
        assert form.value("/gear/winch-line/mbs") == "1 kN"
        assert text_of(unit, cast) == FORD

    def test_what_it_finds_is_held_against_what_the_scenario_says(self, form: Visitor) -> None:
        form.send(form.path, act="try", **{"/expect": "no-go"})
        assert "says that no safe rig exists, and there is one" in form.html

        form.send(form.path, act="try", **{"/expect": "go", "/gear/winch-line/mbs": "1 kN"})
        form.send(form.path, act="try", **{"/gear/rope-k/condition": "cut"})
        assert "says that a safe rig exists, and the search found none" in form.html
        assert "Any one of these would make it safe:" in form.html

    def test_a_long_list_of_gear_ends_the_search_at_its_bound(self, app: Flask) -> None:
        more = "".join(
            f"  line-{n}: {{kind: extension-line, length: {5 + n} m, mbs: {80 + n} kN}}\n"
            f"  block-{n}: {{kind: pulley-block, mbs: {100 + n} kN, efficiency: 0.9}}\n"
            f"  bow-{n}: {{kind: bow-shackle, wll: 4 t, mbs: {20 + n} t}}\n"
            for n in range(10, 70)
        )
        scenario = read_scenario_text(changed(("policy: {}", f"{more}policy: {{}}")), "long")
        with app.test_request_context():
            found = found_in(scenario)

        assert len(scenario.situation.gear) > 190
        assert found.sentence.startswith("At least ")


class TestAsYouType:
    """What the script sends while somebody types, and what it gets."""

    JSON = {"Accept": "application/json"}  # noqa: RUF012  a header of every request here

    def ask(self, form: Visitor, **typed: str) -> dict[str, object]:
        pairs = dict(form.forms[0].filled(dict(typed)))
        form.response = form.client.post(f"{form.path}/try", data=pairs, headers=self.JSON)
        told: dict[str, object] = form.response.json or {}
        return told

    def test_it_is_kept_and_solved(self, form: Visitor, unit: Unit, cast: Cast) -> None:
        told = self.ask(form, **{"/stuck_vehicle/mass": "9500 kg"})

        assert told["seen"] == 2
        assert "No named rig is safe and does the job" in str(told["beside"])
        assert "0 of 2 named rigs" in str(told["summary"])
        assert "<svg" in str(told["result"])
        assert "mass: 9500 kg" in text_of(unit, cast)

    def test_problems_come_by_the_names_of_their_controls(self, form: Visitor) -> None:
        told = self.ask(form, **{"/stuck_vehicle/mass": "heavy"})

        assert list(told["beside"]) == ["/stuck_vehicle/mass"]  # type: ignore[call-overload]
        assert told["summary"] == "1 thing to mend"

    def test_another_tab_s_change_is_told_and_nothing_overwritten(
        self, form: Visitor, unit: Unit, cast: Cast
    ) -> None:
        first = form.forms[0]
        self.ask(form, **{"/stuck_vehicle/mass": "2600 kg"})
        late = dict(first.filled({"/stuck_vehicle/mass": "2800 kg"}))
        answer = form.client.post(form.path, data=late, headers=self.JSON)

        assert answer.status_code == 409
        assert "changed in another tab" in (answer.json or {})["error"]
        assert "2600 kg" in text_of(unit, cast)

    def test_a_forged_or_old_token_is_refused_and_a_fresh_one_given(
        self, form: Visitor, unit: Unit, cast: Cast
    ) -> None:
        told = self.ask(form, **STALE, **{"/stuck_vehicle/mass": "1 t"})

        assert told["error"] == "stale"
        assert told["csrf"]
        assert text_of(unit, cast) == FORD
