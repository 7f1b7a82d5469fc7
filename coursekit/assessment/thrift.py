"""The thriftiest way to do a job: what a rig's economy is held against."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from coursekit.rigging.search import safe_rigs
from coursekit.rigging.site import Situation
from coursekit.scenario.model import Scenario

# A search that is cut off here has found nothing that marks may rest on.
MOST_SOLVES = 400
# Variations whose search is remembered: a class at work on several scenarios.
MOST_KEPT = 256


@dataclass(frozen=True)
class Thrift:
    """With how many pieces a rig counts as thrifty; infinite where nothing is known.

    `is_searched` where every safe rig was looked at; else only those that the scenario
    names were compared.
    """

    pieces: float
    is_searched: bool


def thrift(scenario: Scenario, method: str, named: float) -> Thrift:
    """Return what a rig of a method is held against.

    That is the best safe rig of its method that gear and site allow.  What the scenario
    itself names as good is never marked down beside it: `named` is the number of pieces of
    the thriftiest of these, infinite where none is good.
    """
    found = searched_pieces(scenario)
    if found is None or method not in found:
        return Thrift(named, is_searched=found is not None)
    pieces = found[method]
    return Thrift(max(pieces, named) if named < float("inf") else pieces, is_searched=True)


def searched_pieces(scenario: Scenario) -> Mapping[str, int] | None:
    """Return the pieces of the best safe rig of each method, None where the search was cut off."""
    situation = scenario.situation
    content = hashlib.sha256(repr(situation).encode()).digest()
    return _searched(_Situated(content, situation), MOST_SOLVES)


@dataclass(frozen=True)
class _Situated:
    """A situation that is known by its content, numbers of the variation included."""

    content: bytes
    situation: Situation = field(compare=False)


@lru_cache(maxsize=MOST_KEPT)
def _searched(of: _Situated, most: int) -> Mapping[str, int] | None:
    # A cache by content: another worker, or the same after a restart, finds the same.
    search = safe_rigs(of.situation, most=most)
    if not search.is_complete:
        return None
    # The best come first, and the first of a method stays.
    return {found.rig.method: found.pieces for found in reversed(search.rigs)}
