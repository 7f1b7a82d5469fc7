"""What an invented student types: right, or wrong in a way that people really are wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from coursekit.files.quantity_names import kind_of
from coursekit.files.rig_file import rig_document
from coursekit.quantities.display import show
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.solver import Solution, solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number, slip_distances
from coursekit.scenario.tasks import (
    GIVEN_RIG,
    OWN_RIG,
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)

# A slip must lie so many tolerances off, or it would be marked as right.
CLEAR_OF_THE_TRUTH = 2.0
# A number that follows from nothing.
FAR_OFF = 2.63


class Style(StrEnum):
    """How a student answers a task."""

    RIGHT = "right"
    CARRIED = "carried"
    UNIT = "unit"
    SLIP = "slip"
    PART = "part"
    WRONG = "wrong"
    MISSING = "missing"


# A task of a rig is answered with one of the scenario's rigs, by its name.
Plan = Mapping[str, Style | str]


@dataclass
class Paper:
    """One student at one scenario; `values` are the student's own answers so far."""

    scenario: Scenario
    plan: Plan
    own: Solution | None = None
    values: dict[str, float] = field(default_factory=dict)

    def typed(self) -> dict[str, Any]:
        """Return what is typed for each task that is answered at all."""
        answers = {}
        for task in self.scenario.tasks:
            style = self.plan.get(task.id, GIVEN_RIG if isinstance(task, RigTask) else Style.RIGHT)
            if style != Style.MISSING:
                answers[task.id] = self._answer(task, style)
        return answers

    def _answer(self, task: AnyTask, style: str) -> Any:
        match task:
            case QuantityTask():
                return self._quantity(task, Style(style))
            case RigTask():
                return self._rig(style)
            case ItemTask():
                return self._item(task, Style(style))
            case ItemsTask():
                return self._unfit(Style(style))
            case ChoiceTask():
                return _choice(task, Style(style))
            case OrderTask():
                return _order(task, Style(style))

    def _solution(self, rig: str) -> Solution:
        if rig == OWN_RIG and self.own is not None:
            return self.own
        name = GIVEN_RIG if rig == OWN_RIG else rig
        return solve(self.scenario.situation, self.scenario.rigs[name])

    def _rig(self, name: str) -> dict[str, Any]:
        rig = self.scenario.rigs[name]
        self.own = solve(self.scenario.situation, rig)
        return rig_document(rig)

    def _quantity(self, task: QuantityTask, style: Style) -> str:
        solution = self._solution(task.rig)
        kind = kind_of(task.of, self.scenario.situation) or Kind.RATIO
        value = self._value(task, solution, style)
        self.values[task.of] = value
        unit = units_of(self.scenario)[kind]
        if style is Style.UNIT:
            # The digits of newtons with the unit of the form beside them.
            return show(value, kind, "N").replace(" N", f" {unit}")
        return show(value, kind, unit)

    def _value(self, task: QuantityTask, solution: Solution, style: Style) -> float:
        truth = float(solution.values[task.of])
        if style is Style.CARRIED:
            own = {key: value for key, value in self.values.items() if key in solution.chain}
            return float(solution.chain.fold(own)[task.of])
        if style is Style.SLIP:
            return _slipped(task, solution)
        # Another factor each time, so that one wrong number doesn't follow from the last.
        return truth * (FAR_OFF + len(self.values)) if style is Style.WRONG else truth

    def _item(self, task: ItemTask, style: Style) -> str:
        solution = self._solution(task.rig)
        weakest = solution.weakest
        right = weakest.item if weakest else ""
        others = (use.item for use in solution.uses if use.item != right)
        return right if style is Style.RIGHT else next(others)

    def _unfit(self, style: Style) -> list[str]:
        gear = self.scenario.situation.gear
        unfit = [name for name, item in gear.items() if item.condition]
        return unfit if style is Style.RIGHT else unfit[:-1]


def _slipped(task: QuantityTask, solution: Solution) -> float:
    """Return what the first usual mistake leads to that is clear of the truth."""
    clear = {key for key, away in slip_distances(task, solution) if away > CLEAR_OF_THE_TRUTH}
    for slip in solution.chain.slips_at(task.of, solution.values):
        if slip.slip.key in clear and is_number(slip.value) and slip.value > 0.0:
            return slip.value
    raise LookupError(f"{task.id}: no usual mistake is clear of the truth")


def _choice(task: ChoiceTask, style: Style) -> str:
    others = [option for option in task.options if option != task.answer]
    return task.answer if style is Style.RIGHT else others[0]


def _order(task: OrderTask, style: Style) -> list[str]:
    items = list(task.items)
    if style is Style.PART:
        items[-2:] = reversed(items[-2:])
    elif style is Style.WRONG:
        items.reverse()
    return items
