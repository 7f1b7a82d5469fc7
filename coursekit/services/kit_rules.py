"""A school's rule for a type of kit: what its numbers may be, and the rule as one text.

The text stands in a table of kit: `classes; use_limit=12; light=1; heavy=3; ...`, with the
names that the form of a type has.  What is left out is a limit that the rule doesn't have,
or the usual number where a rule can't be without one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import isfinite

from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import parse_quantity
from coursekit.quantities.units import Kind
from coursekit.services.checks import Checks
from coursekit.wear.policy import (
    HEAVY_FROM,
    OWN_RULE,
    ClassesPolicy,
    Counting,
    InspectionOnly,
    Policy,
    PowerPolicy,
    default_policy,
)

CLASSES, POWER, NONE = "classes", "power", "none"
RULES = (CLASSES, POWER, NONE)
# Each number of a rule with the least and the most that it may be, and whether it is whole.
BOUNDS: Mapping[str, tuple[float, float, bool]] = {
    "use_limit": (1, 10_000, True),
    "light": (0.01, 1_000, False),
    "heavy": (0.01, 1_000, False),
    "heavy_from": (1, 100, True),
    "reference": (1, 1e9, False),
    "exponent": (1, 20, False),
    "life": (1, 1e9, False),
    "safety": (1, 1_000, False),
    "years_from_first_use": (1, 50, True),
    "years_from_made": (1, 50, True),
    "months_between_inspections": (1, 60, True),
    "rest_minutes": (0, 1_440, True),
}
RULE_FIELDS = tuple(BOUNDS)
_WHOLE_PERCENT = 1e-9
_LOOK_OVER = "look_over"


def rule_name(counting: Counting) -> str:
    """Return the name of the way that a rule counts.

    >>> rule_name(InspectionOnly())
    'none'
    """
    if isinstance(counting, ClassesPolicy):
        return CLASSES
    return POWER if isinstance(counting, PowerPolicy) else NONE


def rule_numbers(policy: Policy) -> dict[str, float]:
    """Return the numbers of a rule by name, a share in percent and a load in newton.

    >>> rule_numbers(default_policy("winch-line"))["years_from_made"]
    5
    """
    counting = policy.counting
    found: dict[str, float | None] = {"heavy_from": _percent(counting.heavy_from)}
    if isinstance(counting, ClassesPolicy):
        found |= {"use_limit": counting.limit, "light": counting.light, "heavy": counting.heavy}
    elif isinstance(counting, PowerPolicy):
        found |= {
            "reference": counting.reference_load,
            "exponent": counting.exponent,
            "life": counting.life,
            "safety": counting.safety,
        }
    found |= {
        "years_from_first_use": policy.years_from_first_use,
        "years_from_made": policy.years_from_made,
        "months_between_inspections": policy.months_between_inspections,
        "rest_minutes": policy.rest_minutes,
    }
    return {name: number for name, number in found.items() if number is not None}


def check_rule(checks: Checks, policy: Policy) -> None:
    """Note what can't be about the numbers of a rule, each beside its field."""
    numbers = rule_numbers(policy)
    for name, number in numbers.items():
        least, most, is_whole = BOUNDS[name]
        if not least <= number <= most or (is_whole and number != int(number)):
            a_number = "a whole number" if is_whole else "a number"
            checks.add(name, f"{number:g} can't be", f"Give {a_number} from {least:g} to {most:g}")
    counting = policy.counting
    if isinstance(counting, ClassesPolicy) and counting.light > counting.heavy:
        checks.add("heavy", "It counts less than a light pull", "Let a heavy pull count more")
    if isinstance(counting, PowerPolicy) and counting.life < counting.safety:
        checks.add("life", "Not one pull would be left of it", "Give more pulls or less safety")


def as_own(policy: Policy, kind: str) -> Policy:
    """Return a rule with where it comes from: the usual one of its kind, or the school."""
    usual = default_policy(kind)
    is_usual = replace(policy, source=usual.source) == usual
    return usual if is_usual else replace(policy, source=OWN_RULE)


def rule_text(policy: Policy) -> str:
    """Return a rule as one text.

    >>> rule_text(default_policy("soft-shackle"))
    'classes; heavy_from=25; use_limit=60; light=1; heavy=3; years_from_made=3; \
months_between_inspections=6'
    """
    numbers = rule_numbers(policy)
    parts = [rule_name(policy.counting)]
    parts += [f"{name}={_written(name, number)}" for name, number in numbers.items() if number]
    return "; ".join([*parts, f"{_LOOK_OVER}=yes"] if policy.look_over_each_day else parts)


