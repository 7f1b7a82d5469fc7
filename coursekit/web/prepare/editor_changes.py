"""What was sent with the form of a draft, as changes of its text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask_babel import gettext as _

from coursekit.files.as_typed import value_of
from coursekit.files.ranges import variable_paths
from coursekit.files.scenario_edit import with_item, with_value, without
from coursekit.files.yaml_tree import FieldPath, dotted, parse_yaml
from coursekit.problems import Problem, Problems
from coursekit.web.prepare.editor_found import with_taken
from coursekit.web.prepare.editor_sections import (
    Adder,
    Control,
    Row,
    Section,
    all_controls,
    all_rows,
    pointer,
    sections_of,
    value_at,
)

Sent = Mapping[str, str]

_NAMED = {"gear", "anchors", "points", "rigs"}
_LINE: dict[str, Any] = {"from": None, "made_of": [], "to": {"at": None}}
# What a new part of the file has to be given, and is not given by us.
_BLANKS: Mapping[str, dict[str, Any]] = {
    "recovery_vehicle": {"name": None, "mass": None, "at": None, "points": {}},
    "winch": dict.fromkeys(("pull", "drum", "rope", "wraps_per_layer", "line")),
}


def data_of(text: str) -> Any:
    """Return the data of a draft's text; raise where the form can't show it."""
    tree = parse_yaml(text, "draft")
    if tree.problems:
        raise Problems(tree.problems)
    if not isinstance(tree.data, dict):
        what, mend = "It is no mapping", "Write key: value, one a line"
        raise Problems([Problem(tree.where(()), what, mend)])
    return tree.data


@dataclass(frozen=True)
class Changed:
    """A draft's text after a form, the name of the row to go on at, and what was refused."""

    text: str
    row: str = ""
    refused: tuple[str, ...] = ()


def can_be_a_form(text: str) -> bool:
    """Whether a draft's text can be shown as controls."""
    try:
        data_of(text)
    except Problems:
        return False
    return True


def changed_by_form(text: str, sent: Sent) -> Changed:
    """Return a draft's text with all that was sent: typed, added, removed."""
    try:
        text = with_typed(text, sent)
        if "take" in sent:
            return Changed(with_taken(text, sent["take"]))
        if "add" in sent:
            return with_added(text, sent)
        return with_removed(text, sent) if "remove" in sent else Changed(text)
    except Problems as problems:
        return Changed(text, refused=tuple(str(problem) for problem in problems.items))


def changed_as_text(typed: str, sent: Sent) -> Changed:
    """Return a draft's text as it was typed, with the rig that was asked for."""
    try:
        return Changed(with_taken(typed, sent["take"]) if "take" in sent else typed)
    except Problems as problems:
        return Changed(typed, refused=tuple(str(problem) for problem in problems.items))


def differences(text: str, sent: Sent) -> tuple[str, ...]:
    """Return what a draft says where something else was typed."""
    return tuple(
        _("%(field)s: the draft says “%(text)s” now.", field=dotted(each.path), text=each.text)
        for each in all_controls(sections_of(data_of(text)))
        if each.name in sent and differs(each, sent[each.name])
    )


def with_typed(text: str, sent: Sent) -> str:
    """Return a draft's text with what was typed into the controls of its form.

    What was not changed is not written anew, so its bytes stay.
    """
    for control in all_controls(sections_of(data_of(text))):
        typed = sent.get(control.name)
        if typed is not None and differs(control, typed):
            text = _changed(text, control, typed)
    return text


def differs(control: Control, typed: str) -> bool:
    """Whether something else was typed than what stands in the text."""
    return control.text is not None and _tidy(typed) != _tidy(control.text)


def with_added(text: str, sent: Sent) -> Changed:
    """Return a draft's text with the entry that was asked for."""
    sections = sections_of(data_of(text))
    asked = sent.get("add", "")
    adder = next((each for each in _adders(sections) if each.name == asked), None)
    if adder is None:
        return Changed(text)
    chosen = sent.get(f"kind:{adder.name}", "")
    name = sent.get(f"name:{adder.name}", "").strip()
    return _added(text, adder.path, chosen, name)


