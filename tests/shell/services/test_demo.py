"""The demo school: made once and whole, and it shows all that the app can show."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

import pytest
from sqlalchemy import URL, func, select

from coursekit.assessment.marks import OUTCOMES, VERDICTS
from coursekit.files.resources import resource_dir
from coursekit.services import (
    accounting,
    accounts,
    answering,
    kit,
    policies,
    preparing,
    reviewing,
    schools,
    standards,
    stiffness,
    teaching,
)
from coursekit.services.accounts import Credentials, PasswordChange
from coursekit.services.actor import Actor, Role
from coursekit.services.answering import Join
from coursekit.services.class_now import ClassNow, class_now
from coursekit.services.demo import DEMO_SCHOOL, Demo, load_demo
from coursekit.services.demo.days import Retired
from coursekit.services.demo.group import SECOND_TRIES, STUDENTS
from coursekit.services.demo.papers import Style
from coursekit.services.kit_list import kit_list
from coursekit.services.results import class_results
from coursekit.services.second_marking import class_second_marking
from coursekit.store.tables import Base
from coursekit.store.unit import Unit
from coursekit.wear.schedule import Bar, Cause
from tests.cast import NOW, Cast
from tests.databases import Databases, opened


@dataclass(frozen=True)
class Shown:
    """A demo school of the test's own, and its instructor signed in."""

    unit: Unit
    demo: Demo
    wren: Actor
    token: str

    def class_named(self, title: str) -> ClassNow:
        rows = teaching.classes(self.unit, self.wren)
        return class_now(self.unit, self.wren, next(r.id for r in rows if r.title == title))


@pytest.fixture(scope="module")
def demo_url(databases: Databases, school_world: tuple[URL, Cast]) -> Iterator[URL]:
    """A database to be copied: the demo school beside those that were there."""
    url = databases.copy(school_world[0])
    with opened(databases, url) as unit:
        load_demo(unit, NOW)
        unit.close()
        yield url


@pytest.fixture
def shown(databases: Databases, demo_url: URL) -> Iterator[Shown]:
    with opened(databases, databases.copy(demo_url)) as unit:
        demo = load_demo(unit, NOW)
        assert demo.password is not None
        signed_in = accounts.sign_in(unit, Credentials(demo.sign_in_name, demo.password), NOW)
        yield Shown(unit, demo, signed_in.person.actor, signed_in.token)


@pytest.fixture
def first_day(shown: Shown) -> ClassNow:
    return shown.class_named("Alder group, first day")


def rows(unit: Unit) -> dict[str, int]:
    with unit.read() as session:
        return {
            name: session.scalar(select(func.count()).select_from(table)) or 0
            for name, table in Base.metadata.tables.items()
            if name not in ("sign_ins", "failed_tries")
        }


def test_the_same_command_again_keeps_what_was_entered(shown: Shown) -> None:
    code = shown.demo.join_code
    assert code is not None
    answering.join_class(shown.unit, Join(code, "Somebody New"), NOW)
    before = rows(shown.unit)
    again = load_demo(shown.unit, NOW + timedelta(days=3))

    assert again == shown.demo
    assert rows(shown.unit) == before


def test_what_was_changed_since_is_not_printed(shown: Shown) -> None:
    assert shown.demo.password is not None
    change = PasswordChange(shown.token, shown.demo.password, "a word of my own choosing")
    accounts.change_password(shown.unit, shown.wren, change, NOW)
    open_class = shown.class_named("Alder group, second day").head.id
    teaching.close_class(shown.unit, shown.wren, open_class, NOW)
    again = load_demo(shown.unit, NOW)

    assert (again.password, again.join_code) == (None, None)


def test_the_schools_that_were_there_stay_beside_it(shown: Shown, cast: Cast) -> None:
    names = {school.name for school in schools.schools(shown.unit)}

    assert names == {DEMO_SCHOOL, "Fernbank Recovery School", "Northway Recovery School"}
    assert teaching.classes(shown.unit, cast.instructor.actor)[0].title == "Saturday group"


