"""A proof that goes on from page to page: each step is bounded, and the page can be left.

No step keeps anything but what its content says, so any worker takes the next one.
"""

from __future__ import annotations

from dataclasses import dataclass

from coursekit.scenario.proof import MOST_EXAMINED
from coursekit.services.preparing import ScenarioVersion
from coursekit.web.prepare.proof_text import MOST_ON_A_PAGE, ProofText, proof_text

# Each step examines about twice what the one before did.
GROWTH = 2


@dataclass(frozen=True)
class ProofPage:
    """How far a proof is; `next_step` is how many variations to examine next, 0 at its end."""

    version_id: int
    title: str
    proof: ProofText
    next_step: int


def proof_page(version: ScenarioVersion, asked: int) -> ProofPage:
    """Return a step of a proof: the steps are fixed, so that none is larger than meant."""
    step = MOST_ON_A_PAGE
    while step < asked:
        step *= GROWTH
    proof = proof_text(version.scenario, min(step, MOST_EXAMINED))
    is_done = proof.examined >= proof.to_examine
    return ProofPage(version.version_id, version.scenario.title, proof, 0 if is_done else 2 * step)
