"""The step chain: one mechanism for truth, carried forward, slips and working.

A solution is an ordered chain of steps.  Folding the rules gives the truth;
folding them with a student's own earlier answers in place gives what follows
from those; folding a slip's rule gives the number that the slip leads to; and
printing the chain gives the worked solution.  So a formula, its explanation,
its marking and its diagnosis stand in one place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Message

# Rules read floats, flags and None (a quantity that has no meaning for this rig).
Values = Mapping[str, Any]
Rule = Callable[[Values], Any]


# The share of a task's marks that a slip keeps.  One of three marks for a part left
# out follows published mark schemes (a method mark lost with its accuracy marks).
METHOD_SHOWN = 0.5
PART_LEFT_OUT = 1.0 / 3.0
DANGEROUS = 0.0


@dataclass(frozen=True)
class Term:
    """A number that stands in a formula and is no step: a given one, or one of the rig.

    `name` can be translated, with `words` to fill in; `value` may be a rule.
    """

    symbol: str
    name: str
    unit: str
    value: Any = None
    rounds: str = "nearest"
    words: Mapping[str, object] = field(default_factory=dict)

    @property
    def title(self) -> Message:
        """What the number is, to be translated."""
        return Message(self.name, self.words)

    def at(self, values: Values) -> Any:
        """Return the number, worked out where it is a rule."""
        return self.value(values) if callable(self.value) else self.value


# A formula with a place for each number: "{weight} * sin({slope})".  A place names a step,
# given data, or the symbol of one of the step's own terms.
Expression = str | Callable[[Values], str]


@dataclass(frozen=True)
class Slip:
    """A named wrong rule that people really use, beside the right one.

    `share` is the part of the marks that a task still gives for it: none where
    the slip is the dangerous one.  `text` explains it, with `{given}`, `{truth}`
    and the slip's own `words`.
    """

    key: str
    name: str
    rule: Rule
    text: str
    share: float = METHOD_SHOWN
    words: Mapping[str, object] = field(default_factory=dict)

    @property
    def title(self) -> Message:
        """The name of the slip, to be translated."""
        return Message(self.name)


@dataclass(frozen=True)
class Step:
    """One step of a solution: rule, words, source and the slips that bend it.

    `name`, `formula`, `source` and `limits` (how far the formula holds) can be translated,
    the first two with `words` to fill in.  `expression` is the formula that the numbers are put
    into, `terms` those of them that are no steps; it is empty where there is no such formula.
    """

    key: str
    name: str
    symbol: str
    unit: str
    formula: str
    source: str
    rule: Rule
    needs: tuple[str, ...] = ()
    slips: tuple[Slip, ...] = ()
    rounds: str = "up"
    words: Mapping[str, object] = field(default_factory=dict)
    limits: str = ""
    expression: Expression = ""
    terms: tuple[Term, ...] = ()

    def put_in(self, values: Values) -> str:
        """Return the formula that the numbers are put into; empty where there is none."""
        return self.expression(values) if callable(self.expression) else self.expression

    @property
    def title(self) -> Message:
        """The name of the step, to be translated."""
        return Message(self.name, self.words)

    @property
    def origin(self) -> Message:
        """The source of the step, to be translated."""
        return Message(self.source)

    @property
    def working(self) -> Message:
        """The formula of the step, to be translated."""
        return Message(self.formula, self.words)

    def value(self, values: Values) -> Any:
        """Return the step's value; None where a value it needs has no meaning."""
        return _guarded(self.rule, self.needs, values)

    def slipped(self, slip: Slip, values: Values) -> Any:
        """Return what one of its slips gives on the same values; None where impossible."""
        return _possible(slip.rule, self.needs, values)


def _guarded(rule: Rule, needs: tuple[str, ...], values: Values) -> Any:
    if any(values.get(need) is None for need in needs):
        return None
    return rule(values)


def _possible(rule: Rule, needs: tuple[str, ...], values: Values) -> Any:
    try:
        return _guarded(rule, needs, values)
    except OutOfRange:
        return None


@dataclass(frozen=True)
class SlipValue:
    """What one slip of one step comes to, at that step or at a later one."""

    step: Step
    slip: Slip
    value: Any


