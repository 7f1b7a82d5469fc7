"""The proof of a scenario: lines for a terminal, and a document in SI."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coursekit.scenario.proof import Proof

INDENT = " " * 11


def proof_line(proof: Proof) -> str:
    """Return what was examined, and which named rigs are safe, in one line."""
    return f"{_variations(proof)}; {_rigs(proof)}{_small(proof)}"


def proof_details(proof: Proof) -> Iterator[str]:
    """Yield what else is worth a line: the search, what changes, what comes near, what is idle."""
    yield f"{INDENT}{_search(proof)}"
    changing = [f"{rig} ({', '.join(items)})" for rig, items in proof.weakest_in if len(items) > 1]
    if changing:
        yield f"{INDENT}the weakest link changes in: {', '.join(changing)}"
    near = [f"{task} ({slip}) in {count}" for task, slip, count in proof.near]
    if near:
        yield f"{INDENT}slips too near the truth: {', '.join(near)} of {proof.examined} variations"
    if proof.idle_traps:
        yield f"{INDENT}traps that never bite: {', '.join(map(str, proof.idle_traps))}"


def _search(proof: Proof) -> str:
    fewest, most = proof.safe_layouts
    bound = "" if proof.searched_all else " (the search met its bound)"
    own = f"a search finds {len(proof.found)} of {proof.layouts} layouts safe{bound}"
    if not proof.scenario.vary:
        return own
    each = f"{fewest}" if fewest == most else f"{fewest} to {most}"
    return f"{own}, and {each} in the variations"


def _variations(proof: Proof) -> str:
    if not proof.scenario.vary:
        return "its own numbers"
    sample = " (a sample)" if proof.is_sample else ""
    examined = f"{proof.examined} of {proof.variations} variations examined{sample}"
    refused = "".join(f"; {count} refused: {reason}" for reason, count in proof.refused[:3])
    return f"{examined}, {proof.offered} can be offered{refused}"


def _rigs(proof: Proof) -> str:
    return f"safe rigs: {', '.join(proof.good_rigs)}" if proof.good_rigs else "no safe rig"


def _small(proof: Proof) -> str:
    listed = (f"{task} ({', '.join(slips)})" for task, slips in proof.too_small)
    small = ", ".join(listed)
    return f"; too small to catch: {small}" if small else ""


def proof_document(proof: Proof) -> dict[str, Any]:
    """Return what a proof found."""
    fewest, most = proof.safe_layouts
    return {
        "scenario": proof.scenario.id,
        "digest": proof.scenario.digest,
        "variations": proof.variations,
        "examined": proof.examined,
        "offered": proof.offered,
        "sample": proof.is_sample,
        "good_rigs": list(proof.good_rigs),
        "weakest": dict(proof.weakest),
        "refused": dict(proof.refused),
        "too_small": {task: list(slips) for task, slips in proof.too_small},
        "search": {
            "layouts": proof.layouts,
            "safe": len(proof.found),
            "fewest": fewest,
            "most": most,
            "complete": proof.searched_all,
        },
        "weakest_in": {rig: list(items) for rig, items in proof.weakest_in},
        "near": [
            {"task": task, "slip": slip, "variations": count} for task, slip, count in proof.near
        ],
        "idle_traps": [
            {"item": trap.item, "task": trap.task, "slip": trap.slip} for trap in proof.idle_traps
        ],
    }
