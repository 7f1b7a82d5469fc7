"""A draft laid out as controls: its sections, their rows, and what can be added to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from flask_babel import gettext as _

from coursekit.files.as_typed import Shape, typed_of
from coursekit.files.ranges import variable_paths
from coursekit.files.scenario_spec import VEHICLES, ScenarioSpec
from coursekit.files.schema import default_at, examples_of, field_at, keys_of, kind_at, spec_at
from coursekit.files.yaml_tree import FieldPath, dotted
from coursekit.files.yaml_write import flow
from coursekit.rigging.gear import HITCHED, KINETIC_LINES, LINES, PULLEYS
from coursekit.web.prepare.editor_fields import (
    ASKS,
    Choices,
    choices_of,
    example_of,
    kind_choices,
    label_of,
    shape_of,
    suggested_for,
)

# Parts of the file that are rows or sections of their own, never one control.
_NESTED = frozenset(
    {"points", "winch", "lines", "pulleys", "to", "anchors", "gear", "policy", "vary", "rigs"}
    | {"tasks", "yard", "criteria", "ground", *VEHICLES}
)
COLUMNS = 60
LEAST_LINES, MOST_LINES = 2, 14
_BRIEF = ("id", "title", "level", "brief", "method", "expect")
_WORDS = frozenset({"title", "name", "text", "source"})
_PASS = ("pass", "weakest_may_change")
_ALWAYS = frozenset({"kind", "wll", "mbs", "condition"})
_OF_AN_ANCHOR = frozenset({"kind", "at", "holds", "tested", "edge"})
# Which kinds of gear are asked for a key; the others may have it all the same.
_USUAL: Mapping[str, frozenset[str]] = {
    "length": LINES | HITCHED,
    "efficiency": PULLEYS,
    "bearing": frozenset({"pulley-block"}),
    "stretch": KINETIC_LINES | {"winch-line", "extension-line"},
    "wet": KINETIC_LINES,
    "material": frozenset({"winch-line", "extension-line"}),
    "latch": frozenset({"hook"}),
    "pickets": frozenset({"ground-anchor"}),
    "deadman": frozenset({"ground-anchor"}),
    "soil": frozenset({"ground-anchor"}),
    "girth": frozenset({"tree", "rock", "structure"}),
    "mass": frozenset({"vehicle"}),
    "grip": frozenset({"vehicle"}),
}


@dataclass(frozen=True)
class Control:
    """One field of the file; `text` is None where the control would change its value."""

    path: FieldPath
    label: str
    example: str
    shape: Shape
    text: str | None
    choices: Choices
    suggested: str
    is_needed: bool
    usual: str = ""

    @property
    def name(self) -> str:
        """The name of the control: the JSON pointer of its field."""
        return pointer(self.path)

    @property
    def is_long(self) -> bool:
        """Whether it takes several lines."""
        return self.shape in {Shape.LONG, Shape.LINES, Shape.OPTIONS}

    @property
    def is_wide(self) -> bool:
        """Whether it takes more room than a number does."""
        is_worded = bool(self.choices) and "true" not in self.values
        is_name = bool(self.suggested) or self.path[-1] in _WORDS
        return is_worded or is_name or self.shape not in {Shape.TEXT, Shape.LONG}

    @property
    def lines(self) -> int:
        """How many lines of a long text to show."""
        text = self.text or ""
        rows = sum(1 + len(line) // COLUMNS for line in text.split("\n"))
        return min(max(rows, LEAST_LINES), MOST_LINES)

    @property
    def values(self) -> frozenset[str]:
        """The values that may be chosen."""
        return frozenset(value for value, _word in self.choices)


@dataclass(frozen=True)
class Adder:
    """What can be added to a part of the file: just so, or chosen, or with a name besides.

    `asks` and `chooses` are the labels of the two.
    """

    path: FieldPath
    label: str
    choices: Choices = ()
    asks: str = ""
    chooses: str = ""
    suggested: str = ""

    @property
    def name(self) -> str:
        """The JSON pointer of the part."""
        return pointer(self.path)


@dataclass(frozen=True)
class Row:
    """One entry of a section, with the entries that it holds."""

    path: FieldPath
    title: str
    controls: tuple[Control, ...]
    rows: tuple[Row, ...] = ()
    adders: tuple[Adder, ...] = ()
    can_go: bool = True

    @property
    def name(self) -> str:
        """The JSON pointer of the entry."""
        return pointer(self.path)


@dataclass(frozen=True)
class Section:
    """One part of the form."""

    key: str
    title: str
    controls: tuple[Control, ...] = ()
    rows: tuple[Row, ...] = ()
    adders: tuple[Adder, ...] = ()

    @property
    def name(self) -> str:
        """The name of the part on its page: no field of the file is called so."""
        return f"part-{self.key}"


def pointer(path: FieldPath) -> str:
    """Return a path as a JSON pointer (RFC 6901), which every key survives.

    >>> pointer(("vary", "ground.slope", "to")), pointer(("a/b", 0))
    ('/vary/ground.slope/to', '/a~1b/0')
    """
    parts = (str(part).replace("~", "~0").replace("/", "~1") for part in path)
    return "".join(f"/{part}" for part in parts)


def sections_of(data: Mapping[str, Any]) -> tuple[Section, ...]:
    """Return the form of a scenario's data, sound or not."""
    return (
        Section("brief", _("Brief"), controls_at(data, (), _BRIEF)),
        _vehicles(data),
        Section("ground", _("Ground"), controls_at(data, ("ground",))),
        _things(data, "anchors", _("Anchors"), _("Add an anchor")),
        _things(data, "gear", _("Gear at hand"), _("Add an item")),
        Section("policy", _("The school's own rules"), controls_at(data, ("policy",))),
        _vary(data),
        _rigs(data),
        _tasks(data),
        _yard(data),
        Section("pass", _("Pass mark"), controls_at(data, (), _PASS)),
    )