@dataclass(frozen=True)
class Chain:
    """The given data and the steps of one rig, in an order that can be folded."""

    given: Values
    steps: tuple[Step, ...]
    _by_key: Mapping[str, Step] = field(init=False, repr=False, compare=False)
    _before: dict[str, tuple[Step, ...]] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )
    _after: dict[tuple[str, frozenset[str]], tuple[Step, ...]] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )

    def __post_init__(self) -> None:
        object.__setattr__(self, "_by_key", {step.key: step for step in self.steps})

    def __iter__(self) -> Iterator[Step]:
        return iter(self.steps)

    def __contains__(self, key: str) -> bool:
        return key in self._by_key

    def step(self, key: str) -> Step:
        """Return the step of a key; KeyError where the chain has none."""
        return self._by_key[key]

    def fold(self, own: Values | None = None) -> dict[str, Any]:
        """Return the value of every step, with `own` answers in place of their steps.

        >>> double = Step("b", "b", "b", "N", "2 a", "", lambda v: 2 * v["a"], ("a",))
        >>> chain = Chain({"m": 3.0}, (Step("a", "a", "a", "N", "m", "", lambda v: v["m"]), double))
        >>> chain.fold()["b"], chain.fold({"a": 5.0})["b"]
        (6.0, 10.0)
        """
        own = own or {}
        values: dict[str, Any] = dict(self.given)
        for step in self.steps:
            values[step.key] = own[step.key] if step.key in own else step.value(values)
        return values

    def upstream(self, key: str) -> tuple[Step, ...]:
        """Return the steps that a step rests on, nearest first."""
        found: dict[str, Step] = {}
        waiting = list(self.step(key).needs)
        while waiting:
            need = waiting.pop(0)
            if need in self._by_key and need not in found:
                found[need] = self._by_key[need]
                waiting.extend(found[need].needs)
        return tuple(found.values())

    def value_of(self, key: str, values: Values, own: Values) -> Any:
        """Return one step's value with other values in place of some steps before it."""
        return self.carried(key, values, own)[key]

    def carried(self, key: str, values: Values, own: Values) -> dict[str, Any]:
        """Return folded values with others in place of some steps before one of them.

        Only the steps that lead to `key` and rest on what is changed are folded again, on
        the values at hand.
        """
        changed: dict[str, Any] = {**values, **own}
        for step in self._between(key, frozenset(own)):
            changed[step.key] = step.value(changed)
        return changed

    def _between(self, key: str, changed: frozenset[str]) -> tuple[Step, ...]:
        """Return the steps to a step that rest on changed ones, in the order of solving."""
        at = (key, changed)
        if at not in self._after:
            touched = set(changed)
            found = []
            for step in self.working(key):
                if step.key not in changed and not touched.isdisjoint(step.needs):
                    touched.add(step.key)
                    found.append(step)
            self._after[at] = tuple(found)
        return self._after[at]

    def slips_at(self, key: str, values: Values) -> Iterator[SlipValue]:
        """Yield what each slip comes to at a step: its own, then those before it.

        `values` are folded ones: the truth, or what a student's own answers lead to.
        """
        step = self.step(key)
        for slip in step.slips:
            yield SlipValue(step, slip, step.slipped(slip, values))
        for before in self.upstream(key):
            for slip in before.slips:
                yield SlipValue(before, slip, self._carried_slip(before, slip, key, values))

    def _carried_slip(self, before: Step, slip: Slip, key: str, values: Values) -> Any:
        """Return what a slip of an earlier step leads to; None where that is impossible."""
        slipped = before.slipped(slip, values)
        if slipped is None or slipped == values[before.key]:
            return None
        try:
            return self.value_of(key, values, {before.key: slipped})
        except OutOfRange:
            return None

    def working(self, key: str) -> tuple[Step, ...]:
        """Return the steps that lead to a step, and the step, in the order of solving."""
        if key not in self._before:
            wanted = {step.key for step in self.upstream(key)} | {key}
            self._before[key] = tuple(step for step in self.steps if step.key in wanted)
        return self._before[key]
