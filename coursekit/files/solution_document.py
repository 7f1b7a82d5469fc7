"""A solved rig as the JSON of `solve`, in SI; what has no meaning is null."""

from __future__ import annotations

import math
from typing import Any

from coursekit.rigging.findings import Finding
from coursekit.rigging.solver import (
    SOLVER_VERSION,
    ItemLoad,
    LineLoad,
    PlaceLoad,
    Solution,
    Weakest,
)
from coursekit.rigging.steps import Step
from coursekit.scenario.model import Scenario


def solution_document(scenario: Scenario, solution: Solution) -> dict[str, Any]:
    """Return everything that is known of a solved rig, as plain data."""
    quantities = {key: plain(value) for key, value in solution.quantities.items()}
    return {
        "scenario": scenario.id,
        "digest": scenario.digest,
        "solver": SOLVER_VERSION,
        "method": solution.situation.method,
        "rig_method": solution.rig.method,
        "quantities": quantities,
        "lines": [_line(line) for line in solution.lines],
        "places": [_place(place) for place in solution.places],
        "weakest": None if solution.weakest is None else _weakest(solution.weakest),
        "findings": [_finding(finding) for finding in solution.findings],
        "steps": [_step(step, solution) for step in solution.chain],
        "safe": solution.is_safe,
    }


def plain(value: Any) -> Any:
    """Return a value as JSON can hold it: a number that is none becomes null.

    >>> plain(2.5), plain(math.inf), plain(math.nan), plain(True)
    (2.5, None, None, True)
    """
    return None if isinstance(value, float) and not math.isfinite(value) else value


def _item(item: ItemLoad) -> dict[str, Any]:
    return {
        "item": item.item,
        "load": plain(item.load),
        "limit": plain(item.limit),
        "use": plain(item.use),
        "safety_factor": plain(item.safety_factor),
    }


def _line(line: LineLoad) -> dict[str, Any]:
    items = [_item(item) for item in line.items]
    return {"from": line.start, "role": line.role, "load": plain(line.load), "items": items}


def _place(place: PlaceLoad) -> dict[str, Any]:
    return {
        "at": place.at,
        "load": plain(place.load),
        "bearing": plain(place.bearing),
        "holds": plain(place.holds),
        "items": [_item(item) for item in place.items],
    }


def _weakest(weakest: Weakest) -> dict[str, Any]:
    return {"item": weakest.item, "at": weakest.at, "use": plain(weakest.use)}


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "at": finding.at,
        "item": finding.item,
        "message": str(finding.message),
    }


def _step(step: Step, solution: Solution) -> dict[str, Any]:
    return {
        "key": step.key,
        "name": str(step.title),
        "symbol": step.symbol,
        "formula": str(step.working),
        "value": plain(solution.values[step.key]),
        "unit": step.unit,
        "source": step.source,
    }
