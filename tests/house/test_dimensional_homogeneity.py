"""A formula gives the same answer in every consistent system of units.

Mass, length and time are scaled at random; every argument is scaled by its declared
unit, and so must the result be.  A bare 9.81 in a body cannot pass.
"""

import math
from collections.abc import Mapping
from typing import Any, get_args

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.mechanics.nomenclature import Metre, MetrePerSecond
from tests.core.mechanics.parameters import arguments_of
from tests.house.formulas import FORMULAS, Formula, annotations_of, name_of, units_of

REGISTRY: pint.UnitRegistry[Any] = pint.UnitRegistry(cache_folder=None)
PURE = {"", "-", "count"}

# Powers of two scale without rounding, so a verdict at the very edge stays the same.
scale = st.integers(-3, 3).map(lambda power: 2.0**power)
scales = st.fixed_dictionaries({"[mass]": scale, "[length]": scale, "[time]": scale})


def _factor(unit: str, scales: Mapping[str, float]) -> float:
    if unit in PURE:
        return 1.0
    dimensions = REGISTRY.parse_units(unit).dimensionality
    return math.prod(scales[name] ** int(str(power)) for name, power in dimensions.items())


def _scaled(value: Any, annotation: Any, scales: Mapping[str, float]) -> Any:
    units = units_of(annotation)
    if isinstance(value, tuple) and len(units) > 1:
        parts = zip(value, get_args(annotation), strict=True)
        return tuple(_scaled(part, hint, scales) for part, hint in parts)
    if value is None or isinstance(value, (bool, int, str)):
        return value
    if isinstance(value, (list, tuple)):
        return [_scaled(part, annotation, scales) for part in value]
    return _factor(units[0], scales) * value


def _is_homogeneous(
    formula: Formula, arguments: Mapping[str, Any], scales: Mapping[str, float]
) -> bool:
    hints = annotations_of(formula)
    rescaled = {name: _scaled(value, hints[name], scales) for name, value in arguments.items()}
    return _matches(formula(**rescaled), _scaled(formula(**arguments), hints["return"], scales))


def _matches(actual: Any, expected: Any) -> bool:
    if isinstance(expected, tuple):
        return all(_matches(a, e) for a, e in zip(actual, expected, strict=True))
    if isinstance(expected, np.ndarray):
        return bool(np.allclose(actual, expected, rtol=1e-9, atol=1e-9 * np.max(expected)))
    if isinstance(expected, float):
        return bool(actual == pytest.approx(expected, rel=1e-12, abs=0.0))
    return bool(actual == expected)


@pytest.mark.parametrize("formula", FORMULAS, ids=name_of)
@settings(max_examples=50)
@given(data=st.data(), scales=scales)
def test_a_formula_scales_as_its_units_do(
    formula: Formula, data: st.DataObject, scales: Mapping[str, float]
) -> None:
    assert _is_homogeneous(formula, data.draw(arguments_of(formula)), scales)


def _speed_of_a_fall(height: Metre) -> MetrePerSecond:
    return math.sqrt(2 * 9.81 * height)


@pytest.mark.parametrize("name", ["[length]", "[time]"])
def test_a_constant_hidden_in_a_body_is_found(name: str) -> None:
    scales = {"[mass]": 1.0, "[length]": 1.0, "[time]": 1.0} | {name: 2.0}

    assert not _is_homogeneous(_speed_of_a_fall, {"height": 3.0}, scales)
