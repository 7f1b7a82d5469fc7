"""A worked solution as the further keys of `solve --worked --json`, in SI."""

from __future__ import annotations

from typing import Any

from coursekit.files.solution_document import plain
from coursekit.rigging.methods import BothMethods, Compared, OnlyOne, by_both
from coursekit.rigging.polygons import PlaceForces, place_forces
from coursekit.rigging.solver import Solution
from coursekit.rigging.working import Reader, tell, worked_solution
from coursekit.scenario.model import Scenario


def worked_document(scenario: Scenario, solution: Solution) -> dict[str, Any]:
    """Return the steps with their numbers, the forces at each place, and both methods."""
    reader = Reader(_in_si)
    told = [tell(step, reader) for part in worked_solution(solution) for step in part.steps]
    return {
        "worked": [
            {"key": step.key, "put_in": step.put_in, "numbers": step.numbers, "limits": step.limits}
            for step in told
        ],
        "forces": [_place(place) for place in place_forces(solution)],
        "methods": _methods(by_both(scenario.situation, solution.rig)),
    }


def _in_si(value: float, unit: str, _rounds: str) -> str:
    return f"{value:.6g}" if unit == "-" else f"{value:.6g} {unit}"


def _place(place: PlaceForces) -> dict[str, Any]:
    return {
        "at": place.at,
        "load": plain(place.load),
        "bearing": plain(place.bearing),
        "angle": plain(place.angle),
        "parts": [
            {"toward": part.toward, "tension": plain(part.tension), "bearing": plain(part.bearing)}
            for part in place.parts
        ],
    }


def _methods(both: BothMethods) -> dict[str, Any]:
    return {
        "refused": None if both.refused is None else str(both.refused),
        "quantities": [_compared(each) for each in both.compared],
        "only_one": [_only(only) for only in both.only_one],
    }


def _compared(each: Compared) -> dict[str, Any]:
    return {
        "key": each.step.key,
        "vector": plain(each.by_vector),
        "field_rule": plain(each.by_field_rule),
        "difference": plain(each.difference),
        "off_safe_side": each.off_safe_side,
        "reasons": [str(reason) for reason in each.reasons],
    }


def _only(only: OnlyOne) -> dict[str, Any]:
    return {"method": only.method, "rule": only.finding.rule, "severity": only.finding.severity}
