"""The forms of the answer area: one for each way of asking, and how each is read."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from wtforms import HiddenField, RadioField, SelectField, TextAreaField, ValidationError

from coursekit.assessment.moderation import LONGEST_APPEAL
from coursekit.files.quantity_names import kind_of
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
)
from coursekit.web import words
from coursekit.web.fields import Form, QuantityField, TickField, fresh_key, options, required
from coursekit.web.questions import question

WANTED = _l("Answer this, or go on without an answer.")
NO_ITEM = "-"


class AppealForm(Form):
    """Asks for another look at the own paper."""

    reason = TextAreaField(
        _l("What should be looked at again, and why?"), validators=required(LONGEST_APPEAL)
    )


class AnswerForm(Form):
    """What every answer carries: the key that makes it count once however often it is sent."""

    template: ClassVar[str] = ""
    key = HiddenField()

    def renew_key(self) -> None:
        """Give the form a key of its own, for what will be sent next."""
        self.key.data = fresh_key()

    @property
    def typed(self) -> Any:
        """The answer as typed, in the form that is stored."""
        return self["answer"].data


class QuantityAnswer(AnswerForm):
    """A number with its unit."""

    template = "quantity"
    answer = QuantityField()

    def __init__(
        self, kind: Kind, label: str, example_unit: str, fixed_unit: str = "", **kwargs: Any
    ) -> None:
        super().__init__(**kwargs)
        self.answer.kind = kind
        self.answer.example_unit = fixed_unit or example_unit
        self.answer.label.text = label
        self.fixed_unit = fixed_unit
        if fixed_unit:
            self.answer.chosen_unit = fixed_unit

    def validate_answer(self, field: QuantityField) -> None:
        """Ask for an answer where nothing is typed."""
        if not (field.data or "").strip():
            raise ValidationError(str(WANTED))

    @property
    def typed(self) -> str:
        """The answer as typed."""
        return self.answer.typed


class OneAnswer(AnswerForm):
    """One of a list: an item, or a choice."""

    template = "one"
    answer = RadioField(validate_choice=True)

    def __init__(self, choices: Sequence[tuple[str, str]], label: str, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.answer.choices = options(choices)
        self.answer.label.text = label


class SomeAnswer(AnswerForm):
    """Any number of a list; none of them has a box of its own."""

    template = "some"
    answer = TickField()

    def __init__(self, choices: Sequence[tuple[str, str]], label: str, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.answer.choices = options([*choices, (NO_ITEM, _("None of them"))])
        self.answer.label.text = label

    def validate_answer(self, field: TickField) -> None:
        """Ask where nothing is ticked, and where `none` stands beside something."""
        if not field.data:
            raise ValidationError(str(WANTED))
        if NO_ITEM in field.data and len(field.data) > 1:
            raise ValidationError(_("Tick either some of them, or none of them."))

    @property
    def typed(self) -> list[str]:
        """The answer as typed."""
        return [item for item in self.answer.data or [] if item != NO_ITEM]


class OrderAnswer(AnswerForm):
    """Each thing with the number of its place."""

    template = "order"
    things: tuple[str, ...] = ()

    @property
    def places(self) -> tuple[SelectField, ...]:
        """The selects, in the order in which the things are shown."""
        return tuple(self[f"place-{i}"] for i in range(len(self.things)))

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether every place is taken once."""
        holds = super().validate(extra_validators)
        numbers = sorted(field.data or "" for field in self.places)
        if numbers != sorted(str(n + 1) for n in range(len(self.things))):
            self.notices.append(_("Give each line its own number, 1 to %(n)s.", n=len(self.things)))
            return False
        return holds

    @property
    def typed(self) -> list[str]:
        """The things in the order of their numbers."""
        order = sorted(range(len(self.things)), key=lambda i: int(self.places[i].data))
        return [self.things[i] for i in order]


def task_form(scenario: Scenario, task: AnyTask, attempt_id: int, saved: Any) -> AnswerForm:
    """Return the form of a task that is not a rig, filled with what was saved last."""
    label = question(scenario, task)
    match task:
        case QuantityTask():
            kind, kwargs = _kind(scenario, task), {} if saved is None else {"answer": saved}
            usual = units_of(scenario)[kind]
            return QuantityAnswer(kind, label, usual, task.unit or "", data=kwargs)
        case ItemTask():
            return OneAnswer(_items(scenario, task), label, data={"answer": saved})
        case ItemsTask():
            ticked = None if saved is None else saved or [NO_ITEM]
            return SomeAnswer(_gear(scenario), label, data={"answer": ticked})
        case ChoiceTask():
            return OneAnswer(list(task.options.items()), label, data={"answer": saved})
        case OrderTask():
            return _order_form(shuffled(task.items, attempt_id), saved)
    raise AssertionError(task)


def shuffled(items: tuple[str, ...], attempt_id: int) -> tuple[str, ...]:
    """Return the items in an order of the attempt's own that is not the right one.

    >>> sorted(shuffled(("a", "b", "c"), 7))
    ['a', 'b', 'c']
    >>> any(shuffled(("a", "b"), n) == ("a", "b") for n in range(20))
    False
    """

    def lot(item: str) -> bytes:
        return hashlib.sha256(f"{attempt_id}:{item}".encode()).digest()

    drawn = tuple(sorted(items, key=lot))
    return (*drawn[1:], drawn[0]) if drawn == items else drawn


def _order_form(things: tuple[str, ...], saved: Sequence[str] | None) -> OrderAnswer:
    numbers = [("", "\u2013"), *((str(n + 1), str(n + 1)) for n in range(len(things)))]
    fields = {
        f"place-{i}": SelectField(thing, choices=options(numbers)) for i, thing in enumerate(things)
    }
    made: type[OrderAnswer] = type("OrderAnswerOfTask", (OrderAnswer,), fields | {"things": things})
    places = (
        {}
        if saved is None
        else {
            f"place-{i}": str(saved.index(thing) + 1)
            for i, thing in enumerate(things)
            if thing in saved
        }
    )
    return made(data=places)


def _kind(scenario: Scenario, task: QuantityTask) -> Kind:
    # Every task was checked for it when its file was read.
    return kind_of(task.of, scenario.situation) or Kind.FORCE


def _gear(scenario: Scenario) -> list[tuple[str, str]]:
    return [
        (name, f"{words.item_name(name)} ({words.KINDS[item.kind]})")
        for name, item in scenario.situation.gear.items()
    ]


def _items(scenario: Scenario, _task: ItemTask) -> list[tuple[str, str]]:
    """Return all that may be the weakest: gear, points of the vehicles, anchors."""
    situation = scenario.situation
    points = [f"{name}.{point}" for name, v in situation.vehicles() for point in v.points]
    places = [*points, *situation.anchors]
    return [*_gear(scenario), *((place, words.place_name(situation, place)) for place in places)]
