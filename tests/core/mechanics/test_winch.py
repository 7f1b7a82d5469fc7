"""The drum, against line that is wound on it wrap by wrap."""

import math
from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from coursekit.mechanics.ranges import OutOfRange
from coursekit.mechanics.winch import (
    dead_wrap_length,
    layer_of_outermost_wrap,
    layer_pull,
    wrap_length,
)
from tests.core.mechanics.parameters import numbers
from tests.reference.sources import independent

drum = numbers(0.03, 0.6)
rope = numbers(0.004, 0.03)
layer = st.integers(1, 12)
wraps = st.integers(1, 30)


def _wound(drum: float, rope: float, wraps_per_layer: int) -> Iterator[tuple[int, float]]:
    """Yield the layer of each wrap and the line wound on with it, without end."""
    radius, total, layer = (drum + rope) / 2, 0.0, 1
    while True:
        for _ in range(wraps_per_layer):
            total += 2 * math.pi * radius
            yield layer, total
        radius += rope
        layer += 1


def _layer_by_winding(stored: float, drum: float, rope: float, wraps_per_layer: int) -> int:
    return next(layer for layer, total in _wound(drum, rope, wraps_per_layer) if total >= stored)


@independent("line wound on wrap by wrap until the drum holds it")
@given(stored=numbers(0.0, 60.0), drum=drum, rope=rope, wraps=wraps)
def test_the_working_layer_is_the_one_that_winding_reaches(
    stored: float, drum: float, rope: float, wraps: int
) -> None:
    # Half a wrap off the edge of a layer, winding and formula may round apart.
    layer = layer_of_outermost_wrap(stored, drum, rope, wraps)

    assert layer in {
        _layer_by_winding(stored * (1 - 1e-6), drum, rope, wraps),
        _layer_by_winding(stored * (1 + 1e-6), drum, rope, wraps),
    }


@independent("line wound on wrap by wrap until whole layers are full")
@given(drum=drum, rope=rope, wraps=wraps, layers=st.integers(1, 8))
def test_a_layer_that_is_filled_exactly_is_the_working_layer(
    drum: float, rope: float, wraps: int, layers: int
) -> None:
    winding = _wound(drum, rope, wraps)
    full = [next(winding) for _ in range(wraps * layers)][-1][1]

    assert layer_of_outermost_wrap(full, drum, rope, wraps) == layers
    assert layer_of_outermost_wrap(full * (1 + 1e-6), drum, rope, wraps) == layers + 1


@independent("length of a circle through the middle of the rope, by quadrature")
@given(drum=drum, rope=rope, layer=layer)
def test_a_wrap_is_as_long_as_the_middle_of_the_rope_goes_round(
    drum: float, rope: float, layer: int
) -> None:
    radius = drum / 2 + (layer - 0.5) * rope
    round_once, _ = quad(lambda angle: math.hypot(-math.sin(angle), math.cos(angle)), 0, 2 * np.pi)

    assert wrap_length(drum, rope, layer) == pytest.approx(radius * round_once, rel=1e-9)


@independent("line wound on wrap by wrap")
@given(drum=drum, rope=rope, count=st.integers(1, 20))
def test_dead_wraps_take_what_winding_them_on_the_first_layer_takes(
    drum: float, rope: float, count: int
) -> None:
    winding = _wound(drum, rope, count)

    wound = [next(winding) for _ in range(count)][-1][1]
    assert dead_wrap_length(drum, rope, count) == pytest.approx(wound, rel=1e-12)


@given(pull=numbers(1e4, 1e5), drum=drum, rope=rope, layer=layer)
def test_the_torque_of_the_drum_is_the_same_on_every_layer(
    pull: float, drum: float, rope: float, layer: int
) -> None:
    torque = layer_pull(pull, drum, rope, layer) * wrap_length(drum, rope, layer)

    assert torque == pytest.approx(pull * wrap_length(drum, rope, 1), rel=1e-12)
    assert layer_pull(pull, drum, rope, layer + 1) < layer_pull(pull, drum, rope, layer)


@given(less=numbers(-5.0, 60.0), more=numbers(0.0, 20.0), drum=drum, rope=rope, wraps=wraps)
def test_more_line_on_the_drum_never_lowers_the_working_layer(
    less: float, more: float, drum: float, rope: float, wraps: int
) -> None:
    lower = layer_of_outermost_wrap(less, drum, rope, wraps)

    assert layer_of_outermost_wrap(less + more, drum, rope, wraps) >= lower


@pytest.mark.parametrize("stored", [-10.0, 0.0, 1e-12])
def test_an_empty_drum_works_on_its_first_layer(stored: float) -> None:
    assert layer_of_outermost_wrap(stored, 0.064, 0.010, 8) == 1


def test_refuses_a_drum_that_cannot_be() -> None:
    with pytest.raises(OutOfRange, match="drum"):
        wrap_length(0.0, 0.010, 1)
    with pytest.raises(OutOfRange, match="rope"):
        layer_of_outermost_wrap(1.0, 0.064, -0.010, 8)
    with pytest.raises(OutOfRange, match="layer"):
        wrap_length(0.064, 0.010, 0)
    with pytest.raises(OutOfRange, match="first_layer_pull"):
        layer_pull(math.inf, 0.064, 0.010, 1)
    with pytest.raises(OutOfRange, match="stored_length"):
        layer_of_outermost_wrap(math.nan, 0.064, 0.010, 8)
    with pytest.raises(OutOfRange, match="wraps_per_layer"):
        layer_of_outermost_wrap(1.0, 0.064, 0.010, 0)
    with pytest.raises(OutOfRange, match="dead_wraps"):
        dead_wrap_length(0.064, 0.010, -1)
