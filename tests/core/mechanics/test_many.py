"""A number in many cases reckons as a float does in each, and parts where it is looked at."""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.mechanics import elementary
from coursekit.mechanics.many import FEW, Many, case_by_case, each

# A zero below zero is written otherwise, and is the same number.
NUMBERS = st.lists(st.floats(-1e6, 1e6).map(lambda x: x + 0.0), min_size=2, max_size=40)
Look = Callable[[Mapping[str, Any]], Any]


def worked(look: Look, **fields: list[float]) -> list[Any]:
    """Return what a function finds in each case, all cases worked together."""
    count = len(next(iter(fields.values())))
    found: list[Any] = [None] * count
    for cases, answer in case_by_case(look, {k: np.array(v) for k, v in fields.items()}):
        values = each(answer, len(cases)) if isinstance(answer, float | Many) else [answer] * count
        for case, value in zip(cases, values, strict=False):
            found[case] = value
    return found


def one_by_one(look: Look, **fields: list[float]) -> list[Any]:
    """Return what the same function finds where each case is worked with floats alone."""
    rows = zip(*fields.values(), strict=True)
    return [look(dict(zip(fields, row, strict=True))) for row in rows]


@pytest.mark.independent("the same function on plain floats, one case after the other")
@pytest.mark.parametrize(
    "look",
    [
        lambda v: 2.0 * v["a"] + v["a"] * v["b"] - 1.0,
        lambda v: 1.0 - abs(-v["a"]) / (abs(v["b"]) + 1.0) + v["a"] ** 2,
        lambda v: 3.0 / (v["b"] + 2e6) + (v["a"] % 7.0),
        lambda v: max(0.0, v["a"] + v["b"]),
        lambda v: min(v["a"], v["b"], 3.0),
        lambda v: v["a"] if v["b"] else None,
        lambda v: f"{v['a']:.0f} of {v['b']}" if v["a"] >= 0.0 else "none",
        lambda v: math.ceil(v["a"] / 1e5) + int(v["b"] / 1e5),
        lambda v: v["a"] == v["b"] or v["a"] != 0.0,
        lambda v: str(v["a"]),
        lambda v: len({v["a"], v["b"], 0.0}),
        lambda v: math.sin(v["a"]),
        lambda v: elementary.hypot(v["a"], v["b"], 1.0) + elementary.cos(v["b"]),
        lambda v: elementary.atan2(v["a"], v["b"]) + elementary.sqrt(abs(v["a"])),
    ],
)
@given(st.data())
def test_every_case_is_as_if_it_were_alone(look: Look, data: st.DataObject) -> None:
    a = data.draw(NUMBERS)
    b = data.draw(st.lists(st.sampled_from([0.0, -3.5, 2.25, 9e5]), min_size=len(a)))[: len(a)]

    assert worked(look, a=a, b=b) == one_by_one(look, a=a, b=b)


@pytest.mark.independent("math of the standard library, which numpy's own functions may miss")
@pytest.mark.parametrize("name", ["acos", "atan", "cos", "degrees", "sin", "sqrt", "tan"])
def test_elementary_functions_give_the_very_digits_of_floats(name: str) -> None:
    numbers = np.linspace(0.0, 1.0, 999).tolist()

    found = getattr(elementary, name)(Many(np.array(numbers)))

    assert found.values.tolist() == [getattr(math, name)(number) for number in numbers]


def test_cases_part_only_where_they_differ() -> None:
    runs = []

    def look(v: Mapping[str, Any]) -> str:
        runs.append(v)
        return "heavy" if v["mass"] > 2000.0 else "light"

    masses = np.arange(1000.0, 3000.0)
    found = {word: cases for cases, word in case_by_case(look, {"mass": masses})}

    assert masses[found["heavy"]].min() == 2001.0
    assert masses[found["light"]].max() == 2000.0
    assert len(runs) == 3


def test_a_number_that_all_cases_share_is_a_float() -> None:
    ((cases, same),) = case_by_case(lambda v: v["mass"], {"mass": np.full(50, 2.0)})

    assert len(cases) == 50
    assert type(same) is float


def test_few_cases_that_part_are_worked_alone() -> None:
    numbers = np.arange(float(FEW))

    found = [len(cases) for cases, _ in case_by_case(lambda v: f"{v['n']}", {"n": numbers})]

    assert found == [1] * FEW


def test_nothing_to_divide_by_is_an_error_as_it_is_for_floats() -> None:
    def over(v: Mapping[str, Any]) -> Any:
        try:
            return 1.0 / v["n"]
        except ZeroDivisionError:
            return None

    numbers = [0.0, 2.0, 4.0, 0.0, 5.0, 8.0, 10.0, 16.0, 20.0, 0.0]
    assert worked(over, n=numbers) == one_by_one(over, n=numbers)


def test_what_the_function_raises_is_raised() -> None:
    def refuse(v: Mapping[str, Any]) -> None:
        raise OverflowError(f"{v['n'] > 3.0}")

    with pytest.raises(OverflowError):
        list(case_by_case(refuse, {"n": np.arange(20.0)}))


def test_a_number_in_many_cases_meets_no_word() -> None:
    many = Many(np.arange(3.0))

    assert many != "word"
    with pytest.raises(TypeError):
        operator.lt(many, "word")
