"""Which rig a pull is about: one of a scenario's, or the one that a student built."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask_babel import gettext as _
from werkzeug.exceptions import NotFound

from coursekit.problems import Problems
from coursekit.rigging.rig import Rig
from coursekit.scenario.model import Scenario
from coursekit.services import answering
from coursekit.services.class_now import ClassNow, ScenarioNow
from coursekit.services.loads import rig_meant
from coursekit.web.identity import actor, unit
from coursekit.web.own_rig import own_rig_document


@dataclass(frozen=True)
class Pulled:
    """A rig that is or was pulled; `args` bring its page back."""

    class_id: int
    version_id: int
    scenario: Scenario
    document: str | Mapping[str, Any]
    rig: Rig
    title: str
    args: Mapping[str, Any]


def pulled_rig(now: ClassNow, args: Mapping[str, str]) -> Pulled:
    """Return the rig that an address names; not found where the class has no such rig."""
    if "attempt" in args:
        return _of_student(now, args["attempt"])
    return _of_scenario(now, args.get("scenario", ""), args.get("rig", ""))


def _of_scenario(now: ClassNow, key: str, name: str) -> Pulled:
    held = next((one for one in now.scenarios if str(one.class_scenario_id) == key), None)
    rig = held.scenario.rigs.get(name) if held else None
    if held is None or rig is None:
        raise NotFound
    title = _("%(rig)s, %(scenario)s", rig=rig_name(name), scenario=held.scenario.title)
    return Pulled(
        now.head.id,
        held.version_id,
        held.scenario,
        name,
        rig,
        title,
        {"scenario": held.class_scenario_id, "rig": name},
    )


def _of_student(now: ClassNow, key: str) -> Pulled:
    held = _held(now, key)
    result = answering.result_view(unit(), actor(), int(key))
    document = own_rig_document(result.scenario, result.answers)
    if document is None:
        raise NotFound
    title = _("%(name)s's rig, %(scenario)s", name=result.student, scenario=held.scenario.title)
    try:
        rig = rig_meant(held.scenario, document)
    except Problems as error:
        raise NotFound from error
    return Pulled(
        now.head.id, held.version_id, held.scenario, document, rig, title, {"attempt": int(key)}
    )


def _held(now: ClassNow, key: str) -> ScenarioNow:
    """Return the scenario of an attempt that was made in this class."""
    attempts = [attempt for student in now.students for attempt in student.attempts]
    found = next((a for a in attempts if str(a.attempt_id) == key), None)
    if found is None or found.status != "submitted":
        raise NotFound
    return next(s for s in now.scenarios if s.class_scenario_id == found.class_scenario_id)


def rig_name(name: str) -> str:
    """Return the name of a scenario's rig as it is told.

    >>> rig_name("double-line")
    'Double line'
    """
    words = name.replace("-", " ").replace("_", " ")
    return _("The given rig") if name == "given" else words[:1].upper() + words[1:]
