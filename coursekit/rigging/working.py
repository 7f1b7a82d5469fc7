"""A solved rig as a worked solution: each step in words, in symbols, and with its numbers.

One place for the terminal, the page and the printed sheet.  Numbers stay in SI, as
amounts with the side that they round to; a `Reader` words them for a reader.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

from coursekit.problems import Amount, Message, Show
from coursekit.rigging.given import GIVEN
from coursekit.rigging.solver import Solution
from coursekit.rigging.steps import Chain, Step, Values

NOTHING = "\u2013"
# What sums and cosines of floats leave over is no share and no angle.
DUST, NO_ANGLE = 1e-9, 1e-6
# A formula with both of these is reckoned in SI: in kilonewtons or pounds it would not come out.
MIXED = frozenset({"kg", "N/m"})
SI_FIGURES = 5
PLACE = re.compile(r"\{([^{}]+)\}")
GREEK = {
    "theta": "θ",
    "phi": "φ",
    "phi_1": "φ1",
    "beta": "β",
    "gamma": "\u03b3",
    "eta": "η",
    "mu": "μ",
    "pi": "π",
}
_GREEK = re.compile(rf"\b({'|'.join(GREEK)})\b")
_SQUARE = re.compile(r"(\{n\d+\})\^2")
_SIGNS = ((" * ", " \u00d7 "), ("sqrt(", "\u221a("), ("^2", "\u00b2"), (" - ", " \u2212 "))
ROUNDING = {"up": Message("rounded up"), "down": Message("rounded down")}
YES, NO = Message("yes"), Message("no")

# The parts of a solution by how their keys begin; what is not here stands with the rig.
_PARTS = {
    "ground": Message("What holds the vehicle"),
    "pull": Message("The pull"),
    "line": Message("Line and drum"),
    "kinetic": Message("The kinetic pull"),
    "tow": Message("The tow"),
    "hold": Message("Holding lines"),
    "place": Message("Loads on places"),
    "item": Message("Each item against its limit"),
    "rig": Message("Where people stand"),
}
_BEGINNINGS = {
    "slope": "ground",
    "weight": "ground",
    "resistance": "ground",
    "runaway": "ground",
    "advantage": "pull",
    "pull": "pull",
    "line": "line",
    "winch": "line",
    "pull.available": "line",
    "pull.stall": "line",
    "kinetic": "kinetic",
    "tow": "tow",
    "hold": "hold",
    "place": "place",
    "joint": "place",
    "item": "item",
}


@dataclass(frozen=True)
class Number:
    """A number that a step rests on; `symbol` is empty where only its name says what it is."""

    symbol: str
    title: Message
    amount: object


@dataclass(frozen=True)
class WorkedStep:
    """One step of a solved rig: what it is, its formula, the numbers put in, and its value.

    `put_in` is the formula with the numbers in place, None where no formula can show them.
    """

    step: Step
    put_in: Message | None
    numbers: tuple[Number, ...]
    amount: object


@dataclass(frozen=True)
class WorkedPart:
    """The steps of one part of a solution, in the order of solving."""

    title: Message
    steps: tuple[WorkedStep, ...]


def worked_solution(solution: Solution) -> tuple[WorkedPart, ...]:
    """Return every step of a solved rig that has a value, part by part."""
    steps = [step for step in solution.chain if solution.values[step.key] is not None]
    return tuple(
        WorkedPart(_PARTS[part], tuple(worked_step(solution, step) for step in of_part))
        for part, of_part in groupby(sorted(steps, key=_order), key=_part_of)
    )


def worked_step(solution: Solution, step: Step) -> WorkedStep:
    """Return one step with its numbers."""
    values = solution.values
    numbers = _numbers(solution.chain, step, values)
    return WorkedStep(
        step,
        _put_in(step, values, numbers),
        tuple(numbers.values()),
        amount_of(values[step.key], step.unit, step.rounds),
    )


def amount_of(value: Any, unit: str, rounds: str) -> object:
    """Return a value as a message carries it: an amount, a count, yes or no, or a dash.

    >>> amount_of(3.0, "count", "up"), str(amount_of(9042.2, "N", "up"))
    ('3', '9042.2 N')
    """
    if value is None:
        return NOTHING
    if isinstance(value, bool):
        return YES if value else NO
    if unit in {"-", "count"} and abs(value - round(value)) < DUST:
        return f"{value:.0f}"
    if unit == "rad" and abs(value) < NO_ANGLE:
        return Amount(0.0, unit, rounds)
    return Amount(float(value), "-" if unit == "count" else unit, rounds)


def _order(step: Step) -> int:
    return list(_PARTS).index(_part_of(step))


def _part_of(step: Step) -> str:
    for length in (2, 1):
        beginning = ".".join(step.key.split(".")[:length])
        if beginning in _BEGINNINGS:
            return _BEGINNINGS[beginning]
    return "rig"


def _numbers(chain: Chain, step: Step, values: Values) -> dict[str, Number]:
    """Return the numbers of a step by the name of their place, in the order of its formula."""
    keys = dict.fromkeys(
        (*PLACE.findall(step.put_in(values)), *step.needs, *(t.symbol for t in step.terms))
    )
    return {key: _number(chain, step, key, values) for key in keys}


def _number(chain: Chain, step: Step, key: str, values: Values) -> Number:
    terms = {term.symbol: term for term in step.terms}
    if key in terms:
        term = terms[key]
        return Number(term.symbol, term.title, amount_of(term.at(values), term.unit, term.rounds))
    if key in chain:
        earlier = chain.step(key)
        symbol = "" if {"place", "item"} & set(earlier.words) else earlier.symbol
        amount = amount_of(values[key], earlier.unit, earlier.rounds)
        return Number(symbol, earlier.title, amount)
    given = GIVEN[key]
    return Number(given.symbol, given.title, amount_of(values[key], given.unit, given.rounds))


def _put_in(step: Step, values: Values, numbers: Mapping[str, Number]) -> Message | None:
    expression = step.put_in(values)
    if not expression or values[step.key] is None:
        return None
    if any(numbers[key].amount == NOTHING for key in PLACE.findall(expression)):
        return None
    places = {key: f"n{place}" for place, key in enumerate(numbers)}
    template = PLACE.sub(lambda found: f"{{{places[found[1]]}}}", expression)
    amounts = {places[key]: n.amount for key, n in numbers.items()}
    units = {amount.unit for amount in amounts.values() if isinstance(amount, Amount)}
    written = in_signs(_SQUARE.sub(r"(\1)^2", template))
    if units >= MIXED:
        in_si = {place: _in_si(amount) for place, amount in amounts.items()}
        return Message(f"{written} [SI]", in_si)
    return Message(written, amounts)


def _in_si(amount: object) -> object:
    """Return an amount in SI, the figures that are enough for a check by hand."""
    if not isinstance(amount, Amount):
        return amount
    if amount.value == 0.0:
        return f"0 {amount.unit}"
    whole = len(f"{abs(amount.value):.0f}")
    return f"{amount.value:,.{max(0, SI_FIGURES - whole)}f} {amount.unit}"


def in_signs(formula: str) -> str:
    """Return a formula with Greek letters and signs in place of words.

    >>> in_signs("R_g = W sin(theta)"), in_signs("sqrt(a^2 + b^2)")
    ('R_g = W sin(θ)', '√(a² + b²)')
    """
    for plain, sign in _SIGNS:
        formula = formula.replace(plain, sign)
    return _GREEK.sub(lambda match: GREEK[match[1]], formula)


def _as_it_stands(text: str) -> str:
    return text


@dataclass(frozen=True)
class Reader:
    """How a reader is spoken to: in what units, in what language, with what names for ids."""

    show: Show
    translate: Callable[[str], str] = _as_it_stands
    names: Mapping[str, str] = field(default_factory=dict)

    def say(self, message: Message) -> str:
        """Return a message in words."""
        return message.named(self.names).shown(self.show).text(self.translate)

    def amount(self, amount: object) -> str:
        """Return what `amount_of` gave, in words."""
        return self.say(Message("{amount}", {"amount": amount}))


@dataclass(frozen=True)
class ToldStep:
    """A worked step in words: every part of it a text."""

    key: str
    name: str
    symbol: str
    value: str
    formula: str
    put_in: str
    numbers: tuple[str, ...]
    source: str
    limits: str
    rounding: str


def tell(worked: WorkedStep, reader: Reader) -> ToldStep:
    """Return a worked step in the words of a reader."""
    step = worked.step
    return ToldStep(
        step.key,
        reader.say(step.title),
        in_signs(step.symbol),
        reader.amount(worked.amount),
        formula_text(step, reader),
        "" if worked.put_in is None else worked.put_in.shown(reader.show).text(),
        tuple(_told_numbers(worked, reader)),
        reader.say(step.origin),
        reader.say(Message(step.limits)) if step.limits else "",
        _rounding(worked, reader),
    )


def _rounding(worked: WorkedStep, reader: Reader) -> str:
    amount, rounds = worked.amount, worked.step.rounds
    rounded = isinstance(amount, Amount) and amount.value != 0.0 and rounds in ROUNDING
    return reader.say(ROUNDING[rounds]) if rounded else ""


def formula_text(step: Step, reader: Reader) -> str:
    """Return the formula of a step, its symbol before it."""
    formula = reader.say(step.working)
    is_whole = "=" in formula or ">" in step.symbol
    return in_signs(formula if is_whole else f"{step.symbol} = {formula}")


def _told_numbers(worked: WorkedStep, reader: Reader) -> Iterator[str]:
    for number in worked.numbers:
        if number.amount != NOTHING:
            amount, title = reader.amount(number.amount), reader.say(number.title)
            symbol = f"{in_signs(number.symbol)} = " if number.symbol else ""
            yield f"{symbol}{amount} ({title})"
