"""Marking in the yard: from the levels of the criteria to an outcome, and two assessors compared.

Unaided earns all marks of a criterion, with prompting half of them, not shown nothing.
A critical criterion that is not shown makes the outcome unsafe; one that took prompting
is not yet competent: the assessor had to step in.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from coursekit.assessment.agreement import Kappa, cohen_kappa
from coursekit.scenario.yard import Level, YardTask, criteria_of

# Below this many criteria kappa says little: a convention.
FEWEST_CRITERIA = 30
_DUST = 1e-9

Levels = Mapping[str, Level]


@dataclass(frozen=True)
class YardOutcome:
    """What a list comes to; the tuples name criteria."""

    outcome: str
    marks: float
    out_of: float
    not_shown: tuple[str, ...]
    prompted: tuple[str, ...]
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Compared:
    """Two assessors' levels of the same criteria; kappa is weighted by steps, None if undefined.

    `passed_by_one` counts criteria that one saw unaided and the other did not see at all.
    """

    criteria: int
    agreed: int
    passed_by_one: int
    differing: tuple[str, ...]
    kappa: Kappa | None

    @property
    def is_small(self) -> bool:
        """Whether there are too few criteria for kappa to say much."""
        return self.criteria < FEWEST_CRITERIA


def yard_outcome(tasks: Sequence[YardTask], levels: Levels, pass_share: float) -> YardOutcome:
    """Return what the levels of a list come to, by a pass mark of 0 to 1.

    >>> from coursekit.scenario.yard import Criterion
    >>> brief = YardTask("brief", "Brief", (Criterion("stop", "Stop word", critical=True),
    ...                                     Criterion("roles", "Roles")))
    >>> yard_outcome([brief], {"brief.stop": Level.UNAIDED, "brief.roles": Level.PROMPTED}, 0.7)
    YardOutcome(outcome='competent', marks=1.5, out_of=2.0, not_shown=(), prompted=(), missing=())
    """
    asked = tuple(criteria_of(tasks))
    marks = math.fsum(
        criterion.marks * levels[name] / Level.UNAIDED
        for name, criterion in asked
        if name in levels
    )
    out_of = math.fsum(criterion.marks for _name, criterion in asked)
    critical = [name for name, criterion in asked if criterion.critical]
    missing = tuple(name for name, _criterion in asked if name not in levels)
    not_shown = tuple(name for name in critical if levels.get(name) is Level.NOT_SHOWN)
    prompted = tuple(name for name in critical if levels.get(name) is Level.PROMPTED)
    passes = bool(out_of) and marks >= pass_share * out_of - _DUST
    competent = passes and not prompted and not missing
    outcome = "unsafe" if not_shown else "competent" if competent else "not-yet"
    return YardOutcome(outcome, marks, out_of, not_shown, prompted, missing)


def may_agree_on(own: Level, other: Level, *, critical: bool) -> tuple[Level, ...]:
    """Return the levels to which an assessor may agree who saw `own` where another saw `other`.

    Of a critical criterion that one of them did not see shown, nobody talks the other out:
    only who did not see it may raise it, and never above what one of them saw.  Common
    practice of moderation, no source.

    >>> unaided, not_shown = Level.UNAIDED, Level.NOT_SHOWN
    >>> [level.name for level in may_agree_on(unaided, not_shown, critical=True)]
    ['NOT_SHOWN']
    >>> [level.name for level in may_agree_on(not_shown, Level.PROMPTED, critical=True)]
    ['NOT_SHOWN', 'PROMPTED']
    >>> len(may_agree_on(unaided, not_shown, critical=False))
    3
    """
    if not critical:
        return tuple(Level)
    if other is Level.NOT_SHOWN:
        return (Level.NOT_SHOWN,)
    return tuple(level for level in Level if level <= max(own, other))


def compared(pairs: Sequence[tuple[Levels, Levels]]) -> Compared:
    """Return how two assessors agree over the lists that both marked.

    `differing` names criteria, sorted and once each.

    >>> one = {"a.b": Level.UNAIDED, "a.c": Level.NOT_SHOWN}
    >>> compared([(one, {"a.b": Level.UNAIDED, "a.c": Level.UNAIDED})])
    Compared(criteria=2, agreed=1, passed_by_one=1, differing=('a.c',), kappa=Kappa(value=0.0, \
agreed=0.5, by_chance=0.5, error=0.0, null_error=0.0))
    """
    both = [
        (name, first[name], second[name])
        for first, second in pairs
        for name in first
        if name in second
    ]
    table = [[0] * len(Level) for _level in Level]
    for _name, one, other in both:
        table[one][other] += 1
    far = {Level.NOT_SHOWN, Level.UNAIDED}
    return Compared(
        criteria=len(both),
        agreed=sum(1 for _name, one, other in both if one is other),
        passed_by_one=sum(1 for _name, one, other in both if {one, other} == far),
        differing=tuple(sorted({name for name, one, other in both if one is not other})),
        kappa=cohen_kappa(table, "linear") if both else None,
    )
