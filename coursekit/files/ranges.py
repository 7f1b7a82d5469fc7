"""The ranges of `vary`: each a grid of values of a field that stands in the document."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import PydanticCustomError

from coursekit.files.quantity_fields import read_as
from coursekit.files.scenario_spec import ScenarioSpec
from coursekit.files.schema import kind_at, type_at
from coursekit.files.yaml_tree import FieldPath, Tree, dotted
from coursekit.problems import Problem
from coursekit.quantities.parse import Quantity, read_number
from coursekit.quantities.units import Kind, si_factor
from coursekit.scenario.model import Range

MOST = 10_000
"""Values of one range."""

# Parts of a scenario whose numbers may be a student's own.
_VARIED = ("stuck_vehicle", "recovery_vehicle", "ground", "anchors", "gear", "rigs")
_ENDS = ("from", "to", "step")


def ranges_of(tree: Tree) -> tuple[tuple[Range, ...], list[Problem]]:
    """Return the ranges of a document by field, and what is wrong with them.

    They stand in the order of their fields' names: that of the keys means nothing.
    """
    ranges, problems = [], []
    fields = {dotted(path): path for path in variable_paths(tree.data)}
    for name, entry in sorted(_entries(tree)):
        try:
            ranges.append(_range(tree, name, entry, fields))
        except _Wrong as wrong:
            problems.append(wrong.problem)
    return tuple(ranges), problems


class _Wrong(Exception):
    """What is wrong with one range."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem)


def _entries(tree: Tree) -> Iterator[tuple[str, Mapping[str, Any]]]:
    vary = tree.data.get("vary") if isinstance(tree.data, Mapping) else None
    for name, entry in vary.items() if isinstance(vary, Mapping) else ():
        # What lacks a key or has another, or is empty, is reported with the whole.
        if isinstance(entry, Mapping) and set(entry) == set(_ENDS) and None not in entry.values():
            yield str(name), entry


def _range(
    tree: Tree, name: str, entry: Mapping[str, Any], fields: Mapping[str, FieldPath]
) -> Range:
    here: FieldPath = ("vary", name)
    if name not in fields:
        near = difflib.get_close_matches(name[:64], fields, n=1)
        asked = f"Did you mean {near[0]}?" if near else "Name one, as in stuck_vehicle.mass"
        raise _wrong(tree, here, f"The file has no quantity {name} that can vary", asked)
    path = fields[name]
    kind = kind_at(ScenarioSpec, tree.data, path) or Kind.RATIO
    lowest, highest, step = (
        _end(tree, here, end, entry[end], path if end != "step" else None, kind) for end in _ENDS
    )
    if not lowest.unit == highest.unit == step.unit:
        raise _wrong(tree, here, "The range mixes units", "Write from, to and step in one unit")
    _check_grid(tree, here, lowest.magnitude, highest.magnitude, step.magnitude)
    return Range(
        field=name,
        lowest=lowest.magnitude,
        highest=highest.magnitude,
        step=step.magnitude,
        unit=read_number(lowest.text, decimal_comma=False).token,
        si_per_unit=si_factor(lowest.unit, kind),
    )


def variable_paths(document: Any) -> Iterator[FieldPath]:
    """Yield the path of each quantity of a document whose numbers may vary."""
    for path, _ in quantity_texts(document):
        # The gear of a joint stands there by its order alone: nothing varies in it.
        if path[0] in _VARIED and "with" not in path:
            yield path


def quantity_texts(document: Any) -> Iterator[tuple[FieldPath, Any]]:
    """Yield each quantity that a document states, with its path."""
    for path, text in _leaves(document, ()):
        if kind_at(ScenarioSpec, document, path) is not None:
            yield path, text


def _leaves(value: Any, path: FieldPath) -> Iterator[tuple[FieldPath, Any]]:
    if isinstance(value, Mapping):
        for key, part in value.items():
            yield from _leaves(part, (*path, str(key)))
    elif isinstance(value, list):
        for index, part in enumerate(value):
            yield from _leaves(part, (*path, index))
    else:
        yield path, value


def _end(
    tree: Tree, here: FieldPath, end: str, value: Any, path: FieldPath | None, kind: Kind
) -> Quantity:
    """Return one end of a range as its field would read it, or the step by its kind."""
    try:
        if path is None:
            return read_as(kind, value)
        reader: TypeAdapter[Quantity] = TypeAdapter(type_at(ScenarioSpec, tree.data, path))
        return reader.validate_python(value)
    except ValidationError as error:
        context = error.errors(include_url=False)[0]["ctx"]
        raise _wrong(tree, (*here, end), context["what"], context["mend"]) from None
    except PydanticCustomError as error:
        context = error.context or {}
        raise _wrong(tree, (*here, end), context["what"], context["mend"]) from None


def _check_grid(
    tree: Tree, here: FieldPath, lowest: Decimal, highest: Decimal, step: Decimal
) -> None:
    if highest < lowest:
        raise _wrong(tree, here, "The range is empty", "Write from below to")
    if step <= 0:
        raise _wrong(tree, (*here, "step"), "The step is not above zero", "Write one above zero")
    steps = (highest - lowest) / step
    if steps + 1 > MOST:
        raise _wrong(
            tree, (*here, "step"), f"The range has more than {MOST} values", "Take a larger step"
        )
    if steps != steps.to_integral_value():
        mend = "Choose a step that leads from the one to the other"
        raise _wrong(tree, (*here, "step"), "The step does not meet the end of the range", mend)


def _wrong(tree: Tree, path: FieldPath, what: str, mend: str) -> _Wrong:
    return _Wrong(Problem(tree.where(path), what, mend))
