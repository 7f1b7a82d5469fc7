"""Rigs as files and documents: what a form builds, what `solve` takes."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from coursekit.files.reading import read_text
from coursekit.files.rig_spec import RigSpec, rig_document
from coursekit.files.wording import empty_values, in_field, in_order, present_parts, problems_of
from coursekit.files.yaml_tree import FieldPath, Tree, dotted, parse_yaml
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
    filled, problems = empty_values(tree)
    problems = [*tree.problems, *problems]
    try:
        rig = RigSpec.model_validate(filled.data).rig()
    except ValidationError as error:
        problems += problems_of(error, filled, RigSpec)
    problems += rig_problems_in(filled, (), situation)
    if problems:
        raise Problems(in_order(problems))
    return rig


def rig_problems_in(tree: Tree, path: FieldPath, situation: Situation) -> list[Problem]:
    """Return what keeps the rig at a path from being solved, but for what can't be read of it.

    What can't be read is left out first, and what is needed and missing is stood in for, so
    that neither hides anything else.
    """
    document = tree.data
    for part in path:
        document = document[part]
    rig, stand_ins = _readable(document)
    found = () if rig is None else rig_problems(situation, rig)
    known = [problem for problem in found if not _is_about(problem, stand_ins)]
    return [in_field(problem, path, tree) for problem in known]


_UNREAD = "?"
_STAND_INS: Mapping[str, Any] = {
    "method": "winch",
    "from": _UNREAD,
    "made_of": [],
    "to": {"at": _UNREAD},
    "at": _UNREAD,
    "by": _UNREAD,
    "item": _UNREAD,
}
_PASSES = 3
"""What can't be read is taken out, what is then missing stood in for, and the rest is read."""


def _readable(document: Any) -> tuple[Rig | None, set[str]]:
    """Return what can be read of a rig, and the fields where something stands in."""
    less, stand_ins = copy.deepcopy(document), set[str]()
    for _ in range(_PASSES):
        try:
            rig = RigSpec.model_validate(less).rig()
        except ValidationError as error:
            for details in error.errors(include_url=False):
                if details["loc"]:
                    _mend(less, details, stand_ins)
        else:
            return (replace(rig, method=_UNREAD) if "method" in stand_ins else rig), stand_ins
    return None, stand_ins


def _mend(data: Any, details: ErrorDetails, stand_ins: set[str]) -> None:
    """Take a part out of a document that can't be read, or put in one that is missing."""
    *parts, last = details["loc"]
    path = tuple(present_parts(tuple(parts), data))
    for part in path:
        data = data[part]
    if details["type"] == "missing" and last in _STAND_INS:
        data[last] = copy.deepcopy(_STAND_INS[str(last)])
        # An item that is missing is missed where its piece stands.
        stand_ins.add(dotted(path if last == "item" else (*path, last)))
    elif isinstance(data, dict):
        data.pop(last, None)
    elif isinstance(data, list) and isinstance(last, int) and last < len(data):
        data[last] = _UNREAD
        stand_ins.add(dotted((*path, last)))


def _is_about(problem: Problem, stand_ins: set[str]) -> bool:
    return any(f"{problem.where.field}.".startswith(f"{field}.") for field in stand_ins)
