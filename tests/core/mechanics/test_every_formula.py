"""What holds for every formula: no number that means nothing gets an answer."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.mechanics.ranges import OutOfRange
from tests.core.mechanics.parameters import arguments_of
from tests.house.formulas import FORMULAS, Formula, annotations_of, name_of, units_of

NUMBERS = [
    (formula, name)
    for formula in FORMULAS
    for name, hint in annotations_of(formula).items()
    if name not in {"return", "loads", "pulls", "stiffnesses", "strains"}
    and units_of(hint) != ("",)
]


@pytest.mark.parametrize(
    ("formula", "name"), NUMBERS, ids=[f"{name_of(formula)}-{name}" for formula, name in NUMBERS]
)
@settings(max_examples=5)
@given(data=st.data(), bad=st.sampled_from([math.nan, math.inf, -math.inf]))
def test_a_formula_refuses_a_number_that_is_not_finite(
    formula: Formula, name: str, data: st.DataObject, bad: float
) -> None:
    arguments: dict[str, Any] = data.draw(arguments_of(formula)) | {name: bad}

    with pytest.raises(OutOfRange) as caught:
        formula(**arguments)
    # Where one formula hands on to another, the name is that of the one that refused.
    assert caught.value.value is bad or math.isnan(caught.value.value) == math.isnan(bad)


@pytest.mark.parametrize("formula", FORMULAS, ids=name_of)
@settings(max_examples=25)
@given(data=st.data())
def test_a_formula_answers_every_number_that_a_recovery_meets(
    formula: Formula, data: st.DataObject
) -> None:
    answer = formula(**data.draw(arguments_of(formula)))

    assert not (isinstance(answer, float) and math.isnan(answer))
