"""Moderation: what follows from a change of marks, and what is refused and why.

A review looks for an error of marking, not for a second opinion: a mark that could fairly
have been given stands.  Nobody reviews what they marked themselves, and a critical finding
is set aside only where the key was wrong, by two people.
"""

from __future__ import annotations

import hashlib
import math
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from coursekit.assessment.marks import RIGHT
from coursekit.problems import Problem, Problems, Where

WRONG_KEY = "wrong-key"
CODES = (
    "adding-up",
    "carried-over",
    "not-seen",
    "scheme-misapplied",
    "unusual-answer",
    "unreadable",
    "wrong-place",
    WRONG_KEY,
    "handling",
    "circumstances",
    "rules-broken",
    "other",
)
"""Why marks are changed; published lists of awarding bodies name much the same reasons."""

LONGEST_APPEAL = 2_000
# Of a class's papers a second marker looks at so many: a convention.
SAMPLE_SHARE = 0.2
FEWEST_SAMPLED = 3
_MARKS = re.compile(r"[0-9]{1,3}(?:[.,][0-9]{1,2})?")
_DUST = 1e-9


@dataclass(frozen=True)
class Refusal:
    """What is not allowed, and what to do in its place."""

    what: str
    mend: str


@dataclass(frozen=True)
class Held:
    """A task as it is marked; `is_unsafe` where its answer would have hurt somebody."""

    task: str
    marks: float
    out_of: float
    verdict: str = ""
    is_unsafe: bool = False


@dataclass(frozen=True)
class Move:
    """A task whose marks differ between two markings; None where one of them has no such task."""

    task: str
    before: float | None
    after: float | None
    out_of: float


def marks_typed(text: str, out_of: float, field: str = "marks") -> float:
    """Return marks as somebody typed them: halves from 0 to what the task is out of.

    Raises Problems that name the field.

    >>> marks_typed(" 2,5 ", 3.0), marks_typed("0", 3.0)
    (2.5, 0.0)
    >>> marks_typed("nan", 3.0)
    Traceback (most recent call last):
    ...
    coursekit.problems.Problems: marks: 'nan' is no mark. Give 0 to 3, in halves.
    """
    typed = text.strip()
    value = float(typed.replace(",", ".")) if _MARKS.fullmatch(typed) else None
    if value is None or value > out_of + _DUST or abs(value * 2 - round(value * 2)) > _DUST:
        what = f"{typed[:20]!r} is no mark" if typed else "It is empty"
        if value is not None and value > out_of + _DUST:
            what = f"{value:g} is more than the task is out of"
        raise Problems([Problem(Where(field), what, f"Give 0 to {out_of:g}, in halves")])
    return value


def verdict_for(verdict: str, marks: float, out_of: float) -> str:
    """Return the verdict that fits changed marks, the old one where it still does.

    >>> verdict_for("slip", 3.0, 3.0), verdict_for("right", 1.5, 3.0), verdict_for("unit", 1.0, 3.0)
    ('right', 'part', 'unit')
    """
    if marks >= out_of - _DUST:
        return verdict if verdict in RIGHT else "right"
    if marks <= 0.0:
        return "wrong" if verdict in RIGHT or verdict == "part" else verdict
    return verdict if verdict in ("unit", "slip", "part") else "part"


def moves(before: Iterable[Held], after: Iterable[Held]) -> tuple[Move, ...]:
    """Return the tasks whose marks differ, in the order of the newer marking.

    >>> same = Held("b", 1.0, 1.0)
    >>> moves([Held("a", 1.0, 2.0), same], [Held("a", 2.0, 2.0), same])
    (Move(task='a', before=1.0, after=2.0, out_of=2.0),)
    """
    old, new = {one.task: one for one in before}, {one.task: one for one in after}
    found = []
    for task in {**new, **old}:
        was, is_now = old.get(task), new.get(task)
        if was is None or is_now is None or abs(was.marks - is_now.marks) > _DUST:
            known = is_now or was
            found.append(
                Move(
                    task,
                    was.marks if was else None,
                    is_now.marks if is_now else None,
                    known.out_of if known else 0.0,
                )
            )
    return tuple(found)


def settled(
    before: Iterable[Held],
    after: Iterable[Held],
    by_hand: Collection[str] = (),
    *,
    may_fall: bool,
) -> tuple[Held, ...]:
    """Return what counts when a paper is marked again by a corrected key.

    Marks that somebody set `by_hand` stay.  Unless marks `may_fall`, no task loses any; but
    where the corrected key finds that the answer would have hurt somebody, its mark counts
    whatever it was: nobody keeps marks for danger.

    >>> old, new = [Held("a", 2.0, 2.0)], [Held("a", 1.0, 2.0)]
    >>> settled(old, new, may_fall=False)[0].marks, settled(old, new, may_fall=True)[0].marks
    (2.0, 1.0)
    >>> settled(old, [Held("a", 0.0, 2.0, is_unsafe=True)], may_fall=False)[0].marks
    0.0
    """
    old = {one.task: one for one in before}
    return tuple(_settled(old.get(one.task), one, by_hand, may_fall=may_fall) for one in after)