def all_controls(sections: Iterable[Section | Row]) -> Iterator[Control]:
    """Yield every control of a form, in its order."""
    for part in sections:
        yield from part.controls
        yield from all_controls(part.rows)


def all_rows(sections: Iterable[Section | Row]) -> Iterator[Row]:
    """Yield every row of a form, in its order."""
    for part in sections:
        yield from part.rows
        yield from all_rows(part.rows)


def value_at(data: Any, path: FieldPath) -> Any:
    """Return what stands at a path, None where nothing does."""
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def controls_at(
    data: Any, path: FieldPath, usual: Iterable[str] | None = None
) -> tuple[Control, ...]:
    """Return the controls of a mapping: what it has, and what it usually has."""
    held = value_at(data, path)
    spec = spec_at(ScenarioSpec, data, path)
    known = keys_of(spec) if spec else ()
    wanted = set(known if usual is None else usual)
    if usual is None or path:
        wanted |= set(held) if isinstance(held, Mapping) else set()
    keys = [*known, *sorted(wanted - set(known))]
    shown = (key for key in keys if key in wanted and not _is_part(path, key))
    return tuple(_control(data, (*path, key)) for key in shown)


def _example(data: Any, path: FieldPath) -> str:
    """Return what may stand in a field: of a part with fields of its own, those it needs."""
    spec = spec_at(ScenarioSpec, data, path)
    said = example_of(path, kind_at(ScenarioSpec, data, path))
    return said if said or spec is None else flow(examples_of(spec))


def _is_part(path: FieldPath, key: str) -> bool:
    return key in _NESTED and path[:1] != ("vary",)


def _control(data: Any, path: FieldPath) -> Control:
    value, shape = value_at(data, path), shape_of(path)
    info, choices = field_at(ScenarioSpec, data, path), choices_of(path)
    return Control(
        path=path,
        label=label_of(path),
        example=_example(data, path),
        shape=shape,
        text=typed_of(shape, value),
        choices=choices,
        suggested=suggested_for(path),
        is_needed=info is not None and info.is_required(),
        usual=dict(choices).get(str(default_at(ScenarioSpec, data, path)).lower(), ""),
    )


def _names(data: Any, path: FieldPath) -> list[str]:
    held = value_at(data, path)
    return list(held) if isinstance(held, Mapping) else []


def _count(data: Any, path: FieldPath) -> range:
    held = value_at(data, path)
    return range(len(held)) if isinstance(held, list) else range(0)


def _vehicles(data: Any) -> Section:
    words = {"stuck_vehicle": _("The stuck vehicle"), "recovery_vehicle": _("The one that pulls")}
    present = [name for name in VEHICLES if name == VEHICLES[0] or data.get(name) is not None]
    missing = [name for name in VEHICLES if name not in present]
    return Section(
        "vehicles",
        _("Vehicles and their points"),
        rows=tuple(_vehicle(data, name, words[name]) for name in present),
        adders=tuple(Adder((name,), _("Add a vehicle that pulls")) for name in missing),
    )


def _vehicle(data: Any, name: str, title: str) -> Row:
    points = (name, "points")
    winch = (name, "winch")
    has_winch = value_at(data, winch) is not None
    rows = [_point(data, (*points, point)) for point in _names(data, points)]
    rows += [Row(winch, _("Winch"), controls_at(data, winch))] if has_winch else []
    adders = [Adder(points, _("Add a point"), kind_choices(points), _("Name"), _("Kind"))]
    adders += [] if has_winch else [Adder(winch, _("Add a winch"))]
    can_go = name != VEHICLES[0]
    return Row((name,), title, controls_at(data, (name,)), tuple(rows), tuple(adders), can_go)


