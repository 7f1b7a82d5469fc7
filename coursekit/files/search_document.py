"""What a search for safe rigs found as the JSON of `rigs`, in SI."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from coursekit.files.rig_spec import rig_document
from coursekit.files.solution_document import plain
from coursekit.rigging.search import Change, FoundRig, Search
from coursekit.scenario.model import Scenario


def search_document(
    scenario: Scenario,
    search: Search,
    seed: int | None,
    listed: Sequence[FoundRig],
    changes: Sequence[Change] = (),
) -> dict[str, Any]:
    """Return what a search found as plain data, with the rigs that are to be listed.

    Where no rig is safe, `changes` are those that would each make one so.
    """
    document: dict[str, Any] = {
        "scenario": scenario.id,
        "digest": scenario.digest,
        "seed": seed,
        "examined": search.examined,
        "solves": search.solves,
        "complete": search.is_complete,
        "safe": len(search.rigs),
        "rigs": [found_document(found) for found in listed],
    }
    if not search.rigs:
        document["changes"] = [_change(change) for change in changes]
    return document


def _change(change: Change) -> dict[str, Any]:
    return {
        "kind": change.kind,
        "message": str(change.message),
        "proof": found_document(change.proof),
    }


def found_document(found: FoundRig) -> dict[str, Any]:
    """Return one rig that was found as plain data."""
    weakest = found.solution.weakest
    document = {
        "rig": rig_document(found.rig),
        "kind": found.kind,
        "pull": plain(found.pull),
        "load": plain(found.load),
        "worst_use": plain(found.worst_use),
        "weakest": None if weakest is None else weakest.item,
        "holds_at_stall": found.holds_at_stall,
        "parts": found.parts,
        "pieces": found.pieces,
        "line_left": plain(found.line_left),
        "assignments": found.assignments,
    }
    if found.speeds is not None:
        lowest, highest = found.speeds
        document["speeds"] = {"lowest": plain(lowest), "highest": plain(highest)}
    return document