def _settled(was: Held | None, new: Held, by_hand: Collection[str], *, may_fall: bool) -> Held:
    if was is None or new.is_unsafe:
        return new
    falls = was.marks > new.marks + _DUST and not may_fall
    if was.task not in by_hand and not falls:
        return new
    marks = min(was.marks, new.out_of)
    return replace(new, marks=marks, verdict=verdict_for(was.verdict, marks, new.out_of))


def against_change(person: int, markers: Collection[int], *, is_appealed: bool) -> Refusal | None:
    """Return why somebody may not change or agree the marks of a paper; None where they may.

    `markers` are those who marked it or changed a mark before the appeal was made.
    """
    if is_appealed and person in markers:
        return Refusal(
            "The student appeals, and you have marked this paper before",
            "Let somebody look at it who has not",
        )
    return None


def against_excuse(person: int, askers: Collection[int], class_instructor: int) -> Refusal | None:
    """Return why somebody may not decide on excusing a critical finding; None where they may."""
    if person in askers:
        return Refusal("You asked for this yourself", "Let another instructor of the school decide")
    if person == class_instructor:
        return Refusal("This is your own class", "Let another instructor of the school decide")
    return None


def against_second_marks(
    person: int, markers: Collection[int], class_instructor: int
) -> Refusal | None:
    """Return why somebody can't mark a paper blind as the second; None where they can."""
    if person == class_instructor:
        return Refusal(
            "This is your own class, so you know its marks",
            "Ask another instructor of the school to mark it",
        )
    if person in markers:
        return Refusal(
            "You have marked this paper before", "Ask another instructor of the school to mark it"
        )
    return None


@dataclass(frozen=True)
class PairMarked:
    """One paper as two people marked it: outcomes, and each task twice."""

    first: str
    second: str
    tasks: tuple[tuple[Held, Held], ...]


@dataclass(frozen=True)
class PairsSeen:
    """How two markings of the same papers agree, what matters most first."""

    papers: int
    passed_then_failed: int
    failed_then_passed: int
    same_outcome: int
    tasks: int
    same_marks: int

    @property
    def outcome_share(self) -> float:
        """The share of papers with the same outcome, 0 where there are none."""
        return self.same_outcome / self.papers if self.papers else 0.0


PASSED = "competent"


def pairs_seen(pairs: Sequence[PairMarked]) -> PairsSeen:
    """Return how two markings agree, over some papers.

    >>> task = (Held("a", 1.0, 2.0), Held("a", 2.0, 2.0))
    >>> pairs_seen([PairMarked("competent", "unsafe", (task,))])
    PairsSeen(papers=1, passed_then_failed=1, failed_then_passed=0, same_outcome=0, tasks=1, \
same_marks=0)
    """
    tasks = [pair for one in pairs for pair in one.tasks]
    return PairsSeen(
        papers=len(pairs),
        passed_then_failed=sum(one.first == PASSED != one.second for one in pairs),
        failed_then_passed=sum(one.first != PASSED == one.second for one in pairs),
        same_outcome=sum(one.first == one.second for one in pairs),
        tasks=len(tasks),
        same_marks=sum(abs(a.marks - b.marks) <= _DUST for a, b in tasks),
    )


def outcome_table(pairs: Sequence[PairMarked]) -> list[list[int]]:
    """Return how often each marker passed and failed: rows the first, columns the second.

    >>> outcome_table([PairMarked("competent", "unsafe", ())])
    [[0, 1], [0, 0]]
    """
    table = [[0, 0], [0, 0]]
    for one in pairs:
        table[one.first != PASSED][one.second != PASSED] += 1
    return table


def marks_table(pairs: Sequence[PairMarked]) -> list[list[int]]:
    """Return how often each marker gave none, a part and all of a task's marks.

    >>> marks_table([PairMarked("unsafe", "unsafe", ((Held("a", 0.0, 2.0), Held("a", 2.0, 2.0)),))])
    [[0, 0, 1], [0, 0, 0], [0, 0, 0]]
    """
    table = [[0, 0, 0] for _ in range(3)]
    for first, second in (pair for one in pairs for pair in one.tasks):
        table[_level(first)][_level(second)] += 1
    return table


def _level(held: Held) -> int:
    if held.marks <= 0.0:
        return 0
    return 2 if held.marks >= held.out_of - _DUST else 1


def sampled(papers: Collection[int], share: float = SAMPLE_SHARE) -> frozenset[int]:
    """Return which papers a second marker should mark: a share of them, three at least.

    Drawn by a digest of their numbers, so that nobody chooses them and everybody sees the
    same ones.

    >>> len(sampled(range(30))), len(sampled(range(2)))
    (6, 2)
    """
    wanted = max(FEWEST_SAMPLED, math.ceil(share * len(papers)))
    drawn = sorted(papers, key=lambda paper: hashlib.sha256(str(paper).encode()).hexdigest())
    return frozenset(drawn[:wanted])


def by_hand(machine: Mapping[str, float], counting: Mapping[str, float]) -> frozenset[str]:
    """Return the tasks whose marks somebody set: they are not what the key last gave.

    >>> sorted(by_hand({"a": 1.0, "b": 2.0}, {"a": 1.5, "b": 2.0}))
    ['a']
    """
    return frozenset(
        task
        for task, marks in counting.items()
        if task in machine and abs(machine[task] - marks) > _DUST
    )
