"""The elementary functions that formulas use, of a float or of one in many cases.

In each case the function of the standard library is called: numpy's own may differ
in the last digit, and a verdict must not hang on whether a case was worked alone.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import wraps
from typing import Any, ParamSpec, cast

from coursekit.mechanics.many import Many, mapped

_Numbers = ParamSpec("_Numbers")


def _in_each_case(function: Callable[_Numbers, float]) -> Callable[_Numbers, float]:
    plain: Callable[..., float] = function

    @wraps(function)
    def apply(*numbers: Any) -> Any:
        for number in numbers:
            if type(number) is Many:
                return mapped(function, *numbers)
        return plain(*numbers)

    return cast("Callable[_Numbers, float]", apply)


acos = _in_each_case(math.acos)
asin = _in_each_case(math.asin)
atan = _in_each_case(math.atan)
atan2 = _in_each_case(math.atan2)
cos = _in_each_case(math.cos)
degrees = _in_each_case(math.degrees)
hypot = _in_each_case(math.hypot)
sin = _in_each_case(math.sin)
sqrt = _in_each_case(math.sqrt)
tan = _in_each_case(math.tan)


def is_finite(number: Any) -> bool:
    """Whether a number is finite in all cases; where only in some, they part.

    >>> is_finite(1.0), is_finite(math.inf)
    (True, False)
    """
    return bool(abs(number) < math.inf)
