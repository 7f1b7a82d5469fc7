"""A change to a file through the editor is the change that a hand would make, and no other."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.files.reading import Unreadable
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_edit import renamed, with_item, with_value, without
from coursekit.files.scenario_file import canonical_document, digest_of, read_scenario_text
from coursekit.files.yaml_tree import FieldPath, parse_yaml
from coursekit.problems import Problems
from tests.shell.files.ford import FORD, changed

STOCK = {path.stem: path.read_text("utf-8") for path in resource_dir("scenarios").glob("*.yaml")}
# Each is written in the style of all; reading one over and over takes long.
SOME = sorted(STOCK)[::4]
REMARKED = changed(
    ("mass: 2650 kg\n", "mass:   2650 kg   # with the load\n"),
    ("anchors:\n", "# the oak was looked at twice\n\nanchors:   # all of them\n"),
    ("  oak: {kind: tree", "  # no other tree stands near\n  oak: {kind: tree"),
    ("gear:\n", "gear:\n\n"),
)

# What people type: units, punctuation that YAML reads, blanks, other scripts, signs.
TYPED = st.one_of(
    st.sampled_from(["2700 kg", "30 %", "~", "null", "a: b", "- x", "# no", "[1", "'", '"', "\\"]),
    st.sampled_from(["-4", "true", "1e3", "? x", "x #y", "&a", "*a", "!t", "%y", "@", "`", ": :"]),
    st.text(
        st.characters(codec="utf-8", exclude_categories=("Cs", "Co", "Cn")), max_size=30
    ).filter(lambda text: text == text.strip()),
)
LONG = st.lists(st.from_regex(r"\A[a-z#:\-']{1,12}( [a-z,.{}]{1,14}){0,20}\Z"), min_size=1).map(
    "\n".join
)


def leaves(data: Any, path: FieldPath = ()) -> list[FieldPath]:
    if isinstance(data, dict):
        return [leaf for key, part in data.items() for leaf in leaves(part, (*path, key))]
    if isinstance(data, list):
        return [leaf for place, part in enumerate(data) for leaf in leaves(part, (*path, place))]
    return [path]


def holders(data: Any, path: FieldPath = ()) -> list[FieldPath]:
    """Return the path of every entry that can be taken out."""
    parts = data.items() if isinstance(data, dict) else enumerate(data)
    found = []
    for key, part in parts:
        found.append((*path, key))
        if isinstance(part, dict | list):
            found += holders(part, (*path, key))
    return found


def data_of(text: str) -> Any:
    return parse_yaml(text, "text").data


def assert_other_lines_stay(text: str, edited: str, path: FieldPath) -> None:
    """Lines before a field, and those from the next field's line on, are the same bytes."""
    lines = parse_yaml(text, "text").lines
    others = [line for other, line in lines.items() if other[: len(path)] != path]
    # An entry that was the only one leaves its holder empty, on the line of its key.
    first = min(lines[path], lines.get(path[:-1], lines[path]))
    before = text.splitlines()[: first - 1]
    follows = min((line for line in others if line > lines[path]), default=999)
    # The key after the first of an item moves up behind its dash.
    moves_up = text.splitlines()[lines[path] - 1].lstrip().startswith("- ")
    after = text.splitlines()[follows - (0 if moves_up else 1) :]

    assert edited.splitlines()[: len(before)] == before
    assert edited.splitlines()[len(edited.splitlines()) - len(after) :] == after


@pytest.mark.parametrize(
    ("path", "typed", "by_hand"),
    [
        (("stuck_vehicle", "mass"), "2700 kg", ("mass: 2650 kg", "mass: 2700 kg")),
        (("gear", "bow-1", "mbs"), "20 t", ("mbs: 19.5 t", "mbs: 20 t")),
        (("tasks", 1, "marks"), "6", ("marks: 6", "marks: 6.0")),
        (("anchors", "oak", "at"), ["31", "-4"], ("at: [30, -4]", "at: [31, -4]")),
        (("vary", "ground.slope", "to"), "9 deg", ("to: 10 deg", "to: 9 deg")),
        (("gear", "sling-1", "wet"), "true", ("wll: 3000 kg}", "wll: 3000 kg, wet: true}")),
    ],
)
@pytest.mark.independent("the same change made by hand in the text")
def test_the_digest_is_that_of_the_file_edited_by_hand(
    path: FieldPath, typed: Any, by_hand: tuple[str, str]
) -> None:
    edited, hand = with_value(FORD, path, typed), changed(by_hand)

    assert read_scenario_text(edited, "draft").digest == read_scenario_text(hand, "hand").digest


@pytest.mark.independent("the digest of the changed data, never written as text by us")
@settings(max_examples=12)
@given(st.data())
def test_any_text_in_any_field_reads_back_and_touches_no_other_line(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from([REMARKED, STOCK["hill-road"]]))
    path = data.draw(st.sampled_from(leaves(data_of(text))))
    typed = data.draw(TYPED)
    edited = with_value(text, path, typed)

    wanted = copy.deepcopy(data_of(text))
    holder = wanted
    for part in path[:-1]:
        holder = holder[part]
    holder[path[-1]] = typed
    assert stripped(data_of(edited)) == stripped(wanted)
    assert_other_lines_stay(text, edited, path)


def stripped(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: stripped(part) for key, part in data.items()}
    if isinstance(data, list):
        return [stripped(part) for part in data]
    return data.strip() if isinstance(data, str) else data