def test_it_is_made_whole_or_not_at_all(
    empty_unit: Unit, now: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken = (Retired(1, "no such item", "x", "x"),)
    monkeypatch.setattr("coursekit.services.demo.year.EVENTS", broken)
    with pytest.raises(KeyError):
        load_demo(empty_unit, now)

    assert set(rows(empty_unit).values()) == {0}


def test_a_second_instructor_signs_in_with_the_password_that_is_printed(shown: Shown) -> None:
    assert shown.demo.second is not None
    credentials = Credentials(shown.demo.second, shown.demo.password or "")
    second = accounts.sign_in(shown.unit, credentials, NOW).person

    assert second.actor.roles == {Role.INSTRUCTOR}


def test_a_student_came_back_for_another_try_and_passed(shown: Shown, first_day: ClassNow) -> None:
    results = class_results(shown.unit, shown.wren, first_day.head.id).students
    (name,) = SECOND_TRIES
    tries = next(one for one in results if one.name == name).scenarios[0].tries

    assert [one.outcome for one in tries] == ["unsafe", "competent"]


def test_a_panel_set_one_pass_mark_and_the_policy_was_changed(shown: Shown) -> None:
    judged = [one for one in standards.standards(shown.unit, shown.wren) if one.pass_mark]

    assert len(judged) == 1
    assert policies.policy_in_force(shown.unit, shown.wren).number == 1


def test_every_scenario_is_there(shown: Shown) -> None:
    slugs = {card.slug for card in preparing.list_scenarios(shown.unit, shown.wren)}

    assert slugs == {path.stem for path in resource_dir("scenarios").glob("*.yaml")}


def test_the_answers_of_a_dozen_students_show_every_verdict_and_outcome(
    first_day: ClassNow,
) -> None:
    verdicts = Counter(
        mark.verdict for one in first_day.scenarios for task in one.tasks for mark in task.marks
    )
    outcomes = {made.outcome for student in first_day.students for made in student.attempts}

    assert len(first_day.students) == 12
    assert set(verdicts) == set(VERDICTS)
    assert outcomes == {*OUTCOMES, None}
    assert any(slips for one in first_day.scenarios for t in one.tasks if (slips := t.slips))


def test_every_answer_is_marked_as_it_was_meant(first_day: ClassNow) -> None:
    for one in first_day.scenarios:
        for task in one.tasks:
            for mark in task.marks:
                again = SECOND_TRIES.get(mark.student, {})
                plan = again.get(one.scenario.id, STUDENTS[mark.student][one.scenario.id] or {})
                meant = plan.get(task.task.id, Style.RIGHT)
                if isinstance(meant, Style):
                    assert (mark.student, task.task.id, mark.verdict) == (
                        mark.student,
                        task.task.id,
                        meant,
                    )


def test_the_class_that_is_over_pulled_in_the_afternoon(first_day: ClassNow) -> None:
    assert first_day.head.status == "closed"
    assert len(first_day.pulls) == 3


def test_marks_of_the_class_that_is_over_were_changed_appealed_and_given_twice(
    shown: Shown, first_day: ClassNow
) -> None:
    (waiting,) = reviewing.waiting_requests(shown.unit, shown.wren)
    seconds = class_second_marking(shown.unit, shown.wren, first_day.head.id)

    assert waiting.student == "Kit Larkin"
    assert seconds.seen.papers == 2
    assert seconds.seen.same_marks == seconds.seen.tasks - 1


def test_one_class_is_open_to_join(shown: Shown) -> None:
    code = shown.demo.join_code
    assert code is not None

    assert answering.class_of_code(shown.unit, code, NOW).title == "Alder group, second day"


def test_the_store_has_something_of_everything(shown: Shown) -> None:
    items = kit.list_items(shown.unit, shown.wren, NOW.date())
    causes = {reason.cause for row in items if row.status == "in-store" for reason in row.due.now}
    bars = {bar for row in items for bar in row.due.bars}

    assert 38 <= len(items) <= 45
    assert {"in-store", "out", "quarantined", "retired"} == {row.status for row in items}
    assert {Cause.INSPECTION, Cause.AGE} <= causes
    assert {Bar.UNDATED, Bar.UNLABELLED, Bar.QUARANTINED, Bar.RETIRED} <= bars
    nearly = next(row for row in items if row.mark == "Rope 2")
    assert dict(nearly.due.left.pulls) == {"light": 1, "heavy": 0}
    assert sum(row.due.may_go_out or row.status == "out" for row in items) > len(items) / 2


def test_the_open_class_is_half_way_through_the_issue_of_its_kit(shown: Shown) -> None:
    class_id = shown.class_named("Alder group, second day").head.id
    found = kit_list(shown.unit, shown.wren, class_id, NOW.date())
    straps = [found.enough[row.id] for row in found.proposed if row.kind == "kinetic-strap"]

    assert all(one.rig for one in found.rigs if one.planned.is_meant)
    assert len(found.out) > 5
    assert all(found.enough[row.id].is_enough for row in (*found.out, *found.proposed))
    # Neither strap has enough left for the four pulls by itself: they take turns.
    assert [(one.planned, one.sharing, one.left) for one in straps] == [(2, 2, 9.0)] * 2


def test_retirements_are_counted_by_kind(shown: Shown) -> None:
    kinds = {row.kind for row in kit.retirement_count(shown.unit, shown.wren)}

    assert kinds == {"kinetic-rope", "roundsling", "soft-shackle", "tow-strap"}


def test_a_year_of_entries_adds_up(shown: Shown) -> None:
    found = accounting.verify(shown.unit, shown.wren)

    assert found.holds
    assert found.entries > 300
    lives = kit.item_life(shown.unit, shown.wren, _id(shown, "Rope 1"), NOW.date()).lines
    assert lives[-1].day - lives[0].day > timedelta(days=180)
    assert lives[-1].detail["destroyed"] == "cut into three, both eyes off"
    assert lives[-1].witness == "Juno Tarrant"


def test_one_snatch_of_the_year_was_measured_and_fits_a_stiffness(shown: Shown) -> None:
    straps = [
        stiffness.rope_stiffness(shown.unit, shown.wren, item.id, NOW.date())
        for item in kit.list_items(shown.unit, shown.wren, NOW.date())
        if item.kind == "kinetic-strap"
    ]
    (strap,) = [found for found in straps if found is not None]

    assert len(strap.peaks) == 1
    assert strap.fit is not None
    assert not strap.fit.is_at_an_end


def _id(shown: Shown, mark: str) -> int:
    items = kit.list_items(shown.unit, shown.wren, NOW.date())
    return next(row.id for row in items if row.mark == mark)
