"""Finds the texts of the core for translators: names, formulas, slips, findings, lists.

The core knows no translation.  It passes texts as arguments of a few calls, and the
pages put them through gettext; this finds those texts for `pybabel extract`.
"""

from __future__ import annotations

import ast
from collections.abc import Collection, Iterator, Mapping
from typing import IO, Any

# Which arguments of a call are texts: by place, and by name.
TEXTS: Mapping[str, tuple[tuple[int, str], ...]] = {
    "Criterion": ((1, "text"), (2, "source")),
    "Message": ((0, "template"),),
    "Published": ((1, "text"), (2, "source")),
    "Slip": ((1, "name"), (3, "text")),
    "Step": ((1, "name"), (4, "formula"), (5, "source"), (11, "limits")),
    "Term": ((1, "name"),),
    "finding": ((1, "template"),),
}

Known = Mapping[str, list[str]]
Found = tuple[int, str, str, list[str]]


def extract(
    fileobj: IO[bytes],
    keywords: Collection[str],  # noqa: ARG001 - babel calls it so
    comment_tags: Collection[str],  # noqa: ARG001
    options: Mapping[str, Any],  # noqa: ARG001
) -> Iterator[Found]:
    """Yield each text of a module of the core, as babel asks for it."""
    tree = ast.parse(fileobj.read())
    known = _named_texts(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            for place, name in TEXTS.get(node.func.id, ()):
                for text in _texts(_argument(node, place, name), known):
                    yield node.lineno, "gettext", text, []


def _argument(call: ast.Call, place: int, name: str) -> ast.expr | None:
    for keyword in call.keywords:
        if keyword.arg == name:
            return keyword.value
    return call.args[place] if place < len(call.args) else None


def _named_texts(tree: ast.Module) -> Known:
    """Return the texts that names of the module stand for."""
    known: dict[str, list[str]] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign):
            for target in node.targets:
                for name, value in _pairs(target, node.value):
                    known.setdefault(name, []).extend(_texts(value, known))
    return known


def _pairs(target: ast.expr, value: ast.expr) -> Iterator[tuple[str, ast.expr]]:
    if isinstance(target, ast.Name):
        yield target.id, value
    elif isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
        for part, of in zip(target.elts, value.elts, strict=False):
            yield from _pairs(part, of)


def _texts(node: ast.expr | None, known: Known) -> list[str]:
    """Return the texts that an expression can come to."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return [node.value]
    if isinstance(node, ast.Name):
        return known.get(node.id, [])
    if isinstance(node, ast.Subscript):
        return _texts(node.value, known)
    if isinstance(node, ast.IfExp):
        return _texts(node.body, known) + _texts(node.orelse, known)
    if isinstance(node, ast.Dict):
        return [text for value in node.values for text in _texts(value, known)]
    return []