@settings(max_examples=12)
@given(st.data())
def test_whatever_is_taken_out_all_else_stays_as_it_was(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from([REMARKED, STOCK["hill-road"]]))
    path = data.draw(st.sampled_from(holders(data_of(text))))
    edited = without(text, path)

    wanted = copy.deepcopy(data_of(text))
    holder = wanted
    for part in path[:-1]:
        holder = holder[part]
    del holder[path[-1]]
    assert data_of(edited) == wanted
    assert_other_lines_stay(text, edited, path)


@settings(max_examples=12)
@given(LONG)
def test_a_long_text_is_folded_and_reads_back(brief: str) -> None:
    edited = with_value(REMARKED, ("brief",), brief)

    assert data_of(edited)["brief"].strip() == brief.strip()
    assert max(map(len, edited.splitlines())) <= 110
    assert without(edited, ("brief",)) == without(REMARKED, ("brief",))


@pytest.mark.parametrize("name", SOME)
def test_taking_out_what_was_put_in_gives_the_same_bytes(name: str) -> None:
    text = STOCK[name]
    put = with_value(text, ("gear", "new-hook"), {"kind": "hook", "wll": "3 t"})
    put = with_item(put, ("tasks",), {"id": "new", "ask": "items", "marks": "1"})
    put = with_value(put, ("stuck_vehicle", "points", "new-eye"), {"kind": "towing-eye"})

    assert data_of(put)["gear"]["new-hook"] == {"kind": "hook", "wll": "3 t"}
    back = without(put, ("stuck_vehicle", "points", "new-eye"))
    back = without(back, ("tasks", len(data_of(put)["tasks"]) - 1))
    assert without(back, ("gear", "new-hook")) == text


@pytest.mark.parametrize("name", SOME)
@pytest.mark.independent("the canonical document of the file, written anew")
def test_a_file_built_field_by_field_has_the_digest_of_the_file(name: str) -> None:
    document = canonical_document(STOCK[name])
    text = 'format: "1"\n'
    for key, part in data_of(STOCK[name]).items():
        text = with_value(text, (key,), part)

    assert digest_of(canonical_document(text)) == digest_of(document)


def test_comments_blank_lines_and_spacing_stay_where_they_are() -> None:
    edited = with_value(REMARKED, ("stuck_vehicle", "mass"), "2700 kg")

    assert edited == REMARKED.replace("2650 kg", "2700 kg")
    assert "mass:   2700 kg   # with the load" in edited


def test_a_new_key_stands_where_the_format_writes_it() -> None:
    less = without(without(FORD, ("stuck_vehicle", "travel")), ("recovery_vehicle",))

    again = with_value(less, ("stuck_vehicle", "travel"), "6 m")
    assert again == without(FORD, ("recovery_vehicle",))
    more = with_value(less, ("recovery_vehicle", "name"), "wagon")
    assert less.index("stuck_vehicle") < more.index("recovery_vehicle") < more.index("ground:")


def test_what_is_missing_is_made_on_the_way() -> None:
    text = with_value("format: 1\n", ("stuck_vehicle", "winch", "pull"), "4300 kgf")

    assert text == "format: 1\nstuck_vehicle:\n  winch: {pull: 4300 kgf}\n"


def test_the_last_entry_leaves_an_empty_mapping_and_the_next_one_fills_it() -> None:
    empty = without("anchors:\n  oak: {kind: tree}\nrigs: {}\n", ("anchors", "oak"))
    assert empty == "anchors: {}\nrigs: {}\n"

    assert with_value(empty, ("anchors", "elm"), {"kind": "tree"}) == (
        "anchors:\n  elm: {kind: tree}\nrigs: {}\n"
    )


def test_the_first_key_of_an_item_can_go_and_the_rest_keeps_its_dash() -> None:
    text = "tasks:\n  - id: total\n    ask: rig\n  - id: weak\n"

    assert without(text, ("tasks", 0, "id")) == "tasks:\n  - ask: rig\n  - id: weak\n"
    assert without(text, ("tasks", 0)) == "tasks:\n  - id: weak\n"
    assert without(text, ("tasks", 1)) == "tasks:\n  - id: total\n    ask: rig\n"


def test_an_empty_value_is_filled_and_its_comment_stays() -> None:
    text = "at: [0, 0]\nmass:  # not weighed yet\nexit: 90 deg\n"

    assert with_value(text, ("mass",), "2 t") == (
        "at: [0, 0]\nmass: 2 t  # not weighed yet\nexit: 90 deg\n"
    )


def test_ends_of_lines_stay_those_of_the_file(tmp_path: Path) -> None:
    windows = FORD.replace("\n", "\r\n")
    edited = with_value(windows, ("gear", "new-hook"), {"kind": "hook", "wll": "3 t"})

    assert edited.count("\n") == edited.count("\r\n") == windows.count("\r\n") + 1


def test_a_name_changes_in_its_place() -> None:
    edited = renamed(FORD, ("gear", "bow-1"), "bow-2")

    assert edited == FORD.replace("bow-1: {kind", "bow-2: {kind")
    with pytest.raises(Problems, match="It is there already"):
        renamed(FORD, ("gear", "bow-1"), "soft-1")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("a: &x 1\nb: *x\n", "is an anchor"),
        ("a: !t 1\n", "is a tag"),
        ("a: 1\na: 2\n", "stands twice"),
        ("a: 1\n---\nb: 2\n", "A second document"),
        ("a: [1\n", "It is not YAML"),
    ],
)
def test_what_may_not_stand_in_a_file_is_not_edited_either(text: str, says: str) -> None:
    with pytest.raises((Problems, Unreadable), match=says):
        with_value(text, ("a",), "3")
    with pytest.raises((Problems, Unreadable), match=says):
        without(text, ("a",))
