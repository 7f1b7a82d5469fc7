"""A document with any value in any place is a scenario or problems, never an error."""

import copy
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.files.scenario_file import canonical_document, scenario_from_document
from tests.shell.files.ford import FORD, problems_raised

DOCUMENT = canonical_document(FORD)
Path = tuple[str | int, ...]


def _paths(value: Any, path: Path = ()) -> list[Path]:
    parts: list[tuple[str | int, Any]] = []
    if isinstance(value, dict):
        parts = list(value.items())
    elif isinstance(value, list):
        parts = list(enumerate(value))
    here = [path] if path else []
    return here + [inner for key, part in parts for inner in _paths(part, (*path, key))]


def _replaced(path: Path, value: Any, key: str | None) -> dict[str, Any]:
    """Return the document with a value replaced, or where a key is given with it renamed."""
    document = copy.deepcopy(DOCUMENT)
    holder: Any = document
    for part in path[:-1]:
        holder = holder[part]
    if key is None or isinstance(holder, list):
        holder[path[-1]] = value
    else:
        holder[key] = holder.pop(path[-1])
    return document


WORDS = st.sampled_from(
    [
        "winch",
        "own",
        "given",
        "oak",
        "rig",
        "3 kN",
        "5 %",
        "1e9 t",
        "stuck_vehicle.rear",
        "",
        "0",
        "-1",
    ]
)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5) | WORDS,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(WORDS | st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(st.sampled_from(_paths(DOCUMENT)), VALUES, st.none() | WORDS | st.text(max_size=5))
@settings(max_examples=150)
def test_any_value_or_key_in_any_place_is_a_scenario_or_problems(
    path: Path, value: Any, key: str | None
) -> None:
    document = _replaced(path, value, key)

    found = problems_raised(lambda: scenario_from_document(document, "stored"))
    assert all(str(problem).startswith("stored:1: ") for problem in found)


@given(st.sampled_from(_paths(DOCUMENT)), st.text(max_size=20))
@settings(max_examples=60)
def test_any_text_set_in_any_field_is_a_scenario_or_problems(path: Path, text: str) -> None:
    field = ".".join(str(part) for part in path)

    found = problems_raised(lambda: scenario_from_document(DOCUMENT, "stored", {field: text}))
    assert all(problem.what and problem.mend for problem in found)
