"""Marking a handed-in attempt, and keeping the marks with their reasons."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from babel.numbers import get_decimal_symbol
from sqlalchemy.orm import Session

from coursekit.assessment.marking import Desk
from coursekit.assessment.marks import Paper
from coursekit.assessment.replies import Reply
from coursekit.files.replies import reply_of
from coursekit.quantities.voice import shower, units_of
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import AnyTask
from coursekit.services.policies import rule_of
from coursekit.services.sheets import Made, keep_sheet, sheet_of
from coursekit.store import tables


def marked(scenario: Scenario, answers: Mapping[str, Any], locale: str) -> Paper:
    """Return the marks of typed answers, read as people of a locale write numbers."""
    return Marker(scenario, locale).paper(answers)


class Marker:
    """Marks many papers of one variation; the same text is read once, and marked once."""

    def __init__(self, scenario: Scenario, locale: str) -> None:
        self._desk = Desk(scenario, shower(units_of(scenario)))
        self._decimal_comma = get_decimal_symbol(locale) == ","
        self._read: dict[tuple[str, str], Reply | None] = {}

    def paper(self, answers: Mapping[str, Any]) -> Paper:
        """Return the marks of one set of typed answers."""
        tasks = self._desk.scenario.tasks
        return self._desk.mark({task.id: self._reply(task, answers.get(task.id)) for task in tasks})

    def _reply(self, task: AnyTask, answer: Any) -> Reply | None:
        typed = _document(answer)
        at = (task.id, typed if isinstance(typed, str) else json.dumps(typed, sort_keys=True))
        if at not in self._read:
            self._read[at] = reply_of(
                self._desk.scenario, task, typed, decimal_comma=self._decimal_comma
            )
        return self._read[at]


def store_result(session: Session, attempt: tables.Attempt, paper: Paper, now: datetime) -> None:
    """Keep the first marking of an attempt, decided by the rule that is in force."""
    sheet, rule = sheet_of(paper), rule_of(session, attempt, paper.scenario)
    keep_sheet(session, attempt, sheet, sheet.decision(paper.scenario, rule), Made(now))


def _document(typed: Any) -> Any:
    """Return what is marked of an answer: of a rig form, the rig that it built."""
    if isinstance(typed, Mapping) and "rig" in typed:
        return typed["rig"]
    return typed
