"""The safe rigs that the gear of a draft allows, counted as somebody types, and taken over."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.files.rig_spec import rig_document
from coursekit.files.scenario_edit import renamed, with_value
from coursekit.files.scenario_file import read_scenario_text
from coursekit.files.yaml_tree import FieldPath, parse_yaml
from coursekit.problems import Problem, Problems, Where
from coursekit.rigging.rig import Rig
from coursekit.rigging.search import Search, safe_rigs
from coursekit.rigging.search.changes import single_changes
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import GIVEN_RIG
from coursekit.web import words
from coursekit.web.filters import percent
from coursekit.web.prepare.proof_text import NO_GO, ByContent
from coursekit.web.rig_text import rig_text
from coursekit.web.worded import worded

# A keystroke waits for this search: it solves and looks at so many rigs, then says "at least".
MOST_SOLVES = 100
MOST_LAYOUTS = 1_500
SOLVES_OF_A_CHANGE = 30
LISTED = 4


@dataclass(frozen=True)
class FoundLine:
    """One rig that was found; `key` tells it from every other."""

    key: str
    heading: str
    text: tuple[str, ...]


@dataclass(frozen=True)
class Found:
    """What the search found: a sentence, the best rigs, and what does not fit the draft.

    `changes` are single changes of which each would make it safe, where nothing is.
    """

    sentence: str
    doubt: str = ""
    rigs: tuple[FoundLine, ...] = ()
    changes: tuple[str, ...] = ()


def found_in(scenario: Scenario) -> Found:
    """Return the safe rigs of a scenario, the best ones in words."""
    try:
        search = _search(ByContent(scenario.digest, scenario))
    except Problems as problems:
        return Found(str(problems))
    return Found(
        sentence=_sentence(search),
        doubt=_doubt(scenario, search),
        rigs=tuple(
            FoundLine(
                key_of(found.rig),
                _(
                    "%(method)s, %(pieces)s pieces, the weakest link uses %(use)s of its limit",
                    method=words.RIG_METHODS[found.rig.method],
                    pieces=found.pieces,
                    use=percent(found.worst_use),
                ),
                rig_text(scenario, found.rig),
            )
            for found in search.rigs[:LISTED]
        ),
        changes=_changes(scenario, search),
    )


def with_taken(text: str, key: str) -> str:
    """Return a draft's text with a rig that was found as the rig given.

    The one that was given stays under another name.
    """
    scenario = read_scenario_text(text, "draft")
    search = _search(ByContent(scenario.digest, scenario))
    rig = next((found.rig for found in search.rigs if key_of(found.rig) == key), None)
    if rig is None:
        what = "This rig is not among the safe ones any more"
        raise Problems([Problem(Where("rigs.given"), what, "Choose one of those listed now")])
    given: FieldPath = ("rigs", GIVEN_RIG)
    rigs = parse_yaml(text, "draft").data.get("rigs") or {}
    if GIVEN_RIG in rigs:
        text = renamed(text, given, _free(rigs))
    return with_value(text, given, _plain(rig_document(rig)))


def key_of(rig: Rig) -> str:
    """Return a short text that tells a rig from every other."""
    document = json.dumps(rig_document(rig), sort_keys=True)
    return hashlib.sha256(document.encode()).hexdigest()[:16]


@lru_cache(maxsize=32)
def _search(kept: ByContent) -> Search:
    # A cache by content: the same scenario always has the same safe rigs.
    return safe_rigs(kept.scenario.situation, cancelled=_after(MOST_LAYOUTS), most=MOST_SOLVES)


def _after(most: int) -> Callable[[], bool]:
    """Return what is true once it was asked so often: a bound that counts work, not time."""
    asked = iter(range(most))
    return lambda: next(asked, None) is None


def _sentence(search: Search) -> str:
    count = len(search.rigs)
    if search.is_complete:
        return ngettext(
            "%(num)d way to rig it is safe and does the job, whatever rigs are named.",
            "%(num)d ways to rig it are safe and do the job, whatever rigs are named.",
            count,
        )
    return ngettext(
        "At least %(num)d way to rig it is safe: as you type, %(seen)s layouts were looked at.",
        "At least %(num)d ways to rig it are safe: as you type, %(seen)s layouts were looked at.",
        count,
        seen=search.examined,
    )


def _doubt(scenario: Scenario, search: Search) -> str:
    if scenario.expect == NO_GO and search.rigs:
        return _("The scenario says that no safe rig exists, and there is one.")
    if scenario.expect != NO_GO and search.is_complete and not search.rigs:
        return _("The scenario says that a safe rig exists, and the search found none.")
    return ""


def _changes(scenario: Scenario, search: Search) -> tuple[str, ...]:
    """Return what would make it safe, where the scenario says that it is and nothing is found."""
    if scenario.expect == NO_GO or search.rigs or not search.is_complete:
        return ()
    found = single_changes(
        scenario.situation, cancelled=_after(MOST_LAYOUTS), most=SOLVES_OF_A_CHANGE
    )
    return tuple(worded(scenario, change.message) for change in found[:LISTED])


def _free(rigs: Any) -> str:
    names = ("before", *(f"before-{n}" for n in range(2, 1000)))
    return next(name for name in names if name not in rigs)


def _plain(document: dict[str, Any]) -> dict[str, Any]:
    """Return the document of a rig without what counts where it is left out."""
    lines = [
        {key: part for key, part in line.items() if (key, part) != ("role", "pull")}
        for line in document["lines"]
    ]
    return document | {"lines": lines}
