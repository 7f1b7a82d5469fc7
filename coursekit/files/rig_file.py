"""Rigs as files and documents: what a form builds, what `solve` takes."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from coursekit.files.reading import read_text
from coursekit.files.rig_spec import RigSpec, rig_document
from coursekit.files.wording import empty_values, in_field, in_order, present_parts, problems_of
from coursekit.files.yaml_tree import FieldPath, Tree, parse_yaml
from coursekit.problems import Problem, Problems, Where
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.soundness import rig_problems

__all__ = ["read_rig", "rig_document", "rig_from_document", "rig_problems_in"]


def read_rig(path: Path, situation: Situation) -> Rig:
    """Return the rig of a file, or raise everything that keeps it from being solved."""
    return _rig(parse_yaml(read_text(path), str(path)), situation)


def rig_from_document(document: Mapping[str, Any], where: Where, situation: Situation) -> Rig:
    """Return the rig of a document; problems are placed under `where`."""
    try:
        return _rig(Tree(document, where.file), situation)
    except Problems as problems:
        raise Problems(_under(problem, where) for problem in problems.items) from None


def _under(problem: Problem, where: Where) -> Problem:
    inner = "" if problem.where.field == "file" else f".{problem.where.field}"
    place = Where(f"{where.field}{inner}", where.line, where.file)
    return Problem(place, problem.what, problem.mend)


def _rig(tree: Tree, situation: Situation) -> Rig:
    problems = [*tree.problems, *rig_problems_in(tree, (), situation)]
    filled, empty = empty_values(tree)
    problems += empty
    try:
        rig = RigSpec.model_validate(filled.data).rig()
    except ValidationError as error:
        problems += problems_of(error, filled, RigSpec)
    if problems:
        raise Problems(in_order(problems))
    return rig


def rig_problems_in(tree: Tree, path: FieldPath, situation: Situation) -> list[Problem]:
    """Return what keeps the rig at a path from being solved, but for what can't be read of it.

    Keys that can't be read are left out first, so that they hide nothing else.
    """
    document = tree.data
    for part in path:
        document = document[part]
    rig = _readable(document)
    found = () if rig is None else rig_problems(situation, rig)
    return [in_field(problem, path, tree) for problem in found]


def _readable(document: Any) -> Rig | None:
    try:
        return RigSpec.model_validate(document).rig()
    except ValidationError as error:
        less = copy.deepcopy(document)
        for details in error.errors(include_url=False):
            _take_out(less, details["loc"])
    try:
        return RigSpec.model_validate(less).rig()
    except ValidationError:
        return None


def _take_out(data: Any, loc: tuple[str | int, ...]) -> None:
    for part in present_parts(loc[:-1], data):
        data = data[part]
    if isinstance(data, dict) and loc:
        data.pop(loc[-1], None)
