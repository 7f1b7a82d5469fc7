"""The rule that an item lives by, in sentences, with where it comes from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.quantities.display import show_load
from coursekit.wear.policy import (
    COMMON_PRACTICE,
    INTERVALS,
    OWN_RULE,
    ClassesPolicy,
    Counting,
    Policy,
    PowerPolicy,
    Published,
    exceeded,
)
from coursekit.web.filters import percent
from coursekit.web.kit_words import core_text


@dataclass(frozen=True)
class PolicyText:
    """The sentences of a rule, and its source.

    `intervals` are those published for examinations, `beyond` are the ones it goes beyond.
    """

    sentences: tuple[str, ...]
    source: str
    intervals: tuple[str, ...]
    beyond: tuple[str, ...]


def policy_text(policy: Policy) -> PolicyText:
    """Return a rule in sentences."""
    return PolicyText(
        tuple(_sentences(policy)),
        _source(policy.source),
        tuple(map(_interval, INTERVALS)),
        tuple(map(_interval, exceeded(policy.months_between_inspections))),
    )


def _interval(published: Published) -> str:
    return _(
        "%(what)s (%(source)s)",
        what=core_text(published.text),
        source=core_text(published.source),
    )


def _source(source: str) -> str:
    words = {COMMON_PRACTICE: _("common practice, no source"), OWN_RULE: _("the school's own rule")}
    return words.get(source, source)


def _sentences(policy: Policy) -> Iterator[str]:
    yield from _counting(policy.counting)
    if policy.years_from_first_use is not None:
        yield ngettext(
            "Retires %(num)d year after first use.",
            "Retires %(num)d years after first use.",
            policy.years_from_first_use,
        )
    if policy.years_from_made is not None:
        yield ngettext(
            "Retires %(num)d year after it was made.",
            "Retires %(num)d years after it was made.",
            policy.years_from_made,
        )
    if policy.months_between_inspections is not None:
        yield ngettext(
            "Thorough examination every month.",
            "Thorough examination every %(num)d months.",
            policy.months_between_inspections,
        )
    if policy.look_over_each_day:
        yield _("Looked over on each day of a class.")
    if policy.rest_minutes:
        yield _("Rests %(n)s minutes between pulls.", n=policy.rest_minutes)


def _counting(counting: Counting) -> Iterator[str]:
    if isinstance(counting, ClassesPolicy):
        yield _(
            "A pull below %(share)s of its limit counts %(light)s, a heavier one %(heavy)s, "
            "an overload its whole life.",
            share=percent(counting.heavy_from),
            light=f"{counting.light:g}",
            heavy=f"{counting.heavy:g}",
        )
        yield _("Retires at a use count of %(limit)s.", limit=f"{counting.limit:g}")
    elif isinstance(counting, PowerPolicy):
        yield _(
            "Each pull counts its load over %(load)s to the power %(power)s, and the sum is held "
            "against %(life)s pulls divided by %(safety)s (damage adds up after Palmgren and "
            "Miner).",
            load=show_load(counting.reference_load),
            power=f"{counting.exponent:g}",
            life=f"{counting.life:g}",
            safety=f"{counting.safety:g}",
        )
    else:
        yield _("No use count: inspection and age decide.")
