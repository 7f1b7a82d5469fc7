"""Tasks as a document writes them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import (
    BeforeValidator,
    Field,
    PlainValidator,
    ValidationInfo,
    field_validator,
)

from coursekit.files.complaint import advice, complaint, text_of
from coursekit.files.plain_fields import (
    Flag,
    Identifier,
    Marks,
    MarksFromZero,
    Text,
    one_of,
    outline,
)
from coursekit.files.quantity_names import kind_of, quantity_names
from coursekit.files.spec import Spec
from coursekit.files.tolerance_spec import StatedTolerance, ToleranceOfTask
from coursekit.quantities.errors import quoted
from coursekit.quantities.units import find_unit, units_for
from coursekit.scenario.strands import STRANDS
from coursekit.scenario.tasks import (
    GIVEN_RIG,
    OWN_RIG,
    RIG_MARKS,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)

FEWEST = 2
"""Options of a choice, and things to put in order."""

_DUST = 1e-9


def _quantity_name(value: object, info: ValidationInfo) -> str:
    name, situation = text_of(value), outline(info).situation
    if kind_of(name, situation) is None:
        # Of hundreds of names, only those that begin alike help.
        names = list(quantity_names(situation))
        alike = [known for known in names if known.split(".")[0] == name.split(".")[0]] or names
        raise complaint(f"Nothing that is solved is called {quoted(name)}", advice(name, alike))
    return name


def _rig_name(value: object, info: ValidationInfo) -> str:
    name, names = text_of(value), outline(info)
    if name == OWN_RIG:
        if "rig" not in names.tasks.values():
            mend = "Add a task with ask: rig, or take a rig of the scenario"
            raise complaint("No task asks for a rig of the student's own", mend)
    elif name not in names.rigs:
        known = advice(name, dict.fromkeys([*names.rigs, OWN_RIG]))
        raise complaint(f"The scenario has no rig {quoted(name)}", known, key="rig")
    return name


def _other_task(value: object, info: ValidationInfo) -> str:
    name, known = text_of(value), list(filter(None, outline(info).tasks))
    if name not in known:
        raise complaint(f"There is no task {quoted(name)}", advice(name, known))
    if name == info.data.get("id"):
        raise complaint("A task can't come after itself", "Name a task that it builds on")
    return name


PartOfScheme = Annotated[str, one_of(RIG_MARKS, "part of a scheme")]
RigName = Annotated[str, PlainValidator(_rig_name)]


class TaskSpec(Spec):
    """What all tasks share."""

    id: Identifier = Field(examples=["total"])
    marks: Marks = Field(examples=["3"])
    prompt: Text | None = None
    after: tuple[Annotated[str, PlainValidator(_other_task)], ...] = ()
    strand: Annotated[str, one_of(STRANDS, "strand")] | None = None

    def _shared(self) -> dict[str, Any]:
        return {
            "id": self.id,
            "marks": self.marks,
            "prompt": self.prompt,
            "after": self.after,
            "strand": self.strand,
        }


class QuantityTaskSpec(TaskSpec):
    """Asks for a solved quantity."""

    ask: Literal["quantity"]
    of: Annotated[str, PlainValidator(_quantity_name)] = Field(examples=["resistance.total"])
    rig: RigName = Field(default=GIVEN_RIG, validate_default=True)
    tolerance: ToleranceOfTask = StatedTolerance()
    unit: Text | None = None
    catches: tuple[Text, ...] = ()

    @field_validator("unit")
    @classmethod
    def _of_its_kind(cls, unit: str, info: ValidationInfo) -> str:
        kind = kind_of(info.data.get("of", ""), outline(info).situation)
        if kind is not None and find_unit(unit) not in units_for(kind):
            known = ", ".join(each.symbol for each in units_for(kind) if each.symbol)
            raise complaint(f"{quoted(unit)} is no unit of {kind.phrase}", f"Use one of {known}")
        return unit

    def task(self) -> QuantityTask:
        """Return the task in SI."""
        return QuantityTask(
            **self._shared(),
            of=self.of,
            rig=self.rig,
            tolerance=self.tolerance.tolerance(),
            unit=self.unit,
            catches=self.catches,
        )


class RigTaskSpec(TaskSpec):
    """Asks for a rig."""

    ask: Literal["rig"]
    scheme: dict[Annotated[str, one_of(RIG_MARKS, "part of a scheme")], MarksFromZero] = Field(
        default={}
    )

    @field_validator("scheme")
    @classmethod
    def _adds_up(cls, scheme: dict[str, float], info: ValidationInfo) -> dict[str, float]:
        marks = info.data.get("marks")
        total = sum(scheme.values())
        if marks is not None and abs(total - marks) > _DUST:
            what = f"The scheme adds up to {total:g}, and the task gives {marks:g}"
            raise complaint(what, "Make both the same")
        return scheme

    def task(self) -> RigTask:
        """Return the task; without a scheme all its marks are for a safe rig."""
        return RigTask(**self._shared(), scheme=self.scheme or {"safe": self.marks})


class ItemTaskSpec(TaskSpec):
    """Asks for one item."""

    ask: Literal["item"]
    of: Annotated[str, one_of(("weakest",), "item to ask for")] = "weakest"
    rig: RigName = Field(default=GIVEN_RIG, validate_default=True)

    def task(self) -> ItemTask:
        """Return the task."""
        return ItemTask(**self._shared(), of=self.of, rig=self.rig)


class ItemsTaskSpec(TaskSpec):
    """Asks for a set of items."""

    ask: Literal["items"]
    of: Annotated[str, one_of(("unfit",), "set of items to ask for")] = "unfit"

    def task(self) -> ItemsTask:
        """Return the task."""
        return ItemsTask(**self._shared(), of=self.of)


class ChoiceTaskSpec(TaskSpec):
    """Asks to choose."""

    ask: Literal["choice"]
    options: dict[Text, Text] = Field(examples=["{go: pull now, no-go: do not pull}"])
    answer: Text = Field(examples=["go"])
    because: Text | None = None
    critical: Flag = False

    @field_validator("options")
    @classmethod
    def _leaves_a_choice(cls, options: dict[str, str]) -> dict[str, str]:
        if len(options) < FEWEST:
            raise complaint("One option leaves nothing to choose", "Add another")
        return options

    @field_validator("answer")
    @classmethod
    def _among_the_options(cls, answer: str, info: ValidationInfo) -> str:
        options = info.data.get("options", {answer: ""})
        if answer not in options:
            raise complaint(f"{quoted(answer)} is not among the options", advice(answer, options))
        return answer

    def task(self) -> ChoiceTask:
        """Return the task."""
        return ChoiceTask(
            **self._shared(),
            options=self.options,
            answer=self.answer,
            because=self.because or "",
            critical=self.critical,
        )


class OrderTaskSpec(TaskSpec):
    """Asks to put things in order."""

    ask: Literal["order"]
    items: tuple[Text, ...] = Field(examples=["[brief everyone, walk the line, take the slack]"])

    @field_validator("items")
    @classmethod
    def _has_one_order(cls, items: tuple[str, ...]) -> tuple[str, ...]:
        if len(items) < FEWEST:
            raise complaint("One thing needs no order", "Add another")
        if len(set(items)) < len(items):
            raise complaint("The same thing stands in it twice", "Word each so that it differs")
        return items

    def task(self) -> OrderTask:
        """Return the task."""
        return OrderTask(**self._shared(), items=self.items)


ASKED = ("quantity", "rig", "item", "items", "choice", "order")


def _asks_for_something(value: Any) -> Any:
    if isinstance(value, Mapping):
        asked = value.get("ask")
        if asked is None:
            known = f"Add ask: with one of {', '.join(ASKED)}"
            raise complaint("The task does not say what it asks for", known, key="ask")
        if asked not in ASKED:
            what = f"A task can't ask for {quoted(str(asked))}"
            raise complaint(what, advice(str(asked), ASKED), key="ask")
    return value


AnyTaskSpec = Annotated[
    QuantityTaskSpec | RigTaskSpec | ItemTaskSpec | ItemsTaskSpec | ChoiceTaskSpec | OrderTaskSpec,
    Field(discriminator="ask"),
    BeforeValidator(_asks_for_something),
]
