"""One short question after a diagnosis, to tell whether it was right.

An answer that meets a slip is consistent with it, no more.  What tells is how the
same student works the same task with other numbers, chosen so that each way of
working leads somewhere else; where no numbers keep the ways apart, the ways
themselves are laid side by side.  A reply never changes a mark.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from coursekit.assessment.diagnosis import APART, match_share, meets, slips_that_fit
from coursekit.assessment.feedback import Voice
from coursekit.assessment.replies import QuantityReply
from coursekit.problems import Message, Show
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.steps import Chain, SlipValue, Values
from coursekit.scenario.alone import alone
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number
from coursekit.scenario.tasks import QuantityTask, Tolerance
from coursekit.scenario.vary import Unsolvable, vary

RIGHT_WAY = "right-way"
NO_WAY = "no-way"

CONFIRMED = "confirmed"
ANOTHER = "another"
RIGHT_NOW = "right-now"
NEITHER = "neither"

# Beyond this, numbers that part the ways still more tell nothing more.
FAR_APART = 10.0 * APART
# Each draws and proves a variation; a student waits for all of them.
MOST_SEEDS = 8


@dataclass(frozen=True)
class Way:
    """One way of working a task and the value it leads to; no slip is the right way."""

    value: float
    slip: SlipValue | None = None

    @property
    def key(self) -> str:
        """What the way is chosen by."""
        return self.slip.slip.key if self.slip else RIGHT_WAY


@dataclass(frozen=True)
class Fresh:
    """The same task alone, with other numbers; `apart` is the narrowest gap, as a share."""

    scenario: Scenario
    task: QuantityTask
    solution: Solution
    numbers: Mapping[str, str]
    ways: tuple[Way, ...]
    apart: float


@dataclass(frozen=True)
class Choice:
    """The ways side by side, in an order that gives none away."""

    scenario: Scenario
    task: QuantityTask
    solution: Solution
    ways: tuple[Way, ...]


FollowUp = Fresh | Choice


@dataclass(frozen=True)
class Told:
    """What a reply tells of the diagnosis: the slip and its step where it names one."""

    outcome: str
    words: Message
    slip: str | None = None
    step: str | None = None


@dataclass(frozen=True)
class Diagnosed:
    """A task whose answer met slips, with the rig that it was marked against.

    `scenario` is the one that the student worked on, `base` the same before its numbers varied.
    """

    base: Scenario
    scenario: Scenario
    task: QuantityTask
    solution: Solution
    slips: tuple[str, ...]


def follow_up(diagnosed: Diagnosed, seed: int) -> FollowUp | None:
    """Return the question that tells most; None where no slip leads to a number."""
    return fresh(diagnosed, range(seed + 1, seed + 1 + MOST_SEEDS)) or choice(diagnosed, seed)


def fresh(diagnosed: Diagnosed, seeds: Iterable[int]) -> Fresh | None:
    """Return the task with the numbers that part the ways best, None where none part them."""
    best: Fresh | None = None
    own = ways_of(diagnosed.solution, diagnosed.task, diagnosed.slips)
    if not diagnosed.base.vary or _coincide(own):
        return None
    for found in _variations(diagnosed, seeds):
        if best is None or found.apart > best.apart:
            best = found
        if best.apart >= FAR_APART:
            break
    return best if best and best.apart > APART else None


def choice(diagnosed: Diagnosed, seed: int) -> Choice | None:
    """Return the ways with the student's own numbers, None where no slip can be worked."""
    ways = ways_of(diagnosed.solution, diagnosed.task, diagnosed.slips)
    if len(ways) <= 1:
        return None
    shuffled = sorted(ways, key=lambda way: _shuffled(f"{seed}:{diagnosed.task.id}:{way.key}"))
    return Choice(diagnosed.scenario, diagnosed.task, diagnosed.solution, tuple(shuffled))


def ways_of(solution: Solution, task: QuantityTask, slips: Sequence[str]) -> tuple[Way, ...]:
    """Return the right way and those of the named slips that lead to a number."""
    truth = solution.values.get(task.of)
    if task.of not in solution.chain or not is_number(truth):
        return ()
    named = _named(solution.chain, task.of, solution.values)
    found = (named[key] for key in slips if key in named)
    return (Way(truth), *(Way(one.value, one) for one in found))


