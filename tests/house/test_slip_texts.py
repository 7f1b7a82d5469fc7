"""A usual mistake is explained with the student's own number, wherever it is worded."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import coursekit
from coursekit.rigging import chains

TEXT = 3
"""The place of its text among the arguments of a slip."""

FOLDER = Path(str(chains.__file__)).parent
PACKAGE = Path(str(coursekit.__file__)).parent.parent


def texts_of_slips() -> Iterator[tuple[str, str]]:
    """Yield where each slip is worded, and its text; a name is looked up in its module."""
    for path in sorted(FOLDER.glob("*.py")):
        module = import_module(".".join(path.relative_to(PACKAGE).with_suffix("").parts))
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Slip":
                text = node.args[TEXT]
                yield (
                    f"{path.name}:{node.lineno}",
                    (
                        vars(module)[text.id]
                        if isinstance(text, ast.Name)
                        else ast.literal_eval(text)
                    ),
                )


def test_every_text_of_a_slip_has_the_students_number() -> None:
    texts = list(texts_of_slips())

    assert len(texts) > 100
    assert [where for where, text in texts if "{given}" not in text] == []
