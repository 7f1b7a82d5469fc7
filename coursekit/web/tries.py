"""The ladder of tries at a scenario, as its instructor and its student see it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from flask import url_for
from flask_babel import gettext as _

from coursekit.services.retries import TryRow
from coursekit.web.filters import marks


@dataclass(frozen=True)
class TryLine:
    """One try; `url` is empty for the one that the page is about, and for one under way."""

    name: str
    at: datetime
    score: str
    outcome: str
    url: str
    counts: bool


def try_lines(tries: Sequence[TryRow], here: int, endpoint: str) -> tuple[TryLine, ...]:
    """Return the ladder of a scenario, nothing where there is one try alone."""
    handed_in = [one.attempt_id for one in tries if one.submitted_at is not None]
    last = handed_in[-1] if handed_in else None
    if len(tries) == 1:
        return ()
    return tuple(
        TryLine(
            name=_("Try %(n)s", n=one.number),
            at=one.submitted_at or one.started_at,
            score=_score(one),
            outcome=one.outcome or "",
            url=url_for(endpoint, attempt_id=one.attempt_id)
            if one.submitted_at and one.attempt_id != here
            else "",
            counts=one.attempt_id == last,
        )
        for one in tries
    )


def _score(one: TryRow) -> str:
    if one.marks is None or one.out_of is None:
        return _("under way")
    return _("%(marks)s of %(out_of)s", marks=marks(one.marks), out_of=marks(one.out_of))