def read_rule(checks: Checks, field: str, text: str, kind: str) -> Policy | None:
    """Return the rule of a text, None where it is empty; what is wrong is noted at a field."""
    name, *parts = [part.strip() for part in text.split(";") if part.strip()] or [""]
    if not name:
        return None
    checks.choice(field, name.casefold(), RULES)
    numbers, looked_over = dict[str, float](), False
    for part in parts:
        key, _, value = (half.strip() for half in part.partition("="))
        if key == _LOOK_OVER and value in ("yes", "no"):
            looked_over = value == "yes"
        elif (number := _number(key, value)) is not None:
            numbers[key] = number
        else:
            mend = f"Write for example {rule_text(default_policy('soft-shackle'))}"
            checks.add(field, f"{part[:40]!r} can't be read", mend)
    counting = counting_of(checks, field, name.casefold(), numbers)
    if counting is None:
        return None
    return as_own(policy_of_numbers(counting, numbers, look_over=looked_over), kind)


def policy_of_numbers(
    counting: Counting, numbers: Mapping[str, float], *, look_over: bool
) -> Policy:
    """Return a rule from the way that it counts and its numbers by name."""
    whole = {name: int(number) for name, number in numbers.items() if BOUNDS[name][2]}
    return Policy(
        counting,
        years_from_made=whole.get("years_from_made"),
        years_from_first_use=whole.get("years_from_first_use"),
        months_between_inspections=whole.get("months_between_inspections"),
        look_over_each_day=look_over,
        rest_minutes=whole.get("rest_minutes", 0),
    )


def counting_of(
    checks: Checks, field: str, name: str, numbers: Mapping[str, float]
) -> Counting | None:
    """Return the way that a rule counts, None where a number that it needs is missing.

    What is missing is noted beside its own name, or at `field` where one is given.
    """
    heavy_from = numbers.get("heavy_from", _percent(HEAVY_FROM)) / 100
    needed = {CLASSES: ("use_limit",), POWER: ("reference", "exponent", "life", "safety")}
    missing = [each for each in needed.get(name, ()) if each not in numbers]
    for each in missing:
        checks.add(field or each, f"{each} is missing" if field else "It is empty", "Fill it in")
    if missing or name not in RULES:
        return None
    if name == NONE:
        return InspectionOnly(heavy_from)
    if name == CLASSES:
        weights = {each: numbers[each] for each in ("light", "heavy") if each in numbers}
        return ClassesPolicy(numbers["use_limit"], heavy_from, **weights)
    return PowerPolicy(
        numbers["reference"], numbers["exponent"], numbers["life"], numbers["safety"], heavy_from
    )


def number_text(number: float) -> str:
    """Return a number as it is typed, to its last digit.

    >>> number_text(22.0), number_text(0.1 + 0.2)
    ('22', '0.30000000000000004')
    """
    return f"{number:g}" if float(f"{number:g}") == number else repr(number)


def load_text(newtons: float) -> str:
    """Return a load as it is typed, to its last digit.

    >>> load_text(39_000.0), load_text(4448.2216152605)
    ('39 kN', '4448.2216152605 N')
    """
    kilo = f"{newtons / 1000:g}"
    return f"{kilo} kN" if float(kilo) * 1000 == newtons else f"{newtons!r} N"


def _number(name: str, text: str) -> float | None:
    """Return the number of a name, None where there is no such name or number."""
    if name not in BOUNDS:
        return None
    try:
        is_load = name == "reference"
        number = parse_quantity(text, Kind.FORCE).value if is_load else float(text.rstrip(" %"))
    except (QuantityError, ValueError):
        return None
    is_whole = BOUNDS[name][2]
    return number if isfinite(number) and (not is_whole or number == int(number)) else None


def _written(name: str, number: float) -> str:
    return load_text(number) if name == "reference" else number_text(number)


def _percent(share: float) -> float:
    """Return a share in percent, whole where floats have left a hair of it."""
    percent = share * 100
    return float(round(percent)) if abs(percent - round(percent)) < _WHOLE_PERCENT else percent
