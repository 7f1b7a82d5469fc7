"""One rig by both methods of reckoning: what each gives, where they part, and why.

The vectors are taken as the truth; the field rule is what is reckoned on the spot.
Where one reads lower for a load, or higher for a capacity, it is off the safe side.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from coursekit.problems import Amount, Message, Problems
from coursekit.rigging.chains.joints import place_key
from coursekit.rigging.findings import Finding
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import FIELD_RULE, VECTOR, Situation
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.steps import Step

# Values that differ by less are the same, but for the dust of floats.
SAME = 1e-9
EXACT_AT = math.radians(30.0)

NOT_FOR_THIS_SLOPE = "The field rule holds for slopes up to 45 deg; this one is {slope}."
SIXTIETH_LOW = (
    "The field rule takes a sixtieth of the degrees, {rule}, for the sine, {sine}: below 30 deg "
    "that is too little, by 4.5 % at most."
)
SIXTIETH_HIGH = (
    "The field rule takes a sixtieth of the degrees, {rule}, for the sine, {sine}: above 30 deg "
    "that is too much, by 6.1 % at most."
)
FULL_WEIGHT = (
    "The field rule presses the whole weight on the ground; on the slope only its share {share} "
    "does."
)
PARTS_COUNTED = (
    "The field rule counts {parts} line parts as if each pulled straight along the exit; by "
    "vectors only the share of each along the exit counts."
)
TEN_PER_CENT = (
    "The field rule adds 10 % of the load for each pulley; by vectors each keeps its own "
    "efficiency, here {efficiencies}."
)
SAME_TENSION = (
    "The field rule has counted friction in the pull and leaves every part of the line the same "
    "tension; by vectors the tension falls at each pulley."
)
LOAD_VERDICTS = {
    "vector": "The vectors read lower; the field rule stays on the safe side.",
    "field-rule": "The field rule reads lower: here it is not on the safe side.",
}
CAPACITY_VERDICTS = {
    "vector": "The vectors read higher; the field rule stays on the safe side.",
    "field-rule": "The field rule reads higher: here it is not on the safe side.",
}
FOLLOWS = "It follows from: {names}."


@dataclass(frozen=True)
class Compared:
    """One quantity by both methods, with the reasons where they differ."""

    step: Step
    by_vector: Any
    by_field_rule: Any
    reasons: tuple[Message, ...]

    @property
    def differs(self) -> bool:
        """Whether the methods give different values."""
        return _differs(self.by_vector, self.by_field_rule)

    @property
    def difference(self) -> float | None:
        """How far the field rule is off the vectors, as a share; None where that says nothing."""
        one, other = self.by_vector, self.by_field_rule
        if not _is_number(one) or not _is_number(other) or one == 0.0:
            return None
        return float((other - one) / abs(one))

    @property
    def lower(self) -> str | None:
        """The method that gives the lower number, None where both agree."""
        if not self.differs or not _is_number(self.by_vector) or not _is_number(self.by_field_rule):
            return None
        return VECTOR if self.by_vector < self.by_field_rule else FIELD_RULE

    @property
    def off_safe_side(self) -> str | None:
        """The method that lets a load look smaller, or a capacity larger, than the other does."""
        if self.lower is None or self.step.rounds == "nearest":
            return None
        if self.step.rounds == "up":
            return self.lower
        return FIELD_RULE if self.lower == VECTOR else VECTOR

    @property
    def verdict(self) -> Message | None:
        """Which method reads lower or higher, and what that means; None where it means nothing."""
        if self.off_safe_side is None:
            return None
        said = LOAD_VERDICTS if self.step.rounds == "up" else CAPACITY_VERDICTS
        return Message(said[self.off_safe_side])


@dataclass(frozen=True)
class OnlyOne:
    """A finding that only one of the methods leads to."""

    method: str
    finding: Finding


@dataclass(frozen=True)
class BothMethods:
    """A rig by both methods; `refused` says why the field rule does not reach it."""

    vector: Solution
    field_rule: Solution | None
    compared: tuple[Compared, ...]
    only_one: tuple[OnlyOne, ...]
    refused: Message | None = None

    @property
    def differing(self) -> tuple[Compared, ...]:
        """The quantities that the methods disagree on."""
        return tuple(each for each in self.compared if each.differs)

    @property
    def agreeing(self) -> tuple[Compared, ...]:
        """The quantities that come out the same by both."""
        return tuple(each for each in self.compared if not each.differs)


def by_both(situation: Situation, rig: Rig) -> BothMethods:
    """Solve a rig by both methods and hold them side by side.

    Raises
    ------
    Problems
        If the rig can't be solved.

    Source: the steps carry theirs.  Limits: the field rule ends at slopes of 45 deg.
    """
    vector = solve(replace(situation, method=VECTOR), rig)
    try:
        field_rule = solve(replace(situation, method=FIELD_RULE), rig)
    except Problems:
        slope = Amount(situation.ground.slope, "rad", "nearest")
        return BothMethods(vector, None, (), (), Message(NOT_FOR_THIS_SLOPE, {"slope": slope}))
    compared = tuple(_compared(vector, field_rule, key) for key in _keys(vector))
    return BothMethods(vector, field_rule, compared, tuple(_only_one(vector, field_rule)))


def _keys(solution: Solution) -> Iterator[str]:
    """Yield the quantities of the whole rig, then the load of each place."""
    yield from (key for key in solution.quantities if key in solution.chain)
    yield from (place_key(at) for at in solution.layout.places)


def _compared(vector: Solution, field_rule: Solution, key: str) -> Compared:
    one, other = vector.values[key], field_rule.values[key]
    reasons = tuple(_reasons(vector, field_rule, key)) if _differs(one, other) else ()
    return Compared(vector.chain.step(key), one, other, reasons)


def _only_one(vector: Solution, field_rule: Solution) -> Iterator[OnlyOne]:
    for method, mine, others in (
        (VECTOR, vector.findings, field_rule.findings),
        (FIELD_RULE, field_rule.findings, vector.findings),
    ):
        known = {(found.rule, found.at, found.item) for found in others}
        for found in mine:
            if (found.rule, found.at, found.item) not in known:
                yield OnlyOne(method, found)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _differs(one: Any, other: Any) -> bool:
    if _is_number(one) and _is_number(other):
        return not math.isclose(one, other, rel_tol=SAME, abs_tol=SAME)
    return bool(one != other)


def _reasons(vector: Solution, field_rule: Solution, key: str) -> Iterator[Message]:
    own = _at_place if key.startswith("place.") else _OWN_REASONS.get(key)
    if own is not None:
        yield from own(vector, field_rule, key)
    differing = [
        vector.chain.step(need).title
        for need in field_rule.chain.step(key).needs
        if need in vector.chain and _differs(vector.values[need], field_rule.values[need])
    ]
    if differing:
        yield Message(FOLLOWS, {"names": _listed(differing)})


def _listed(titles: list[Message]) -> Message:
    """Return several texts as one, each still to be translated."""
    names = {f"n{place}": title for place, title in enumerate(titles)}
    return Message(", ".join(f"{{{name}}}" for name in names), names)


def _sixtieth(vector: Solution, _field_rule: Solution, _key: str) -> Iterator[Message]:
    slope = vector.values["slope"]
    told = {
        "rule": Amount(math.degrees(slope) / 60.0, "-", "nearest"),
        "sine": Amount(math.sin(slope), "-", "nearest"),
    }
    yield Message(SIXTIETH_LOW if slope < EXACT_AT else SIXTIETH_HIGH, told)


def _full_weight(vector: Solution, _field_rule: Solution, _key: str) -> Iterator[Message]:
    share = Amount(math.cos(vector.values["slope"]), "-", "nearest")
    yield Message(FULL_WEIGHT, {"share": share})


def _parts_counted(vector: Solution, field_rule: Solution, _key: str) -> Iterator[Message]:
    ideal = "advantage.ideal"
    if _differs(vector.values[ideal], field_rule.values[ideal]):
        yield Message(PARTS_COUNTED, {"parts": f"{field_rule.values[ideal]:.0f}"})


def _advantage(vector: Solution, field_rule: Solution, key: str) -> Iterator[Message]:
    plan = vector.layout.pull_line.plan
    if plan.line.pulleys:
        own = ", ".join(f"{after / before:.3g}" for before, after in pairwise(plan.tensions))
        yield Message(TEN_PER_CENT, {"efficiencies": own})
    yield from _parts_counted(vector, field_rule, key)


def _at_place(vector: Solution, _field_rule: Solution, key: str) -> Iterator[Message]:
    here = [meeting for meeting in vector.layout.meetings if place_key(meeting.at) == key]
    shares = [
        share
        for meeting in here
        for share in meeting.loaded.plan.tensions[max(0, meeting.station - 1) : meeting.station + 1]
    ]
    if any(share != 1.0 for share in shares):
        yield Message(SAME_TENSION)


_Why = Callable[[Solution, Solution, str], Iterator[Message]]
_OWN_REASONS: Mapping[str, _Why] = {
    "resistance.grade": _sixtieth,
    "tow.own_grade": _sixtieth,
    "resistance.rolling": _full_weight,
    "tow.own_rolling": _full_weight,
    "advantage.ideal": _parts_counted,
    "advantage.actual": _advantage,
}
