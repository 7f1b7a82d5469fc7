"""Typed answers as the marking reads them; what was typed is kept beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from coursekit.assessment.replies import (
    NameReply,
    NamesReply,
    QuantityReply,
    Reading,
    Reply,
    RigReply,
)
from coursekit.files.quantity_names import kind_of
from coursekit.files.rig_file import rig_from_document
from coursekit.problems import Problem, Problems, Where
from coursekit.quantities.errors import (
    AmbiguousNumber,
    AmbiguousTon,
    MissingUnit,
    QuantityError,
)
from coursekit.quantities.parse import Quantity, other_readings, parse_quantity, read_number
from coursekit.quantities.units import Kind, si_factor, units_for
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import AnyTask, ItemsTask, OrderTask, QuantityTask, RigTask

# The number may still be right, so these are marked; the rest is no number at all.
_UNIT_UNCLEAR = (MissingUnit, AmbiguousTon)


def replies_of(
    scenario: Scenario, typed: Mapping[str, Any], *, decimal_comma: bool | None = None
) -> dict[str, Reply | None]:
    """Return each task's reply; None where nothing was answered."""
    return {
        task.id: reply_of(scenario, task, typed.get(task.id), decimal_comma=decimal_comma)
        for task in scenario.tasks
    }


def reply_of(
    scenario: Scenario, task: AnyTask, typed: Any, *, decimal_comma: bool | None = None
) -> Reply | None:
    """Return one task's reply as typed or chosen; None where it is empty."""
    if typed is None or (isinstance(typed, str) and not typed.strip()):
        return None
    if isinstance(task, QuantityTask):
        kind = kind_of_task(scenario, task)
        return quantity_reply(_text(typed), kind, task.unit, decimal_comma=decimal_comma)
    if isinstance(task, RigTask):
        return _rig_reply(scenario, task, typed)
    if isinstance(task, ItemsTask | OrderTask):
        names = typed if isinstance(typed, list | tuple) else [typed]
        return NamesReply(tuple(_text(name) for name in names))
    return NameReply(_text(typed))


def _text(typed: Any) -> str:
    """Return what was typed as text, also where a file has a list or a mapping in its place."""
    if isinstance(typed, list | tuple):
        return ", ".join(_text(part) for part in typed)
    if isinstance(typed, Mapping):
        return ", ".join(f"{key}: {_text(part)}" for key, part in typed.items())
    return str(typed)


def kind_of_task(scenario: Scenario, task: QuantityTask) -> Kind:
    """Return the kind of quantity that a task asks for."""
    return kind_of(task.of, scenario.situation) or Kind.RATIO


def quantity_reply(
    text: str, kind: Kind, fixed_unit: str | None = None, *, decimal_comma: bool | None = None
) -> QuantityReply:
    """Return a typed quantity with its other readings.

    `fixed_unit` is the one that the task asks for: it goes with a number typed without one.

    >>> quantity_reply("6390", Kind.FORCE).value is None
    True
    >>> quantity_reply("6390", Kind.FORCE, "N").value
    6390.0
    >>> quantity_reply("6.4 kN", Kind.FORCE, "N").value
    6400.0
    """
    try:
        read = parse_quantity(text, kind, decimal_comma=decimal_comma, default_unit=fixed_unit)
    except _UNIT_UNCLEAR as error:
        readings = tuple(_all_readings(text, kind, decimal_comma=decimal_comma))
        return QuantityReply(text, None, readings=readings, note=error.what)
    except QuantityError as error:
        return QuantityReply(text, None, note=error.what)
    note = read.read_as or _as_asked(read)
    return QuantityReply(text, read.value, _rounding(read), _others(read), note)


def _as_asked(read: Quantity) -> str:
    """Return that the unit is the one that the task asks for; empty where it was typed."""
    number = read.text.strip()
    is_bare = number[-1].isdigit() and read.unit.symbol
    return f"{number} read in {read.unit}, as the task asks" if is_bare else ""


def _rounding(read: Quantity) -> float:
    return abs(read.half_last_digit / read.value) if read.value else 0.0


def _others(read: Quantity) -> tuple[Reading, ...]:
    others = [Reading(str(unit), value) for unit, value in other_readings(read)]
    if read.kind is Kind.RATIO:
        return tuple(reading for reading in others if reading.unit)
    return tuple(others)


def _all_readings(text: str, kind: Kind, *, decimal_comma: bool | None) -> Iterator[Reading]:
    try:
        number = read_number(text, decimal_comma=decimal_comma).magnitude
    except AmbiguousNumber:
        return
    for unit in units_for(kind):
        yield Reading(str(unit), float(number * si_factor(unit, kind)))


def _rig_reply(scenario: Scenario, task: RigTask, typed: Any) -> RigReply:
    where = Where(f"answers.{task.id}")
    if not isinstance(typed, Mapping):
        what = "This is no rig"
        return RigReply(None, (Problem(where, what, "Give a method and its lines"),))
    try:
        return RigReply(rig_from_document(typed, where, scenario.situation))
    except Problems as problems:
        return RigReply(None, problems.items)
