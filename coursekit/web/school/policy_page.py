"""View models of the school's policy: in sentences, with the versions that went before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.school_policy import SchoolPolicy
from coursekit.scenario.strands import STRANDS
from coursekit.services.policies import PolicyVersion
from coursekit.web import words
from coursekit.web.filters import percent


@dataclass(frozen=True)
class Chapter:
    """What the policy says about one thing."""

    title: str
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class VersionLine:
    """One version: who made it, when and why, and in what it differs from the one before."""

    number: int
    made_at: datetime | None
    made_by: str
    reason: str
    changes: tuple[str, ...]


@dataclass(frozen=True)
class RulesPage:
    """The policy in force and its history, the newest version first."""

    title: str
    chapters: tuple[Chapter, ...]
    versions: tuple[VersionLine, ...]


def rules_page(versions: Sequence[PolicyVersion]) -> RulesPage:
    """Return the page of a school's policy."""
    policy = versions[0].policy
    before = {one.number: one.policy for one in versions}
    return RulesPage(
        title=_title(policy),
        chapters=chapters(policy),
        versions=tuple(
            VersionLine(
                one.number,
                one.made_at,
                one.made_by,
                one.reason,
                _changes(before[one.number - 1], one.policy) if one.number else (),
            )
            for one in versions
        ),
    )


def chapters(policy: SchoolPolicy) -> tuple[Chapter, ...]:
    """Return a policy in sentences, by what it is about."""
    return (
        Chapter(_("Who is competent"), tuple(_outcome(policy))),
        Chapter(_("Another try"), tuple(_retry(policy))),
        Chapter(_("Certificates"), tuple(_certificate(policy))),
        Chapter(_("What is kept, and how long"), tuple(_kept(policy))),
    )


def _title(policy: SchoolPolicy) -> str:
    return ngettext(
        "Competent from %(share)s, another try after %(num)d hour",
        "Competent from %(share)s, another try after %(num)d hours",
        policy.retry_wait_hours,
        share=percent(policy.pass_share),
    )


def _outcome(policy: SchoolPolicy) -> Iterator[str]:
    share = percent(policy.pass_share)
    yield _(
        "At least %(share)s of all marks, where no panel and no scenario names a pass mark.",
        share=share,
    )
    for strand in STRANDS:
        if strand in policy.strand_minimums:
            least, name = percent(policy.strand_minimums[strand]), words.STRANDS[strand]
            yield _("At least %(share)s of the marks in: %(name)s.", share=least, name=name)
    yield _("Nothing that would have hurt somebody, whatever the marks.")
    if policy.review_sems:
        yield _(
            "A second assessor looks at papers within %(n)s times the standard error of the cut.",
            n=f"{policy.review_sems:g}",
        )
    if policy.review_share:
        share = percent(policy.review_share)
        yield _("While papers are few: within %(share)s of all marks.", share=share)


def _retry(policy: SchoolPolicy) -> Iterator[str]:
    yield ngettext(
        "%(num)d hour after handing in.", "%(num)d hours after handing in.", policy.retry_wait_hours
    )
    if policy.retry_other_numbers:
        yield _("With other numbers than any that the student has seen.")
    else:
        yield _("With the same numbers.")
    yield _("The last try counts; all of them stay.")


def _certificate(policy: SchoolPolicy) -> Iterator[str]:
    yield ngettext(
        "Holds for %(num)d month.", "Holds for %(num)d months.", policy.certificate_months
    )
    yield ngettext(
        "%(num)d day before its end it is told.",
        "%(num)d days before its end it is told.",
        policy.warn_days,
    )


def _kept(policy: SchoolPolicy) -> Iterator[str]:
    yield ngettext(
        "Names of students: %(num)d month.",
        "Names of students: %(num)d months.",
        policy.names_months,
    )
    yield ngettext(
        "Records without a name: %(num)d month.",
        "Records without a name: %(num)d months.",
        policy.records_months,
    )


def _changes(old: SchoolPolicy, new: SchoolPolicy) -> tuple[str, ...]:
    """Return the sentences that are new."""
    known = {sentence for chapter in chapters(old) for sentence in chapter.sentences}
    return tuple(s for chapter in chapters(new) for s in chapter.sentences if s not in known)
