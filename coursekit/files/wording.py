"""The problems of a document, worded from what its validation found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from coursekit.files.complaint import OURS, advice
from coursekit.files.reading import WHOLE_FILE
from coursekit.files.schema import field_at, keys_of, spec_at
from coursekit.files.spec import Spec
from coursekit.files.yaml_tree import FieldPath, Tree
from coursekit.problems import Problem

MOST = 200
"""Problems of one file that are listed; more of them hide each other."""

_SHAPES = {
    "dict_type": ("A mapping is needed here", "Write key: value, one a line"),
    "model_type": ("A mapping is needed here", "Write key: value, one a line"),
    "model_attributes_type": ("A mapping is needed here", "Write key: value, one a line"),
    "tuple_type": ("A list is needed here", "Write [one, another], or one after each dash"),
    "too_long": ("The list is too long", "Take out what is not needed"),
}
_OTHERWISE = ("It can't be read", "Write it by the format")


def problems_of(error: ValidationError, tree: Tree, root: type[Spec]) -> list[Problem]:
    """Return the problems of a document, in the order of its lines."""
    details = error.errors(include_url=False)[: MOST + 1]
    return in_order([_problem(one, tree, root) for one in details])


def in_order(problems: list[Problem]) -> list[Problem]:
    """Return problems by line, of several on one field and line the first alone."""
    first: dict[tuple[str, int | None], Problem] = {}
    for problem in problems:
        first.setdefault((problem.where.field, problem.where.line), problem)
    ordered = sorted(first.values(), key=lambda problem: problem.where.line or 0)
    if len(ordered) <= MOST:
        return ordered
    end = ordered[MOST - 1].where
    more = Problem(
        replace(end, field=WHOLE_FILE), f"There are more than {MOST} problems", "Mend these first"
    )
    return [*ordered[:MOST], more]


def empty_values(tree: Tree) -> tuple[Tree, list[Problem]]:
    """Return the document without its empty values, and each of those as a problem."""
    problems: list[Problem] = []

    def filled(value: Any, path: FieldPath) -> Any:
        if isinstance(value, Mapping):
            problems.extend(
                Problem(
                    tree.where((*path, key)),
                    "It is empty",
                    "Write its value, or take the key out",
                )
                for key, part in value.items()
                if part is None
            )
            return {
                key: filled(part, (*path, key)) for key, part in value.items() if part is not None
            }
        if isinstance(value, list):
            return [filled(part, (*path, index)) for index, part in enumerate(value)]
        return value

    return Tree(filled(tree.data, ()), tree.file, tree.lines, tree.problems), problems


def _problem(details: ErrorDetails, tree: Tree, root: type[Spec]) -> Problem:
    path, what, mend = tuple(present_parts(details["loc"], tree.data)), "", ""
    context = details.get("ctx", {})
    if details["type"] == OURS:
        key, what, mend = context["key"], context["what"], context["mend"]
        path = (*path, key) if key and path[-1:] != (key,) else path
    elif details["type"] == "missing":
        path = (*path, details["loc"][-1])
        what, mend = "It is missing", _example(path, tree, root)
    elif details["type"] == "extra_forbidden":
        what, mend = "This key is not known here", _known_keys(path, tree, root)
    else:
        what, mend = _SHAPES.get(details["type"], _OTHERWISE)
    return Problem(tree.where(path), what, mend)


def present_parts(loc: tuple[str | int, ...], data: Any) -> Iterator[str | int]:
    """Yield the parts of a location that stand in the document: validation adds its own."""
    for part in loc:
        is_key = isinstance(data, Mapping) and part in data
        is_index = isinstance(data, list) and isinstance(part, int) and part < len(data)
        if is_key or is_index:
            data = data[part]
            yield part


def _example(path: FieldPath, tree: Tree, root: type[Spec]) -> str:
    info = field_at(root, tree.data, path)
    example = info.examples[0] if info is not None and info.examples else "…"
    return f"Add for example {path[-1]}: {example}"


def _known_keys(path: FieldPath, tree: Tree, root: type[Spec]) -> str:
    spec = spec_at(root, tree.data, path[:-1])
    return advice(str(path[-1]), keys_of(spec) if spec is not None else ())


def in_field(problem: Problem, path: FieldPath, tree: Tree) -> Problem:
    """Return the problem of a part as one of the whole document, at its line."""
    parts = problem.where.field.split(".") if problem.where.field != WHOLE_FILE else []
    inner = tuple(int(part) if part.isdigit() else part for part in parts)
    return Problem(tree.where((*path, *inner)), problem.what, problem.mend)
