"""One quantity in many cases at once: an array where a formula expects a float.

Formulas, chains and findings are written for floats.  `Many` reckons like a float,
case by case in numpy, with the very digits that floats give.  Where the code looks
at a number (compares it, counts by it, writes it out) and the cases differ, they
part: `case_by_case` goes on with each side for itself.  So one body of rules serves
one case and ten thousand, and what it finds of a case never depends on the others.
"""

from __future__ import annotations

import itertools
import math
import operator
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final, TypeVar

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Cases = NDArray[np.intp]
Found = TypeVar("Found")

FEW: Final = 8
"""So few cases are worked one by one sooner than together."""


class Apart(Exception):
    """The code looks at a number that is not the same in all cases.

    `sides` numbers, for each case, the side that it falls on.
    """

    def __init__(self, sides: Cases) -> None:
        self.sides = sides
        super().__init__(sides)


def _seen(looks: list[Any]) -> Any:
    """Return what the code sees in every case; Apart where that differs."""
    first = looks[0]
    if all(look == first for look in looks):
        return first
    numbers: dict[Any, int] = {}
    raise Apart(np.array([numbers.setdefault(look, len(numbers)) for look in looks]))


def _holds(mask: NDArray[np.bool_]) -> bool:
    """Return whether something holds, the same in every case; Apart where that differs."""
    if mask.all():
        return True
    if not mask.any():
        return False
    raise Apart(mask.astype(np.intp))


def _bare(number: Any) -> Any:
    return number.values if type(number) is Many else number


def _arithmetic(function: Callable[[Any, Any], Any]) -> tuple[Any, Any]:
    """Return an operator and its reflection."""

    def forward(self: Many, other: Any) -> Many:
        return Many(function(self.values, _bare(other)))

    def reflected(self: Many, other: Any) -> Many:
        return Many(function(other, self.values))

    return forward, reflected


def _comparison(function: Callable[[Any, Any], Any]) -> Any:
    def compare(self: Many, other: Any) -> Any:
        if not isinstance(other, int | float | Many):
            return NotImplemented
        return _holds(function(self.values, _bare(other)))

    return compare


def _divided(above: Any, below: Any) -> Any:
    """Divide as floats do: where there is nothing to divide by, that is an error."""
    if _holds(np.equal(below, 0.0)):
        raise ZeroDivisionError
    return above / below


class Many:
    """One quantity in many cases; stands where the code has a float."""

    __slots__ = ("values",)

    def __init__(self, values: Array) -> None:
        self.values = values

    __add__, __radd__ = _arithmetic(operator.add)
    __sub__, __rsub__ = _arithmetic(operator.sub)
    __mul__, __rmul__ = _arithmetic(operator.mul)
    __truediv__, __rtruediv__ = _arithmetic(_divided)
    __lt__ = _comparison(operator.lt)
    __le__ = _comparison(operator.le)
    __gt__ = _comparison(operator.gt)
    __ge__ = _comparison(operator.ge)
    __eq__ = _comparison(operator.eq)
    __ne__ = _comparison(operator.ne)

    def __neg__(self) -> Many:
        return Many(-self.values)

    def __abs__(self) -> Many:
        return Many(np.abs(self.values))

    def __pow__(self, other: Any) -> Many:
        return mapped(operator.pow, self, other)

    def __mod__(self, other: Any) -> Many:
        return mapped(operator.mod, self, other)

    def __bool__(self) -> bool:
        return _holds(self.values != 0.0)

    def __hash__(self) -> int:
        return hash(float(self))

    def __float__(self) -> float:
        return float(_seen(self.values.tolist()))

    def __int__(self) -> int:
        return int(_seen([int(value) for value in self.values.tolist()]))

    def __ceil__(self) -> int:
        return int(_seen([math.ceil(value) for value in self.values.tolist()]))

    def __format__(self, spec: str) -> str:
        return str(_seen([format(value, spec) for value in self.values.tolist()]))

    def __str__(self) -> str:
        return format(self, "")


def mapped(function: Callable[..., float], *numbers: Any) -> Many:
    """Return a function of floats in each case, digit for digit as floats give it."""
    columns = [
        number.values.tolist() if type(number) is Many else itertools.repeat(number)
        for number in numbers
    ]
    return Many(np.array(list(map(function, *columns)), dtype=np.float64))


def case_by_case(
    evaluate: Callable[[Mapping[str, Any]], Found], fields: Mapping[str, Array]
) -> Iterator[tuple[Cases, Found]]:
    """Yield what a pure function finds, with the cases that it finds that in.

    `fields` holds an array for each name, as many values as there are cases;
    `evaluate` takes a number for each name, a float or a `Many`.  It is called anew
    wherever cases part, so it must do nothing but return.  What it raises is raised.

    >>> masses = {"mass": np.linspace(1000.0, 3000.0, 21)}
    >>> for cases, word in case_by_case(lambda f: "heavy" if f["mass"] > 2600 else "light", masses):
    ...     print(len(cases), word)
    4 heavy
    17 light
    """
    waiting = [np.arange(len(next(iter(fields.values()))), dtype=np.intp)]
    with np.errstate(all="ignore"):
        while waiting:
            cases = waiting.pop()
            try:
                together = evaluate({name: _number(own[cases]) for name, own in fields.items()})
            except Apart as apart:
                waiting += _sides(cases, apart.sides)
            else:
                yield cases, together


def _number(values: Array) -> Any:
    """Return a float where all cases agree, so that one case alone is worked in floats."""
    first = values[0]
    return float(first) if len(values) == 1 or (values == first).all() else Many(values)


def _sides(cases: Cases, sides: Cases) -> list[Cases]:
    if len(cases) <= FEW:
        return [cases[i : i + 1] for i in range(len(cases))]
    order = np.argsort(sides, kind="stable")
    bounds = np.flatnonzero(np.diff(sides[order])) + 1
    return [np.sort(part) for part in np.split(cases[order], bounds)]


def each(number: Any, cases: int) -> Array:
    """Return a quantity as an array of so many cases; NaN where it has no meaning.

    >>> each(2.0, 3), each(None, 1)
    (array([2., 2., 2.]), array([nan]))
    """
    if number is None:
        return np.full(cases, np.nan)
    return number.values if type(number) is Many else np.full(cases, float(number))
