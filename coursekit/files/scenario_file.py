"""Scenario files: every problem at once, or the scenario in SI.

A file, a text and a stored document are read alike.  References are checked
against the names that stand in the document (see `outline`), so a mistake in
one place hides none in another.
"""

from __future__ import annotations

import copy
import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from coursekit.files.outline import Outline, outline_of
from coursekit.files.ranges import quantity_texts, ranges_of
from coursekit.files.reading import read_text
from coursekit.files.rig_file import rig_problems_in
from coursekit.files.scenario_spec import ScenarioSpec
from coursekit.files.wording import empty_values, in_field, in_order, problems_of
from coursekit.files.yaml_tree import Tree, dotted, parse_yaml
from coursekit.problems import Problem, Problems
from coursekit.quantities.voice import is_us
from coursekit.scenario.model import DEFAULT_PASS, Range, Scenario

SUFFIXES = (".yaml", ".yml")
NOT_SET: Mapping[str, str] = {}


def read_scenario(path: Path, set_fields: Mapping[str, str] = NOT_SET) -> Scenario:
    """Return the scenario of a file, or raise everything that is wrong with it.

    `set_fields` are tried in place of what the file says, see `scenario_from_document`.
    """
    return _tried(parse_yaml(read_text(path), str(path)), path.name, set_fields)


def read_scenario_text(text: str, name: str) -> Scenario:
    """Return the scenario of a text; `name` is that of its file, or says where it is from."""
    return _scenario(parse_yaml(text, name), name)


def scenario_from_document(
    document: Mapping[str, Any], name: str, set_fields: Mapping[str, str] = NOT_SET
) -> Scenario:
    """Return the scenario of a document, with some of its fields set to other texts.

    The digest is that of the document as it stands: a scenario with a student's
    numbers, or with a number that somebody tries out, stays the same scenario.
    """
    return _tried(Tree(document, name), name, set_fields)


def placed_in_file(problem: Problem, path: Path) -> Problem:
    """Return a problem of a scenario that was read from a file at its line there."""
    tree = parse_yaml(read_text(path), str(path))
    return in_field(problem, (), tree)


def _tried(tree: Tree, name: str, set_fields: Mapping[str, str]) -> Scenario:
    scenario = _scenario(tree, name)
    if not set_fields:
        return scenario
    tried = _scenario(with_fields(tree, set_fields), name)
    return replace(tried, digest=scenario.digest)


def canonical_document(source: Path | str) -> dict[str, Any]:
    """Return what is stored of a scenario, from its file (a path) or its text."""
    if isinstance(source, Path):
        tree, name = parse_yaml(read_text(source), str(source)), source.name
    else:
        tree, name = parse_yaml(source, "text"), "text"
    return _document(_validated(tree, name)[0])


def digest_of(document: Mapping[str, Any]) -> str:
    """Return the digest of a canonical document: the order of its keys means nothing.

    >>> digest_of({"a": 1, "b": 2}) == digest_of({"b": 2, "a": 1})
    True
    """
    text = json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return f"sha256:{hashlib.sha256(text.encode('ascii')).hexdigest()}"


def with_fields(tree: Tree, fields: Mapping[str, str]) -> Tree:
    """Return a document with other texts in some of its fields, by their dotted names."""
    data, problems = copy.deepcopy(tree.data), []
    for name, text in fields.items():
        *parts, last = name.split(".")
        holder = _holder(data, parts)
        if isinstance(holder, dict):
            holder[last] = text
        elif isinstance(holder, list) and last.isdigit() and int(last) < len(holder):
            holder[int(last)] = text
        else:
            what = "There is no such field to set"
            mend = "Name one by its keys, as in stuck_vehicle.mass"
            problems.append(Problem(tree.where((name,)), what, mend))
    if problems:
        raise Problems(problems)
    return replace(tree, data=data)


def _holder(data: Any, parts: list[str]) -> Any:
    for part in parts:
        if isinstance(data, list):
            data = data[int(part)] if part.isdigit() and int(part) < len(data) else None
        else:
            data = data.get(part) if isinstance(data, dict) else None
    return data


def _scenario(tree: Tree, name: str) -> Scenario:
    spec, ranges = _validated(tree, name)
    document = _document(spec)
    shown = {dotted(path): str(text) for path, text in quantity_texts(document)}
    return Scenario(
        id=spec.id,
        title=spec.title,
        level=spec.level,
        brief=spec.brief,
        situation=replace(spec.situation(), us_units=is_us(shown)),
        tasks=tuple(task.task() for task in spec.tasks),
        digest=digest_of(document),
        expect=spec.expect,
        rigs={name: rig.rig() for name, rig in spec.rigs.items()},
        vary=ranges,
        pass_share=DEFAULT_PASS if spec.pass_mark is None else spec.pass_mark.value,
        names_pass=spec.pass_mark is not None,
        weakest_may_change=spec.weakest_may_change,
        shown=shown,
        yard=tuple(task.task() for task in spec.yard),
    )


def _validated(tree: Tree, name: str) -> tuple[ScenarioSpec, tuple[Range, ...]]:
    stem, _, suffix = name.rpartition(".")
    outline = outline_of(tree.data, stem if f".{suffix}" in SUFFIXES else None)
    filled, empty = empty_values(tree)
    ranges, problems = ranges_of(tree)
    problems += [*tree.problems, *empty]
    spec = None
    try:
        spec = ScenarioSpec.model_validate(filled.data, context=outline)
    except ValidationError as error:
        problems += problems_of(error, filled, ScenarioSpec)
    problems += _cross_problems(filled, outline)
    if problems or spec is None:
        raise Problems(in_order(problems))
    return spec, ranges


def _cross_problems(tree: Tree, outline: Outline) -> Iterator[Problem]:
    document = tree.data if isinstance(tree.data, Mapping) else {}
    tasks, rigs = document.get("tasks"), document.get("rigs")
    if isinstance(tasks, list):
        yield from _repeated_tasks(tree, tasks)
    if isinstance(rigs, Mapping):
        for name in rigs:
            yield from rig_problems_in(tree, ("rigs", name), outline.situation)


def _repeated_tasks(tree: Tree, tasks: list[Any]) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for index, task in enumerate(tasks):
        name = task.get("id") if isinstance(task, Mapping) else None
        if name is not None and first.setdefault(str(name), index) != index:
            where = tree.where(("tasks", index, "id"))
            earlier = tree.where(("tasks", first[str(name)], "id"))
            line = f" on line {earlier.line}" if earlier.line else ""
            yield Problem(where, f"Another task{line} has the id {name}", "Give each its own")


def _document(spec: ScenarioSpec) -> dict[str, Any]:
    return spec.model_dump(mode="json", by_alias=True, exclude_defaults=True)
