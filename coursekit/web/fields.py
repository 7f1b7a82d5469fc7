"""Forms and fields that lose nothing: what was typed stays, the message stands beside it."""

from __future__ import annotations

import secrets
from collections.abc import Iterable, Iterator, Mapping, Sequence
from http import HTTPStatus
from typing import Any, cast

from babel.numbers import get_decimal_symbol
from flask_babel import get_locale
from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString
from flask_wtf import FlaskForm
from wtforms import Field, FieldList, FormField, SelectMultipleField, StringField, ValidationError
from wtforms.fields.choices import SelectChoice
from wtforms.validators import InputRequired, Length
from wtforms.widgets import CheckboxInput, ListWidget

from coursekit.problems import CoursekitError, Problem, Problems
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import Quantity, parse_quantity
from coursekit.quantities.units import Kind, units_for
from coursekit.services.errors import TooManyTries
from coursekit.web.security import token_is_stale

STALE = _l(
    "This page stood open for long, or you signed in again. "
    "What you typed is still here: send it once more."
)
NEEDED = _l("Fill this in.")
TOO_LONG = _l("At most %(max)d characters.")


class Form(FlaskForm):
    """The base of every form: stale tokens keep the text, problems find their field."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.notices: list[str] = []
        self._refused_with = HTTPStatus.UNPROCESSABLE_ENTITY

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether what was sent may be acted upon."""
        holds = bool(super().validate(extra_validators))
        if token_is_stale():
            self.notices.append(str(STALE))
            return False
        return holds

    def show(self, error: CoursekitError) -> None:
        """Put an error of a service beside the fields it speaks of, else above the form."""
        if isinstance(error, Problems):
            for problem in error.items:
                self._show_problem(problem)
        else:
            self.notices.append(str(error))
        if isinstance(error, TooManyTries):
            self._refused_with = HTTPStatus.TOO_MANY_REQUESTS

    def tell(self, field: Field, message: str) -> None:
        """Put a message beside a control, after those that stand there."""
        field.errors = (*field.errors, message)

    @property
    def status(self) -> int:
        """The status of the page that shows this form: 422 where something is to be mended."""
        return self._refused_with if self.messages else HTTPStatus.OK

    @property
    def messages(self) -> tuple[str, ...]:
        """Everything that is to be mended, in one row, for a script that has no page to show."""
        beside = (text for field in self.to_mend for text in map(str, field.errors))
        return tuple(dict.fromkeys((*self.notices, *beside)))

    @property
    def to_mend(self) -> tuple[Field, ...]:
        """The controls beside which a message stands, in the order of the form."""
        return tuple(_wrong(field for field in self if field.name != self.meta.csrf_field_name))

    def control(self, name: str) -> Field | None:
        """Return the control that a problem's field means, None where the form has none."""
        found: Field | None = self._fields.get(name)
        return found

    def _show_problem(self, problem: Problem) -> None:
        field = self.control(problem.where.field)
        if field is None:
            self.notices.append(problem.text)
        else:
            self.tell(field, problem.text)


class Press(Form):
    """A form that is only a button."""


def fresh_key() -> str:
    """Return an idempotency key: a form that is sent twice counts once."""
    return secrets.token_urlsafe(16)


# The first of a list in which one has to be chosen.
PLEASE_CHOOSE = ("", _l("choose one"))


def options(
    pairs: Iterable[tuple[Any, str | LazyString]], group: str | None = None
) -> list[SelectChoice]:
    """Return the choices of a list from pairs of value and label, under one heading or none."""
    return [SelectChoice(value, cast("str", label), optgroup=group) for value, label in pairs]


def required(longest: int = 200) -> list[Any]:
    """Return the validators of a text that must be there."""
    return [InputRequired(NEEDED), Length(max=longest, message=str(TOO_LONG) % {"max": longest})]


def decimal_comma() -> bool:
    """Whether this person's school writes decimals with a comma."""
    locale = get_locale()
    return bool(locale and get_decimal_symbol(locale) == ",")


class TickField(SelectMultipleField):
    """Several of a list, each with its own box."""

    def __init__(self, label: Any = None, **kwargs: Any) -> None:
        super().__init__(
            label, widget=ListWidget(prefix_label=False), option_widget=CheckboxInput(), **kwargs
        )


class QuantityField(StringField):
    """A number with its unit in one text, a list of units beside it.

    A unit typed in the text goes before the one chosen; a missing or ambiguous
    unit is asked for, and what was typed always comes back as it was.
    `example_unit` is that of the examples in messages.
    """

    def __init__(
        self,
        label: Any = None,
        kind: Kind = Kind.FORCE,
        example_unit: str | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(label, **kwargs)
        self.kind = kind
        self.chosen_unit = ""
        self.example_unit = example_unit
        self.quantity: Quantity | None = None

    @property
    def unit_name(self) -> str:
        """The name of the list of units beside the text."""
        return f"{self.name}-unit"

    @property
    def units(self) -> tuple[str, ...]:
        """The units on the list."""
        return tuple(unit.symbol for unit in units_for(self.kind) if unit.symbol)

    @property
    def typed(self) -> str:
        """The answer as typed: the text, with the chosen unit where the text has none."""
        text = (self.data or "").strip()
        bare = bool(text) and not any(c.isalpha() or c in "%°" for c in text)
        return f"{text} {self.chosen_unit}".strip() if bare else text

    def process(self, formdata: Any, data: Any = None, extra_filters: Any = None) -> None:
        """Read the text and, beside it, the unit that was chosen."""
        super().process(formdata, data, extra_filters)
        if formdata is not None and self.unit_name in formdata:
            self.chosen_unit = str(formdata.get(self.unit_name, ""))[:32]

    def pre_validate(self, form: Any) -> None:  # noqa: ARG002 - wtforms calls it so
        """Read the quantity, or say what is wrong with it and how to mend it."""
        if not (self.data or "").strip():
            return
        try:
            self.quantity = parse_quantity(
                self.data or "",
                self.kind,
                decimal_comma=decimal_comma(),
                default_unit=self.chosen_unit or None,
                example_unit=self.example_unit,
            )
        except QuantityError as error:
            raise ValidationError(str(error)) from error


def _wrong(fields: Iterable[Field]) -> Iterator[Field]:
    """Yield the controls with a message, those inside lists and groups among them."""
    for field in fields:
        if isinstance(field, FormField):
            yield from _wrong(field.form)
        elif isinstance(field, FieldList):
            yield from _wrong(field.entries)
        elif field.errors:
            yield field
