"""A paper with the marking that counts, locked for a change; the change stands beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.moderation import CODES, Refusal
from coursekit.services.actor import Actor
from coursekit.services.attempts import attempt_row
from coursekit.services.checks import Checks
from coursekit.services.errors import Conflict, Refused
from coursekit.services.policies import rule_of
from coursekit.services.sheets import Made, Sheet, keep_sheet, stored_sheet
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.reviews import APPEAL, MarkingRow, RequestRow


@dataclass(frozen=True)
class CountingPaper:
    """A paper, locked, with the marking of it that counts."""

    attempt: tables.Attempt
    document: str
    result: tables.AttemptResult
    sheet: Sheet
    markings: tuple[MarkingRow, ...]
    requests: tuple[RequestRow, ...]

    @property
    def is_appealed(self) -> bool:
        """Whether an appeal waits for an answer."""
        return any(one.is_open and one.kind == APPEAL for one in self.requests)

    @property
    def markers(self) -> frozenset[int]:
        """Who marked it, up to the appeal that waits, else up to now."""
        asked = [one.seen_number for one in self.requests if one.is_open and one.kind == APPEAL]
        newest = self.markings[-1].number
        return queries.reviews.markers(self.markings, min([*asked, newest]))


def counting_paper(
    session: Session, actor: Actor, attempt_id: int, seen: int | None
) -> CountingPaper:
    """Return a marked paper that the actor may see, locked; `seen` is the marking shown, if any.

    Raises Conflict where another marking counts by now.
    """
    row = attempt_row(session, actor, attempt_id)
    attempt = session.get_one(tables.Attempt, attempt_id, with_for_update=True)
    result = session.scalar(
        select(tables.AttemptResult).where(
            tables.AttemptResult.id == queries.classes.counting_result(attempt_id)
        )
    )
    if result is None:
        raise Refused("This has not been handed in", "Wait until it is")
    if seen is not None and result.number != seen:
        raise Conflict("The marks of this paper have changed since this form was opened")
    version = result.scenario_version_id
    document = session.get_one(tables.ScenarioVersion, version).document if version else None
    return CountingPaper(
        attempt,
        document or row.document,
        result,
        stored_sheet(session, result),
        queries.reviews.markings(session, attempt_id),
        queries.reviews.requests(session, attempt_id),
    )


def keep_change(session: Session, paper: CountingPaper, sheet: Sheet, made: Made) -> None:
    """Keep a changed sheet of a paper, decided anew by the rule of its first marking."""
    scenario = scenario_of(paper.document, paper.attempt.variation)
    decision = sheet.decision(scenario, rule_of(session, paper.attempt, scenario))
    by_version = replace(made, version_id=paper.result.scenario_version_id)
    keep_sheet(session, paper.attempt, sheet, decision, by_version)


def refuse(refusal: Refusal | None) -> None:
    """Raise a refusal where there is one."""
    if refusal is not None:
        raise Refused(refusal.what, refusal.mend)


def reason_checked(code: str, reason: str) -> str:
    """Return the reason of a change without outer blanks; Problems where it or its code is bad."""
    checks = Checks()
    checks.choice("code", code, CODES)
    text = checks.text("reason", reason)
    checks.done()
    return text
