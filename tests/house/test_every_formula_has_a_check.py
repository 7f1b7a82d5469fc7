"""Every public formula is held to a publication or to a second method.

A test counts when it is marked `source` or `independent` and calls the formula, by
itself or through a function of its own file.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.house.formulas import FORMULAS, Formula, name_of
from tests.house.tree import TESTS, python_files

MARKS = {"source", "independent"}
HELD = (TESTS / "reference", TESTS / "core")


def _name(node: ast.expr) -> str:
    if isinstance(node, ast.Call):
        return _name(node.func)
    return node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")


def _functions(tree: ast.Module) -> dict[str, ast.FunctionDef]:
    return {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}


def _names_in(node: ast.AST) -> set[str]:
    names = {part.id for part in ast.walk(node) if isinstance(part, ast.Name)}
    return names | {part.attr for part in ast.walk(node) if isinstance(part, ast.Attribute)}


def _reached(start: ast.FunctionDef, functions: dict[str, ast.FunctionDef]) -> set[str]:
    """Return the names in a function's body and in the functions of its file that it uses."""
    reached: set[str] = set()
    waiting = [start]
    while waiting:
        names = _names_in(waiting.pop()) - reached
        reached |= names
        waiting += [functions[name] for name in names & functions.keys()]
    return reached


def _checked(files: list[Path]) -> Iterator[str]:
    for path in files:
        functions = _functions(ast.parse(path.read_text("utf-8")))
        for name, function in functions.items():
            marks = {_name(mark) for mark in function.decorator_list}
            if name.startswith("test_") and marks & MARKS:
                yield from _reached(function, functions)


CHECKED = {name for folder in HELD for name in _checked(python_files(folder))}


@pytest.mark.parametrize("formula", FORMULAS, ids=name_of)
def test_a_formula_is_held_to_a_source_or_a_second_method(formula: Formula) -> None:
    assert formula.__name__ in CHECKED


def test_a_mark_says_where_its_figures_come_from() -> None:
    bare = [
        f"{path.name}: {function.name}"
        for folder in HELD
        for path in python_files(folder)
        for function in _functions(ast.parse(path.read_text("utf-8"))).values()
        for mark in function.decorator_list
        if _name(mark) in MARKS and not (isinstance(mark, ast.Call) and mark.args)
    ]

    assert bare == []