def _point(data: Any, path: FieldPath) -> Row:
    return Row(path, _("Point “%(name)s”", name=path[-1]), _item_controls(data, path))


def _item_controls(data: Any, path: FieldPath) -> tuple[Control, ...]:
    kind = value_at(data, (*path, "kind"))
    usual = {key for key, kinds in _USUAL.items() if kind in kinds}
    return controls_at(data, path, usual | (_OF_AN_ANCHOR if path[0] == "anchors" else _ALWAYS))


def _things(data: Any, key: str, title: str, add: str) -> Section:
    rows = tuple(
        Row((key, name), name, _item_controls(data, (key, name))) for name in _names(data, (key,))
    )
    adder = Adder((key,), add, kind_choices((key,)), _("Name"), _("Kind"))
    return Section(key, title, (), rows, (adder, *_more_fields(key, rows)))


def _more_fields(key: str, rows: tuple[Row, ...]) -> Iterator[Adder]:
    """Yield the fields that an item rarely has, to be added to one of them by name."""
    spec = spec_at(ScenarioSpec, {}, (key, ""))
    if key == "gear" and rows and spec:
        more = [name for name in keys_of(spec) if name not in _ALWAYS]
        choices = tuple((name, label_of((key, "", name))) for name in more)
        yield Adder((key, ""), _("Add a field to an item"), choices, _("Item"), _("Field"), "items")


def _vary(data: Any) -> Section:
    names = _names(data, ("vary",))
    rows = tuple(Row(("vary", name), name, controls_at(data, ("vary", name))) for name in names)
    free = [dotted(path) for path in variable_paths(data)]
    choices = tuple((name, name) for name in free if name not in names)
    adders = (
        (Adder(("vary",), _("Let a number vary"), choices, chooses=_("Field")),) if choices else ()
    )
    return Section("vary", _("Each student's own numbers"), (), rows, adders)


def _rigs(data: Any) -> Section:
    rows = tuple(_rig(data, ("rigs", name)) for name in _names(data, ("rigs",)))
    adder = Adder(
        ("rigs",), _("Add a rig"), choices_of(("rigs", "", "method")), _("Name"), _("Method")
    )
    return Section("rigs", _("Rigs"), (), rows, (adder,))


def _rig(data: Any, path: FieldPath) -> Row:
    lines = (*path, "lines")
    rows = tuple(_line(data, (*lines, index)) for index in _count(data, lines))
    adder = Adder(lines, _("Add a line"))
    return Row(path, str(path[-1]), controls_at(data, path), rows, (adder,))


def _line(data: Any, path: FieldPath) -> Row:
    pulleys = (*path, "pulleys")
    rows = tuple(
        Row(
            (*pulleys, index),
            _("Pulley %(n)s", n=index + 1),
            controls_at(data, (*pulleys, index)),
        )
        for index in _count(data, pulleys)
    )
    controls = (*controls_at(data, path), *controls_at(data, (*path, "to")))
    title = _("Line %(n)s", n=int(path[-1]) + 1)
    return Row(path, title, controls, rows, (Adder(pulleys, _("Add a pulley")),))


def _tasks(data: Any) -> Section:
    rows = tuple(_task(data, ("tasks", index)) for index in _count(data, ("tasks",)))
    choices = tuple((ask, str(word)) for ask, word in ASKS.items())
    adder = Adder(("tasks",), _("Add a task"), choices, _("Id"), _("Asks for"))
    return Section("tasks", _("Tasks"), (), rows, (adder,))


def _task(data: Any, path: FieldPath) -> Row:
    asked = str(value_at(data, (*path, "ask")))
    word = ASKS.get(asked)
    controls = controls_at(data, path)
    if word is not None:
        controls = tuple(each for each in controls if each.path[-1] != "ask")
    title = _("%(n)s. asks for %(what)s", n=int(path[-1]) + 1, what=word or asked)
    return Row(path, title, controls)


def _yard(data: Any) -> Section:
    rows = tuple(_yard_task(data, ("yard", index)) for index in _count(data, ("yard",)))
    return Section("yard", _("Yard list"), (), rows, (Adder(("yard",), _("Add a yard task")),))


def _yard_task(data: Any, path: FieldPath) -> Row:
    criteria = (*path, "criteria")
    rows = tuple(
        Row(
            (*criteria, index),
            _("Criterion %(n)s", n=index + 1),
            controls_at(data, (*criteria, index)),
        )
        for index in _count(data, criteria)
    )
    adder = Adder(criteria, _("Add a criterion"))
    title = _("Yard task %(n)s", n=int(path[-1]) + 1)
    return Row(path, title, controls_at(data, path), rows, (adder,))