def with_removed(text: str, sent: Sent) -> Changed:
    """Return a draft's text without the entry whose button was pressed."""
    sections = sections_of(data_of(text))
    row = next(
        (row for row in all_rows(sections) if row.name == sent.get("remove") and row.can_go), None
    )
    if row is None:
        return Changed(text)
    section = next(each for each in sections if row in all_rows([each]))
    return Changed(without(text, row.path), section.name)


def _adders(parts: tuple[Section, ...] | tuple[Row, ...]) -> list[Adder]:
    return [adder for part in parts for adder in (*part.adders, *_adders(part.rows))]


def _changed(text: str, control: Control, typed: str) -> str:
    value = value_of(control.shape, typed)
    if value is None and not control.is_needed:
        return without(text, control.path)
    return with_value(text, control.path, value)


def _tidy(text: str) -> str:
    return "\n".join(line.rstrip() for line in text.strip().splitlines())


def _added(text: str, path: FieldPath, chosen: str, name: str) -> Changed:
    data = data_of(text)
    last = path[-1]
    if last == "":
        return _with_field(text, data, (path[0], name, chosen))
    if last == "vary":
        field = _path_of(data, chosen)
        now = value_at(data, field) if field else None
        return _put(text, (*path, chosen), {"from": now, "to": now, "step": None})
    if last in _NAMED:
        named = (*path, _free(data, path, name or _stem(str(last), chosen)))
        return _put(text, named, _new(str(last), chosen))
    if last in _BLANKS:
        return _put(text, path, _BLANKS[str(last)])
    return _appended(text, data, path, {"chosen": chosen, "name": name})


def _new(holder: str, chosen: str) -> dict[str, Any]:
    return {"method": chosen, "lines": [_LINE]} if holder == "rigs" else {"kind": chosen}


def _put(text: str, path: FieldPath, value: Any) -> Changed:
    return Changed(with_value(text, path, value), pointer(path))


def _appended(text: str, data: Any, path: FieldPath, sent: Sent) -> Changed:
    held = value_at(data, path)
    count = len(held) if isinstance(held, list) else 0
    if path[-1] == "tasks":
        name = sent["name"] or f"task-{count + 1}"
        value: dict[str, Any] = {"id": name, "ask": sent["chosen"], "marks": "1"}
    elif path[-1] == "yard":
        value = {"id": f"yard-{count + 1}", "title": None, "criteria": [_criterion(1)]}
    elif path[-1] == "criteria":
        value = _criterion(count + 1)
    elif path[-1] == "lines":
        value = {"role": "hold", **_LINE} if count else _LINE
    else:
        value = {"at": None, "by": None}
    return Changed(with_item(text, path, value), pointer((*path, count)))


def _criterion(number: int) -> dict[str, Any]:
    return {"id": f"criterion-{number}", "text": None}


def _with_field(text: str, data: Any, path: FieldPath) -> Changed:
    """Give an item that is there a field that it has not."""
    if value_at(data, path[:-1]) is None or value_at(data, path) is not None:
        return Changed(text)
    return Changed(with_value(text, path, None), pointer(path[:-1]))


def _path_of(data: Any, field: str) -> FieldPath:
    """Return the path of a quantity that may vary, an empty one where there is none."""
    return next((path for path in variable_paths(data) if dotted(path) == field), ())


def _stem(holder: str, chosen: str) -> str:
    return {"points": "point", "rigs": "rig"}.get(holder, chosen)


def _free(data: Any, path: FieldPath, name: str) -> str:
    """Return a name like this one that nothing beside it has."""
    held = value_at(data, path)
    names = [name, *(f"{name}-{n}" for n in range(2, 1000))]
    return next(each for each in names if not isinstance(held, Mapping) or each not in held)
