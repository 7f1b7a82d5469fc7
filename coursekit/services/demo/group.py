"""A class that is over: a dozen invented students, and how each answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from coursekit.services import answering, retries, teaching
from coursekit.services.actor import Actor
from coursekit.services.answering import Join, TypedAnswer
from coursekit.services.class_now import class_now
from coursekit.services.demo.asked_back import reply_to_all
from coursekit.services.demo.days import FIRST_DAY
from coursekit.services.demo.papers import Paper, Plan, Style
from coursekit.services.demo.year import Yard
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit

PAST_SCENARIOS = ("meadow-gate", "snow-lane")
DAYS_AGO = 14
ALL_RIGHT: Plan = {}
_STEADY: Mapping[str, Plan] = {"meadow-gate": ALL_RIGHT, "snow-lane": ALL_RIGHT}
# Each student's plan by scenario; what a plan doesn't name is answered right.
# None for a scenario that was begun and never handed in.
STUDENTS: Mapping[str, Mapping[str, Plan | None]] = {
    "Abel Strand": _STEADY,
    "Bryn Oakes": {
        "meadow-gate": {"slope": Style.SLIP, "total": Style.CARRIED},
        "snow-lane": {"total": Style.SLIP, "pull": Style.CARRIED, "point": Style.CARRIED},
    },
    "Cora Venn": {
        "meadow-gate": {"total": Style.UNIT, "bin": Style.PART},
        "snow-lane": {"total": Style.UNIT, "lines": Style.WRONG},
    },
    "Dilys Marsh": {
        "meadow-gate": {"build": "on-the-ball", "limit": Style.SLIP},
        "snow-lane": {"build": "on-the-axle-ring", "point": Style.MISSING},
    },
    "Emil Farrow": {
        "meadow-gate": {"limit": Style.SLIP, "use": Style.CARRIED, "steps": Style.PART},
        "snow-lane": {"advantage": Style.SLIP, "pull": Style.CARRIED, "point": Style.MISSING},
    },
    "Freya Stannard": _STEADY,
    "Gus Holloway": {
        "meadow-gate": {
            "slope": Style.WRONG,
            "total": Style.CARRIED,
            "limit": Style.MISSING,
            "use": Style.MISSING,
        },
        "snow-lane": None,
    },
    "Hanne Birk": {
        "meadow-gate": {"build": "steel", "slope": Style.SLIP},
        "snow-lane": {"build": "one-line", "pull": Style.SLIP},
    },
    "Idony Crewe": {
        "meadow-gate": {"bin": Style.PART, "build": "rusty-bow", "use": Style.MISSING},
        "snow-lane": {"build": "soft-at-the-block", "weak": Style.WRONG},
    },
    "Jory Penhale": {
        "meadow-gate": {"total": Style.SLIP, "steps": Style.WRONG},
        "snow-lane": {"total": Style.WRONG, "pull": Style.WRONG, "weak": Style.WRONG},
    },
    "Kit Larkin": {
        "meadow-gate": {"slope": Style.SLIP, "total": Style.SLIP, "use": Style.WRONG},
        "snow-lane": {"advantage": Style.SLIP, "point": Style.SLIP},
    },
    "Lowri Tamm": {
        "meadow-gate": {"limit": Style.UNIT, "bin": Style.PART},
        "snow-lane": {"point": Style.UNIT},
    },
}
# Who came back the next morning for another try, and how it went.
SECOND_TRIES: Mapping[str, Mapping[str, Plan]] = {"Idony Crewe": {"meadow-gate": ALL_RIGHT}}


@dataclass(frozen=True)
class PastClass:
    """The class that is over: when, and each student's paper of each scenario."""

    over: datetime
    papers: Mapping[tuple[str, str], tuple[Actor, int]]


# Who replied when they were asked back, and whether they made the mistake again.
ASKED_BACK: Mapping[str, bool] = {"Bryn Oakes": True, "Hanne Birk": True, "Kit Larkin": False}


def fill_past_class(yard: Yard, course_id: int) -> PastClass:
    """Teach a class from its first code to its close, with pulls in the afternoon."""
    unit, wren, morning = yard.unit, yard.wren, yard.at(DAYS_AGO)
    version_ids = tuple(yard.versions[slug] for slug in PAST_SCENARIOS)
    new = NewClass(course_id, "Alder group, first day", morning.date())
    class_id = teaching.create_class(unit, wren, new, morning)
    teaching.choose_scenarios(unit, wren, ScenarioChoice(class_id, version_ids, seen=1))
    code = teaching.open_class(unit, wren, class_id, morning)
    places = {
        one.scenario.id: one.class_scenario_id for one in class_now(unit, wren, class_id).scenarios
    }
    papers = {}
    for number, (name, plans) in enumerate(STUDENTS.items(), start=1):
        joined_at = morning + timedelta(seconds=40 * number)
        student = answering.join_class(unit, Join(code, name), joined_at).person.actor
        for slug, plan in plans.items():
            joined_at += timedelta(minutes=25)
            attempt_id = answering.start_attempt(unit, student, places[slug], joined_at, number)
            _answer(unit, student, attempt_id, plan, joined_at)
            papers[name, slug] = (student, attempt_id)
        for slug, plan in SECOND_TRIES.get(name, {}).items():
            again_at = joined_at + timedelta(hours=24)
            attempt_id = retries.try_again(unit, student, places[slug], again_at, (number + 100,))
            _answer(unit, student, attempt_id, plan, again_at)
    yard.pull(class_id, FIRST_DAY, morning + timedelta(hours=4))
    over = morning + timedelta(hours=30)
    teaching.close_class(unit, wren, class_id, over)
    for (name, _slug), (student, attempt_id) in papers.items():
        if name in ASKED_BACK:
            reply_to_all(unit, student, attempt_id, over, again=ASKED_BACK[name])
    return PastClass(over, papers)


def _answer(unit: Unit, student: Actor, attempt_id: int, plan: Plan | None, at: datetime) -> None:
    scenario = answering.attempt_view(unit, student, attempt_id).scenario
    typed = Paper(scenario, plan if plan is not None else ALL_RIGHT).typed()
    answers = list(typed.items()) if plan is not None else list(typed.items())[:2]
    for step, (task_id, text) in enumerate(answers, start=1):
        one = TypedAnswer(attempt_id, task_id, text, f"demo-{attempt_id}-{step}")
        answering.save_answer(unit, student, one, at + timedelta(minutes=2 * step))
    if plan is not None:
        answering.submit_attempt(unit, student, attempt_id, at + timedelta(minutes=22))
