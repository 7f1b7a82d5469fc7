"""Proof before a class: a scenario that doesn't hold what it says reaches no student."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from coursekit.problems import Problem
from coursekit.scenario.proof import prove
from coursekit.services.errors import Refused
from coursekit.services.versions import scenario_of

MOST_EXAMINED = 200
"""Variations that opening a class waits for, a stated sample; `check` examines them all."""


def require_proven(documents: Iterable[str]) -> None:
    """Refuse where one of some stored scenarios is not proven, with the first reason against it."""
    for document in documents:
        against = _against(document)
        if against:
            title = scenario_of(document, {}).title
            raise Refused(
                f"{title} is not proven: {against[0].where.field}: {against[0].what}",
                "Change the scenario, or take it out of the class",
            )


@lru_cache(maxsize=64)
def _against(document: str) -> tuple[Problem, ...]:
    # A cache by content: the same scenario always has the same proof.
    return prove(scenario_of(document, {}), most=MOST_EXAMINED).problems
