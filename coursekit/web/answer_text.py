"""An answer in words: as it was typed or chosen, and how a quantity was read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from flask_babel import gettext as _

from coursekit.files.quantity_names import kind_of
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import AnyTask, ChoiceTask, ItemTask, QuantityTask, RigTask
from coursekit.web.plan import names_of
from coursekit.web.read_back import read_back

NO_BREAK = "\u00a0"


def typed_text(scenario: Scenario, task: AnyTask, typed: Any) -> str:
    """Return an answer as it was typed or chosen."""
    if typed is None:
        return ""
    if isinstance(task, QuantityTask):
        return str(typed).replace(" ", NO_BREAK)
    if isinstance(task, ChoiceTask):
        return task.options.get(str(typed), str(typed))
    if isinstance(task, RigTask):
        return _("the rig drawn here")
    return _named(names_of(scenario), task, typed)


def understood_text(scenario: Scenario, task: AnyTask, typed: Any) -> str:
    """Return how a quantity was read, where that says more than the text itself."""
    kind = kind_of(task.of, scenario.situation) if isinstance(task, QuantityTask) else None
    if kind is None or not isinstance(typed, str):
        return ""
    read = read_back(typed, kind, units_of(scenario)[Kind.FORCE])
    return "" if read == typed.strip() else read


def _named(names: dict[str, str], task: AnyTask, typed: Any) -> str:
    if isinstance(typed, Sequence) and not isinstance(typed, str):
        return "; ".join(names.get(str(each), str(each)) for each in typed) or _("none of them")
    return names.get(str(typed), str(typed)) if isinstance(task, ItemTask) else str(typed)
