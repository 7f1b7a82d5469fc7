"""A record of assessment as rows of a table, from the view model of its page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from flask_babel import gettext as _

from coursekit.web.records.record_page import Fact, PaperPart, RecordPage
from coursekit.web.verdicts import outcome_of

Row = list[str | float]


def record_rows(page: RecordPage) -> Iterator[Row]:
    """Yield all that a record says, a line each, with the heads first."""
    yield [_("part"), _("what"), _("said"), _("marks"), _("out of"), _("verdict"), _("why")]
    if page.moved is not None:
        yield _line(_("Record of assessment"), _("marks now say"), _outcome(page.moved))
    yield _line(_("Record of assessment"), _("Outcome"), _outcome(page.outcome))
    yield from _facts(_("Record of assessment"), page.facts)
    for paper in page.papers:
        yield from _paper(paper)
    for place in page.yard:
        yield from _facts(place.title, (*place.facts, *place.rows))
    for act in page.acts:
        yield _line(_("What became of the certificate"), act.text, act.reason)
    yield from _facts(_("How it is kept"), page.seal)


def _paper(paper: PaperPart) -> Iterator[Row]:
    yield from _facts(paper.title, paper.facts)
    for stop in paper.stops:
        yield _line(paper.title, _outcome("unsafe"), stop)
    for task in paper.tasks:
        said = task.typed if task.rig is None else " ".join(task.rig.text)
        read = f" ({task.understood})" if task.understood else ""
        yield [paper.title, task.question, f"{said}{read}", task.earned, task.out_of,
               task.verdict_word, task.feedback]  # fmt: skip
    for change in paper.changes:
        yield _line(paper.title, _("Changes after the first marking"), change)


def _facts(part: str, facts: Iterable[Fact]) -> Iterator[Row]:
    return (_line(part, what, said) for what, said in facts)


def _line(part: str, what: str, said: str) -> Row:
    return [part, what, said, "", "", "", ""]


def _outcome(key: str) -> str:
    return str(outcome_of(key).word)