def gap(ways: Sequence[Way], tolerance: Tolerance) -> float:
    """Return how far the nearest two of some ways lie apart, as a share of the larger value.

    The right way reaches as far as its task's tolerance.
    """
    truth, *slipped = ways
    low, high = tolerance.band(truth.value)
    outside = (max(low - way.value, way.value - high, 0.0) / _size(truth, way) for way in slipped)
    between = (abs(a.value - b.value) / _size(a, b) for a, b in combinations(slipped, 2))
    return min((*outside, *between), default=0.0)


def told_by_number(asked: Fresh, reply: QuantityReply, show: Show) -> Told:
    """Return what the answer to fresh numbers tells."""
    if reply.value is None:
        return _neither()
    share = match_share(reply)
    for way in asked.ways[1:]:
        if way.slip and meets(reply.value, way.value, share):
            return _confirmed(way.slip)
    truth = asked.ways[0].value
    if asked.task.tolerance.accepts(reply.value, truth):
        number = Voice(show, asked.solution.chain.step(asked.task.of)).number(truth)
        words = Message("Right this time: {truth}. So it was a slip of that one answer.", {
            "truth": number,
        })  # fmt: skip
        return Told(RIGHT_NOW, words)
    return _another(asked, reply)


def told_by_choice(asked: Choice, key: str) -> Told:
    """Return what the way that was chosen tells."""
    for way in asked.ways:
        if way.key == key and way.slip:
            return _confirmed(way.slip)
    if key == RIGHT_WAY:
        words = Message("The right way was meant, so the number went wrong somewhere else.")
        return Told(RIGHT_NOW, words)
    return _neither()


def worded_way(asked: Choice, way: Way, show: Show) -> Message:
    """Return a way in words, with the student's own numbers."""
    if way.slip is None:
        step, value = asked.solution.chain.step(asked.task.of), way.value
        name: Message = step.working
    else:
        step, name = way.slip.step, way.slip.slip.title
        value = step.slipped(way.slip.slip, asked.solution.values)
    number = Voice(show, step).number(value)
    values = {"name": name, "step": step.title, "number": number}
    return Message("{name}; {step}: {number}", values)


def _variations(diagnosed: Diagnosed, seeds: Iterable[int]) -> Iterator[Fresh]:
    """Yield the task with the numbers of each seed, where every named slip leads to a number."""
    before = _numbers(diagnosed.scenario, diagnosed.base)
    for seed in seeds:
        try:
            varied = vary(diagnosed.base, seed)
        except Unsolvable:
            return
        scenario, task = alone(varied.scenario, diagnosed.task.id)
        if not isinstance(task, QuantityTask) or task.rig not in scenario.rigs:
            return
        solution = solve(scenario.situation, scenario.rigs[task.rig])
        ways = ways_of(solution, task, diagnosed.slips)
        if len(ways) == 1 + len(diagnosed.slips) and before != scenario.situation:
            apart = gap(ways, task.tolerance)
            yield Fresh(scenario, task, solution, varied.values, ways, apart)


def _coincide(ways: Sequence[Way]) -> bool:
    """Whether two ways come to the very same number: then they are one way at any numbers."""
    return any(abs(a.value - b.value) <= 1e-9 * _size(a, b) for a, b in combinations(ways, 2))


def _numbers(scenario: Scenario, base: Scenario) -> object:
    return None if scenario is base else scenario.situation


def _named(chain: Chain, key: str, values: Values) -> dict[str, SlipValue]:
    """Return each slip that changes a step's number, the nearest step's before others."""
    found: dict[str, SlipValue] = {}
    for one in chain.slips_at(key, values):
        if is_number(one.value):
            found.setdefault(one.slip.key, one)
    return found


def _size(one: Way, other: Way) -> float:
    return max(abs(one.value), abs(other.value), 1e-12)


def _confirmed(found: SlipValue) -> Told:
    words = Message("It was that: {name}.", {"name": found.slip.title})
    return Told(CONFIRMED, words, found.slip.key, found.step.key)


def _another(asked: Fresh, reply: QuantityReply) -> Told:
    solution = asked.solution
    met = slips_that_fit(reply, solution.chain.slips_at(asked.task.of, solution.values))
    if not met:
        return _neither()
    words = Message("It points to something else: {name}.", {"name": met[0].slip.title})
    return Told(ANOTHER, words, met[0].slip.key, met[0].step.key)


def _neither() -> Told:
    return Told(NEITHER, Message("It was something else: talk it over with your instructor."))


def _shuffled(counter: str) -> str:
    return hashlib.sha256(counter.encode()).hexdigest()
