"""The rig that a student built, read back from what was typed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coursekit.files.rig_file import rig_from_document
from coursekit.problems import Problems, Where
from coursekit.rigging.rig import Rig
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import RigTask


def own_rig(scenario: Scenario, answers: Mapping[str, Any]) -> Rig | None:
    """Return the student's own rig, None where there is none that can be read."""
    document = own_rig_document(scenario, answers)
    return None if document is None else _read(scenario, document)


def own_rig_document(scenario: Scenario, answers: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """Return the document of the rig that the student built, None where none was."""
    for task in scenario.tasks:
        typed = answers.get(task.id)
        if isinstance(task, RigTask) and isinstance(typed, Mapping):
            document: Mapping[str, Any] = typed.get("rig", typed)
            return document
    return None


def _read(scenario: Scenario, document: Mapping[str, Any]) -> Rig | None:
    try:
        return rig_from_document(document, Where("rig"), scenario.situation)
    except Problems:
        return None
