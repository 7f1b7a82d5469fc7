"""The search in many cases at once: how many layouts are safe in each.

Layouts are worked one after the other, each by the hunt that `safe_rigs` uses, over
arrays (see `mechanics.many`).  So the count of each case is that of its own search.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coursekit.mechanics.many import Array, Cases, case_by_case
from coursekit.mechanics.ranges import OutOfRange
from coursekit.rigging.cases import Mask, good_cases
from coursekit.rigging.rig import Rig
from coursekit.rigging.search.forces import forces_of
from coursekit.rigging.search.hunt import Hunt
from coursekit.rigging.search.pattern import Pattern
from coursekit.rigging.search.search import patterns
from coursekit.rigging.search.stock import stock_of
from coursekit.rigging.site import Situation
from coursekit.rigging.soundness import situation_problems

# The bound of one search over cases; a kit with more layouts is searched in part, and said so.
MOST_LAYOUTS = 1_000
# Whose rigs are tried on all cases before what is left is hunted through: the first, the
# last, and one between, so that the ends of the ranges are among them.
WITNESSES = (0.0, 0.5, 1.0)

# Puts one number for each field, a float or a `Many`, into a situation.
PlaceIn = Callable[[Mapping[str, Any]], Situation]
# Told how many layouts are done, of how many.
Layouts = Callable[[int, int], None]


@dataclass(frozen=True)
class SafeLayouts:
    """How many layouts were looked at, and how many of them are safe in each case."""

    examined: int
    counts: NDArray[np.intp]
    is_complete: bool


def safe_layouts(
    place: PlaceIn,
    fields: Mapping[str, Array],
    progress: Layouts | None = None,
    most: int = MOST_LAYOUTS,
) -> SafeLayouts:
    """Return how many layouts are safe in each case; none where the case can't be solved.

    `fields` holds, by a name of the caller's own, a number for each case in SI.
    """

    def listed(numbers: Mapping[str, Any]) -> tuple[Pattern, ...]:
        situation = place(numbers)
        if situation_problems(situation):
            return ()
        try:
            found = patterns(situation, stock_of(situation))
            return tuple(itertools.islice(found, most + 1))
        except OutOfRange:
            return ()

    groups = _together(case_by_case(listed, fields))
    counts = np.zeros(len(next(iter(fields.values()))), dtype=np.intp)
    total, done = sum(len(group[:most]) for _, group in groups), 0
    for cases, group in groups:
        own = {name: values[cases] for name, values in fields.items()}
        for pattern in group[:most]:
            counts[cases[_safe_cases(pattern, place, own)]] += 1
            done += 1
            if progress is not None:
                progress(done, total)
    examined = max((len(group[:most]) for _, group in groups), default=0)
    return SafeLayouts(examined, counts, all(len(group) <= most for _, group in groups))


def _together(
    groups: Iterator[tuple[Cases, tuple[Pattern, ...]]],
) -> list[tuple[Cases, tuple[Pattern, ...]]]:
    """Return the cases that have the same layouts, whatever parted them on the way."""
    alike: dict[tuple[Pattern, ...], list[Cases]] = {}
    for cases, group in groups:
        alike.setdefault(group, []).append(cases)
    return [(np.sort(np.concatenate(cases)), group) for group, cases in alike.items()]


def _safe_cases(pattern: Pattern, place: PlaceIn, fields: Mapping[str, Array]) -> Cases:
    """Return the cases in which some gear makes a layout safe.

    The best rig of one case is mostly good in many others: those are settled by it, and
    only what a few such rigs leave open is hunted through.
    """
    safe: list[Cases] = []
    open_cases = np.arange(len(next(iter(fields.values()))), dtype=np.intp)
    for share in WITNESSES:
        if not len(open_cases):
            break
        own = {name: values[open_cases] for name, values in fields.items()}
        good = _good_as_one(pattern, place, own, int(share * (len(open_cases) - 1)))
        safe.append(open_cases[good])
        open_cases = open_cases[~good]
    if len(open_cases):
        own = {name: values[open_cases] for name, values in fields.items()}
        safe += [open_cases[cases] for cases in _hunted(pattern, place, own)]
    return np.concatenate(safe) if safe else open_cases[:0]


def _good_as_one(
    pattern: Pattern, place: PlaceIn, fields: Mapping[str, Array], witness: int
) -> Mask:
    """Return the cases in which the best rig of one of them is good."""
    try:
        situation = place({name: float(values[witness]) for name, values in fields.items()})
        best = Hunt(situation, stock_of(situation)).best_of(pattern)
    except OutOfRange:
        best = None
    if best is None:
        return np.zeros(len(next(iter(fields.values()))), dtype=bool)
    rig = best.rig

    def placed(numbers: Mapping[str, Any]) -> tuple[Situation, Rig]:
        varied = place(numbers)
        forces = forces_of(varied, rig)  # a kinetic pull takes the speed that suits the case
        return varied, rig if forces is None else replace(rig, speed=forces.rig.speed)

    return good_cases(placed, fields)


def _hunted(pattern: Pattern, place: PlaceIn, fields: Mapping[str, Array]) -> list[Cases]:
    """Return the cases in which a hunt of their own finds gear that makes a layout safe."""

    def is_safe(numbers: Mapping[str, Any]) -> bool:
        situation = place(numbers)
        try:
            return Hunt(situation, stock_of(situation)).best_of(pattern) is not None
        except OutOfRange:
            return False

    return [cases for cases, holds in case_by_case(is_safe, fields) if holds]


def has_safe_rig(situation: Situation) -> bool:
    """Whether the gear at hand and the site allow any safe rig; it stops at the first."""
    if situation_problems(situation):
        return False
    hunt = Hunt(situation, stock_of(situation))
    return any(hunt.best_of(pattern) is not None for pattern in patterns(situation, hunt.stock))
