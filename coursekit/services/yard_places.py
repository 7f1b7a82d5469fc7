"""Every student of a class at every yard list, with what the lists handed in come to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sqlalchemy.orm import Session

from coursekit.assessment.yard import (
    Compared,
    Levels,
    YardOutcome,
    compared,
    may_agree_on,
    yard_outcome,
)
from coursekit.scenario.model import Scenario
from coursekit.scenario.yard import Level, criteria_of
from coursekit.services.policies import rule_for
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.results import StudentRow
from coursekit.store.queries.yard import SheetRow

OWN, AGREED = "own", "agreed"


@dataclass(frozen=True)
class YardPlace:
    """One student at one scenario's yard list; no outcome until it is handed in and agreed.

    `pass_share` is that of the first list handed in, else of today.
    `is_blind` says that a list is in and is kept from somebody who may still mark the second.
    """

    student: StudentRow
    class_scenario_id: int
    scenario: Scenario
    sheets: tuple[SheetRow, ...]
    pass_share: float
    outcome: YardOutcome | None
    compared: Compared | None
    is_blind: bool = False

    @property
    def own(self) -> tuple[SheetRow, ...]:
        """The assessors' own lists, without what was agreed."""
        return tuple(one for one in self.sheets if one.kind == OWN)

    def own_of(self, person_id: int) -> SheetRow | None:
        """Return the list that somebody handed in, None where they have not."""
        return next((one for one in self.own if one.assessor_id == person_id), None)

    @property
    def pair(self) -> tuple[Levels, Levels] | None:
        """The levels of both assessors, None where no two have handed a list in."""
        return _pair(self.sheets)

    @property
    def must_agree(self) -> bool:
        """Whether two assessors saw it differently and have not agreed yet."""
        return self.outcome is None and self.compared is not None

    @property
    def is_settled(self) -> bool:
        """Whether it is marked, and no two are to agree on it any more."""
        return bool(self.sheets) and not self.must_agree

    def seen_by(self, person_id: int) -> YardPlace:
        """Return the place as an assessor may see it before the own list is in.

        Who saw something is told; what they saw is not, until a second list is there.
        """
        if len(self.own) != 1 or self.own_of(person_id) is not None:
            return self
        sheets = tuple(replace(one, levels={}, notes={}) for one in self.sheets)
        return replace(self, sheets=sheets, outcome=None, is_blind=True)

    def may_agree_on(self, person_id: int) -> dict[str, tuple[Level, ...]]:
        """Return the levels to which one of two may agree, by the criteria in which they differ."""
        mine = self.own_of(person_id)
        others = [one for one in self.own if one.assessor_id != person_id]
        if mine is None or self.compared is None:
            return {}
        asked = dict(criteria_of(self.scenario.yard))
        return {
            name: may_agree_on(
                mine.levels[name], others[0].levels[name], critical=asked[name].critical
            )
            for name in self.compared.differing
        }


def places_of(session: Session, school_id: int, class_id: int) -> tuple[YardPlace, ...]:
    """Return every student of a class at every scenario with a yard list."""
    lists = [
        (row.class_scenario_id, scenario)
        for row in queries.classes.scenarios(session, class_id)
        if (scenario := scenario_of(row.document, {})).yard
    ]
    if not lists:
        return ()
    sheets = queries.yard.sheets(session, school_id, class_id)
    shares = {
        scenario.id: rule_for(session, school_id, scenario).pass_share for _id, scenario in lists
    }
    return tuple(
        _at(student, class_scenario_id, scenario, sheets, shares[scenario.id])
        for student in queries.results.students(session, school_id, class_id)
        for class_scenario_id, scenario in lists
    )


def _at(
    student: StudentRow, class_scenario_id: int, scenario: Scenario,
    sheets: Sequence[SheetRow], share_now: float,
) -> YardPlace:  # fmt: skip
    here = tuple(
        one
        for one in sheets
        if (one.enrolment_id, one.class_scenario_id) == (student.enrolment_id, class_scenario_id)
    )
    pair = _pair(here)
    differ = compared([pair]) if pair is not None else None
    levels = _final(here, differ)
    kept = here[0].pass_share if here else None
    share = share_now if kept is None else kept
    outcome = None if levels is None else yard_outcome(scenario.yard, levels, share)
    return YardPlace(student, class_scenario_id, scenario, here, share, outcome, differ)


def _final(sheets: Sequence[SheetRow], differ: Compared | None) -> Levels | None:
    """Return the levels that count: agreed ones, else those of the only or of both lists."""
    agreed = [one for one in sheets if one.kind == AGREED]
    if agreed:
        return agreed[-1].levels
    if not sheets or (differ is not None and differ.differing):
        return None
    return sheets[0].levels


def _pair(sheets: Sequence[SheetRow]) -> tuple[Levels, Levels] | None:
    own = [one.levels for one in sheets if one.kind == OWN]
    return (own[0], own[1]) if len(own) > 1 else None
