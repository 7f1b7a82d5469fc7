"""Outcomes: of a paper by a rule, and of a whole class from its papers.

The rule is conjunctive: the pass mark, each strand's minimum, and nothing that would
have hurt somebody.  Marks in one thing never make up for danger in another.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from coursekit.scenario.strands import STRANDS

# Marks come in halves: what is closer than this is the same.
_DUST = 1e-9


@dataclass(frozen=True)
class Rule:
    """What a paper is decided by; shares of 0 to 1.

    `policy` is the number of the school's policy version, 0 for the usual one.
    """

    pass_share: float
    strand_minimums: Mapping[str, float] = field(default_factory=dict)
    policy: int = 0


@dataclass(frozen=True)
class Earned:
    """What one task earned, and the strand that it belongs to."""

    strand: str
    marks: float
    out_of: float


@dataclass(frozen=True)
class StrandMark:
    """What a paper shows of one strand; `minimum` is a share, None where none is set."""

    strand: str
    marks: float
    out_of: float
    minimum: float | None = None

    @property
    def share(self) -> float:
        """The share of the strand's marks, 0 where it has none."""
        return self.marks / self.out_of if self.out_of else 0.0

    @property
    def is_reached(self) -> bool:
        """Whether the minimum is met, or none is set."""
        return self.minimum is None or self.marks >= self.minimum * self.out_of - _DUST


@dataclass(frozen=True)
class Decision:
    """The outcome of a paper with all that it hangs on."""

    outcome: str
    marks: float
    out_of: float
    rule: Rule
    strands: tuple[StrandMark, ...]
    is_safe: bool

    @property
    def share(self) -> float:
        """The share of all marks, 0 where there are none."""
        return self.marks / self.out_of if self.out_of else 0.0

    @property
    def cut(self) -> float:
        """The pass mark in marks."""
        return self.rule.pass_share * self.out_of

    @property
    def reaches_cut(self) -> bool:
        """Whether the marks meet the pass mark."""
        return bool(self.out_of) and self.marks >= self.cut - _DUST

    @property
    def short_strands(self) -> tuple[StrandMark, ...]:
        """The strands that miss their minimum."""
        return tuple(strand for strand in self.strands if not strand.is_reached)


def strand_marks(earned: Iterable[Earned], minimums: Mapping[str, float]) -> tuple[StrandMark, ...]:
    """Return the marks by strand, in the order of `STRANDS`; strands without tasks are left out.

    >>> strand_marks([Earned("kit", 1.0, 2.0), Earned("kit", 2.0, 2.0)], {"kit": 0.8})
    (StrandMark(strand='kit', marks=3.0, out_of=4.0, minimum=0.8),)
    """
    parts: dict[str, list[Earned]] = {}
    for one in earned:
        parts.setdefault(one.strand, []).append(one)
    return tuple(
        StrandMark(
            strand,
            math.fsum(one.marks for one in parts[strand]),
            math.fsum(one.out_of for one in parts[strand]),
            minimums.get(strand),
        )
        for strand in STRANDS
        if strand in parts
    )


def decided(earned: Sequence[Earned], rule: Rule, *, is_safe: bool) -> Decision:
    """Return the outcome of a paper: competent, not yet, or unsafe.

    `is_safe` is False where a critical finding stands, which no mark outweighs.

    >>> paper = [Earned("kit", 1.0, 4.0), Earned("rig", 6.0, 6.0)]
    >>> decided(paper, Rule(0.7), is_safe=True).outcome
    'competent'
    >>> decided(paper, Rule(0.7, {"kit": 0.5}), is_safe=True).outcome
    'not-yet'
    >>> decided(paper, Rule(0.7), is_safe=False).outcome
    'unsafe'
    """
    marks, out_of = (
        math.fsum(getattr(one, name) for one in earned) for name in ("marks", "out_of")
    )
    strands = strand_marks(earned, rule.strand_minimums)
    passes = bool(out_of) and marks >= rule.pass_share * out_of - _DUST
    passes = passes and all(strand.is_reached for strand in strands)
    outcome = "unsafe" if not is_safe else "competent" if passes else "not-yet"
    return Decision(outcome, marks, out_of, rule, strands, is_safe)


def overall(outcomes: Sequence[str | None]) -> str:
    """Return the outcome of a class from that of each of its scenarios, None where one is missing.

    One unsafe scenario makes the whole unsafe; competent takes every scenario competent.

    >>> overall(["competent", "competent"]), overall(["competent", None])
    ('competent', 'not-yet')
    >>> overall(["competent", "unsafe", None]), overall([])
    ('unsafe', 'not-yet')
    """
    if "unsafe" in outcomes:
        return "unsafe"
    return "competent" if outcomes and set(outcomes) == {"competent"} else "not-yet"


def is_near_cut(
    decision: Decision, standard_error: float | None, sems: float, share: float
) -> bool:
    """Whether a paper lies so close to the pass mark that a second assessor should look.

    `standard_error` is that of measurement, in marks; the band is `sems` of them to either
    side, ends included.  Where it is None the band is `share` of all marks.  An unsafe paper
    is decided whatever its marks.  Source: classical test theory; how wide is a convention.

    >>> paper = decided([Earned("kit", 6.5, 10.0)], Rule(0.7), is_safe=True)
    >>> is_near_cut(paper, 0.6, 1.0, 0.05), is_near_cut(paper, None, 1.0, 0.05)
    (True, True)
    >>> is_near_cut(paper, 0.4, 1.0, 0.05)
    False
    """
    band = share * decision.out_of if standard_error is None else sems * standard_error
    close = abs(decision.marks - decision.cut) <= band + _DUST
    return decision.is_safe and band > 0.0 and close
