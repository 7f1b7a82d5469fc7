"""A panel of two judges, and what they make of a scenario."""

from __future__ import annotations

from datetime import datetime

from coursekit.services import standards
from coursekit.services.actor import Actor
from coursekit.services.standards import Adoption, Chances
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import colleague


def rated(unit: Unit, judge: Actor, sheet_id: int, chance: float, now: datetime) -> None:
    """Rate every task of a sheet alike, in its present round."""
    sheet = standards.sheet_of(unit, judge, sheet_id)
    chances = {task.id: chance for task in sheet.scenario.tasks}
    standards.rate(unit, judge, Chances(sheet_id, sheet.round, chances), now)


def pass_mark_of_a_panel(unit: Unit, cast: Cast, now: datetime) -> int:
    """Let two judges rate the scenario, 60 % and 70 %, and take their cut on."""
    mara, ines = cast.instructor.actor, colleague(unit, cast, "Ines Roe").actor
    sheet_id = standards.open_sheet(unit, mara, cast.version_id, now)
    rated(unit, mara, sheet_id, 0.6, now)
    rated(unit, ines, sheet_id, 0.7, now)
    standards.next_round(unit, mara, sheet_id)
    standards.adopt(unit, mara, Adoption(sheet_id, "The panel agreed"), now)
    return sheet_id
