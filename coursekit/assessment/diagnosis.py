"""Which slips an answer is consistent with.

Diagnosis is tighter than marking: an answer meets a slip only within the
rounding of what was typed.  One match is worded "consistent with"; a habit is
named only when a slip is seen on two tasks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from coursekit.assessment.replies import QuantityReply, Reading
from coursekit.rigging.steps import SlipValue
from coursekit.scenario.offer import is_number

# An answer typed with many digits may still rest on g = 9.81 (0.034 % high).
TIGHTEST_MATCH = 0.0005
WIDEST_MATCH = 0.005
# Two windows of diagnosis may touch, as shares of the larger value: beyond that they can't meet.
APART = 2.0 * WIDEST_MATCH
HABIT_AFTER = 2


def match_share(reply: QuantityReply) -> float:
    """Return how near a value must come to be the one that was typed, as a share.

    A whole unit of the last digit: a load is rounded up, and not to the nearest.

    >>> match_share(QuantityReply("6.4 kN", 6400.0, rounding=0.05 / 6.4))
    0.005
    >>> match_share(QuantityReply("6400.0 N", 6400.0, rounding=0.05 / 6400.0)) == TIGHTEST_MATCH
    True
    """
    return _bounded(2.0 * reply.rounding)


def _bounded(share: float) -> float:
    return min(WIDEST_MATCH, max(TIGHTEST_MATCH, share))


def meets(value: float, target: object, share: float) -> bool:
    """Whether a typed value is the target within a share of the larger, ends included."""
    if not is_number(target):
        return False
    dust = 1.0 + 1e-9
    return abs(value - target) <= share * max(abs(value), abs(target)) * dust


def units_that_fit(reply: QuantityReply, target: float) -> Iterator[Reading]:
    """Yield the units in which the number as typed would be the target."""
    share = match_share(reply)
    return (reading for reading in reply.readings if meets(reading.value, target, share))


def slips_that_fit(reply: QuantityReply, slips: Iterable[SlipValue]) -> tuple[SlipValue, ...]:
    """Return the slips that an answer is consistent with, in their order, each once.

    `slips` are what they come to: on the truth, then on what the student's own
    earlier answers lead to; the commonest first.  Where rounding to the nearest
    meets none, rounding up or down may.  A typed zero shows no working: whatever
    leaves the one part out, or is cut off at zero, leads there, and so does no work at all.
    """
    if not reply.value:
        return ()
    tried = tuple(slips)
    nearest = _met(reply.value, tried, _bounded(reply.rounding))
    return nearest or _met(reply.value, tried, match_share(reply))


def _met(value: float, slips: Iterable[SlipValue], share: float) -> tuple[SlipValue, ...]:
    found: dict[str, SlipValue] = {}
    for slip in slips:
        if meets(value, slip.value, share):
            found.setdefault(slip.slip.key, slip)
    return tuple(found.values())


def habits(slips: Iterable[Iterable[str]]) -> tuple[str, ...]:
    """Return the slips seen on two tasks or more, given those of each task.

    >>> habits([("cosine-for-sine", "grade-left-out"), ("cosine-for-sine",), ()])
    ('cosine-for-sine',)
    """
    seen = Counter(key for task in slips for key in set(task))
    return tuple(sorted(key for key, times in seen.items() if times >= HABIT_AFTER))
