"""What the yard lists of a student come to, in words."""

from __future__ import annotations

from collections.abc import Iterator

from flask_babel import gettext as _

from coursekit.services.results import StudentResult
from coursekit.web.verdicts import outcome_of


def yard_notes(one: StudentResult) -> Iterator[str]:
    """Yield how each yard list of a student stands: its outcome, or what it waits for."""
    for result in one.scenarios:
        place, title = result.yard, result.scenario.title
        if place is None:
            continue
        if place.outcome is not None:
            word = outcome_of(place.outcome.outcome).word
            yield _("yard: %(outcome)s", outcome=str(word).lower())
        elif place.must_agree:
            yield _("yard list seen differently by two, who are to agree: %(what)s", what=title)
        else:
            yield _("yard list not marked: %(what)s", what=title)
