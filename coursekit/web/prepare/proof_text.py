"""What the proof of a scenario found, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.scenario.model import Scenario
from coursekit.scenario.proof import MOST_EXAMINED, Proof, prove

# A page waits for its proof: it examines a stated sample, the command line all of it.
MOST_ON_A_PAGE = 200
MOST_REASONS = 3
NO_GO = "no-go"


@dataclass(frozen=True)
class ProofText:
    """The verdict of a proof, what was examined, and what stands against it."""

    verdict: str
    is_proven: bool
    sentences: tuple[str, ...]
    too_small: tuple[str, ...]
    problems: tuple[str, ...]
    examined: int
    to_examine: int


def proof_text(scenario: Scenario, most: int = MOST_ON_A_PAGE) -> ProofText:
    """Return what the proof by named rigs and by a search finds, of so many variations."""
    proof = _proof(ByContent(scenario.digest, scenario), most)
    return ProofText(
        verdict=_verdict(proof),
        is_proven=proof.is_proven,
        sentences=tuple(_sentences(proof)),
        too_small=tuple(_too_small(proof)),
        problems=tuple(str(problem) for problem in proof.problems),
        examined=proof.examined,
        to_examine=min(proof.variations, MOST_EXAMINED),
    )


@dataclass(frozen=True)
class ByContent:
    """A scenario that is the same as another of the same digest."""

    digest: str
    scenario: Scenario = field(compare=False)


@lru_cache(maxsize=64)
def _proof(kept: ByContent, most: int) -> Proof:
    # A cache by content: the same scenario always has the same proof.
    return prove(kept.scenario, most=most)


def _verdict(proof: Proof) -> str:
    if not proof.is_proven:
        return _("it doesn't hold what it says")
    if proof.scenario.expect == NO_GO:
        return _("proven, and the answer is not to pull")
    return ngettext(
        "proven, %(num)d safe rig does the job",
        "proven, %(num)d safe rigs do the job",
        len(proof.good_rigs),
    )


def _sentences(proof: Proof) -> Iterator[str]:
    named = len(proof.scenario.rigs)
    good = ", ".join(proof.good_rigs)
    if good:
        yield _("Of %(n)s named rigs these are safe and do the job: %(rigs)s.", n=named, rigs=good)
    else:
        yield _("Of %(n)s named rigs none is safe and does the job.", n=named)
    yield from _variation_sentences(proof)
    yield _(
        "A search of every layout that the gear allows finds %(n)s safe ones at these numbers.",
        n=len(proof.found),
    )
    if proof.scenario.vary:
        fewest, most = proof.safe_layouts
        yield _(
            "In the variations at least %(fewest)s and at most %(most)s layouts are safe.",
            fewest=fewest,
            most=most,
        )
    if proof.idle_traps:
        traps = ", ".join(map(str, proof.idle_traps))
        yield _("Traps that never bite at these numbers: %(traps)s.", traps=traps)


def _too_small(proof: Proof) -> Iterator[str]:
    for task, slips in proof.too_small:
        told = ", ".join(slip.replace("-", " ") for slip in slips)
        yield _("%(task)s: %(slips)s", task=task, slips=told)


def _variation_sentences(proof: Proof) -> Iterator[str]:
    if not proof.scenario.vary:
        yield _("Every student gets the same numbers.")
        return
    sample = _(", a sample") if proof.is_sample else ""
    yield _(
        "Students get numbers of their own: %(examined)s of %(all)s variations were examined"
        "%(sample)s, %(offered)s may be offered.",
        examined=proof.examined,
        all=proof.variations,
        sample=sample,
        offered=proof.offered,
    )
    for reason, count in proof.refused[:MOST_REASONS]:
        yield _("%(n)s are left out: %(reason)s.", n=count, reason=reason)
