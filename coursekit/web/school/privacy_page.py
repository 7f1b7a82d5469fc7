"""View models of what the school keeps about people: whose name is past, and one person."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.personal_data import MOST_FOUND, PastPeriod, Retention, Subject


@dataclass(frozen=True)
class SubjectLine:
    """One person: who, and what they are here."""

    id: int
    name: str
    what: str


@dataclass(frozen=True)
class PrivacyPage:
    """Whose names are past the school's period, and who was looked for."""

    title: str
    months: int
    past: tuple[PastPeriod, ...]
    records_months: int
    past_records: str
    looked_for: str
    found: tuple[SubjectLine, ...]
    is_cut: bool


@dataclass(frozen=True)
class SubjectPage:
    """One person's data: given out, or erased."""

    title: str
    person: SubjectLine
    erased_at: datetime | None


def privacy_page(kept: Retention, looked_for: str, found: Sequence[Subject]) -> PrivacyPage:
    """Return the page of what is past, with the people who were looked for."""
    title = ngettext(
        "%(num)d name is past the school's period",
        "%(num)d names are past the school's period",
        len(kept.past),
    )
    return PrivacyPage(
        title=title if kept.past else _("No name is past the school's period"),
        months=kept.months,
        past=kept.past,
        records_months=kept.records_months,
        past_records=ngettext(
            "%(num)d record without a name is past its period",
            "%(num)d records without a name are past their period",
            len(kept.past_records),
        )
        if kept.past_records
        else "",
        looked_for=looked_for,
        found=tuple(map(_line, found)),
        is_cut=len(found) >= MOST_FOUND,
    )


def subject_page(one: Subject) -> SubjectPage:
    """Return the page of one person's data."""
    if one.erased_at is not None:
        return SubjectPage(_("This name is erased"), _line(one), one.erased_at)
    title = _("What the school keeps about %(name)s", name=one.name)
    return SubjectPage(title, _line(one), None)


def _line(one: Subject) -> SubjectLine:
    return SubjectLine(one.id, one.name, _("staff") if one.is_staff else _("student"))
