"""A class that works on one scenario in US units, with a student who answers in them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import canonical_document
from coursekit.services import answering, preparing, pulls, teaching
from coursekit.services.answering import Join, TypedAnswer
from coursekit.services.pull_desk import RigPull
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast, Member

SEED = 7
# A mass for a force is read as its weight, which is then told in a unit of force.
TYPED = {"N": "1234 lb", "m": "31 ft", "m/s": "3 mph", "N/m": "200 lbf/ft"}
SI_UNITS = {
    "stand_off": "m",
    "line.available": "m",
    "kinetic.speed.lowest": "m/s",
    "kinetic.stiffness": "N/m",
}


@dataclass(frozen=True)
class UsClass:
    """The class, its scenario as it stands in its file, and who is in it."""

    class_id: int
    class_scenario_id: int
    version_id: int
    student: Member
    document: Mapping[str, Any]

    @property
    def tasks(self) -> list[str]:
        """The ids of its tasks."""
        return [task["id"] for task in self.document["tasks"]]


def us_class(unit: Unit, cast: Cast, now: datetime, name: str) -> UsClass:
    """Open a class on a scenario of the package, and let a student join it."""
    mara = cast.instructor.actor
    path = resource_dir("scenarios") / f"{name}.yaml"
    preparing.load_scenarios(unit, mara, [path], now)
    document = canonical_document(path)
    newest = preparing.newest_versions(unit, mara)
    version_id = next(one.version_id for one in newest if one.scenario.id == name)
    class_id = teaching.create_class(unit, mara, NewClass(cast.course_id, "Dry class", TODAY), now)
    teaching.choose_scenarios(unit, mara, ScenarioChoice(class_id, (version_id,), seen=1))
    code = teaching.open_class(unit, mara, class_id, now)
    joined = answering.join_class(unit, Join(code, "Bo Reed"), now)
    student = Member(joined.person.actor, "Bo Reed", joined.token)
    mine = answering.my_class(unit, student.actor).scenarios[0]
    return UsClass(class_id, mine.class_scenario_id, version_id, student, document)


def answered(unit: Unit, school: UsClass, now: datetime) -> int:
    """Answer every task, most of them wrongly, and return the attempt."""
    student = school.student.actor
    attempt_id = answering.start_attempt(unit, student, school.class_scenario_id, now, SEED)
    for task in school.document["tasks"]:
        one = TypedAnswer(attempt_id, task["id"], _typed(school, task), f"answer-{task['id']}")
        answering.save_answer(unit, student, one, now)
    return attempt_id


def pulled(unit: Unit, cast: Cast, school: UsClass, now: datetime) -> int:
    """Log a pull of the given rig with one shackle of the kit, and return it."""
    mara, version_id = cast.instructor.actor, school.version_id
    gear = [item.gear_id for item in pulls.rig_items(unit, mara, version_id, "given", now.date())]
    items = dict.fromkeys(gear) | {"soft-1": cast.items["Soft 1"]}
    pull = RigPull(school.class_id, version_id, "given", items, "came-free", "pull-us-01")
    return pulls.record_rig_pull(unit, mara, pull, now).pull_id


def _typed(school: UsClass, task: Mapping[str, Any]) -> Any:
    given = {
        "rig": {"fields": {}, "rig": school.document["rigs"]["given"]},
        "choice": next(iter(task.get("options", {"": ""}))),
        "item": next(iter(school.document["gear"])),
        "order": task.get("items", [])[::-1],
        "quantity": TYPED[SI_UNITS.get(task.get("of", ""), "N")],
    }
    return given[task["ask"]]
