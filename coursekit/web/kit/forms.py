"""The forms of the kit store; each says what it was made from, and counts once."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from flask_babel import lazy_gettext as _l
from wtforms import (
    BooleanField,
    DateField,
    HiddenField,
    IntegerField,
    RadioField,
    SelectField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional

from coursekit.services.marked import RATINGS, is_marked_most
from coursekit.services.register import NewItem
from coursekit.wear.policy import ClassesPolicy, InspectionOnly, Policy, default_policy
from coursekit.web.fields import TOO_LONG, Form, fresh_key, options, required
from coursekit.web.stamped import StampedForm

LONGEST_REASON = 500
OWN_RULE = "the school's own rule"
_AGES = ("years_from_first_use", "years_from_made", "months_between_inspections")


def optional(longest: int) -> list[Any]:
    """Return the validators of a text that may be left empty."""
    return [Length(max=longest, message=str(TOO_LONG) % {"max": longest})]


class ItemForm(StampedForm):
    """A change of one item; its key makes it count once, however often it is sent."""

    key = HiddenField(default=fresh_key)


class QuarantineForm(ItemForm):
    """Anyone who doubts an item keeps it in the store."""

    reason = TextAreaField(_l("What is wrong, or in doubt?"), validators=required(LONGEST_REASON))


class ReleaseForm(ItemForm):
    """A second competent person lets it go out again."""

    reason = TextAreaField(
        _l("What did you look at, and why is it sound?"), validators=required(LONGEST_REASON)
    )


class RetireForm(ItemForm):
    """The end of an item: why, how it was destroyed, and who saw it."""

    reason = StringField(_l("Why does it retire?"), validators=required())
    destroyed = StringField(_l("How was it destroyed?"), validators=required())
    witness = StringField(_l("Who saw it destroyed?"), validators=required(120))
    sure = BooleanField(
        _l("It is destroyed, and nobody can use it again."),
        validators=[InputRequired(_l("Confirm it, or go back: retired is final."))],
    )


class RecallForm(Form):
    """Takes a whole batch out of use."""

    reason = TextAreaField(_l("Why is the batch recalled?"), validators=required(LONGEST_REASON))
    key = HiddenField(default=fresh_key)


class CorrectForm(Form):
    """Reverses one entry of the ledger; the entry itself stays to be seen."""

    reason = TextAreaField(_l("What was wrong with it?"), validators=required(LONGEST_REASON))
    key = HiddenField(default=fresh_key)


class NewItemForm(Form):
    """One item as its label reads."""

    type_id = SelectField(_l("Type"), coerce=int)
    mark = StringField(_l("The school's own mark"), validators=required(120))
    serial = StringField(_l("Serial"), validators=optional(120))
    batch = StringField(_l("Batch"), validators=optional(120))
    made = DateField(_l("Date of make"), validators=[Optional()])
    place = StringField(_l("Place in the store"), validators=optional(120))
    cost = StringField(_l("What it cost"), validators=optional(12))
    unlabelled = BooleanField(_l("Its rating can't be read"))

    @property
    def new(self) -> NewItem:
        """What the service is to register."""
        return NewItem(
            type_id=self.type_id.data,
            mark=self.mark.data,
            serial=self.serial.data or "",
            batch=self.batch.data or "",
            made=self.made.data,
            is_labelled=not self.unlabelled.data,
            place=self.place.data or "",
            cost=self.cost.data or "",
        )


def _whole(label: Any, highest: int) -> IntegerField:
    """Return a field for a whole number that may be left empty."""
    allowed = NumberRange(
        1, highest, str(_l("A whole number from 1 to %(highest)d.")) % {"highest": highest}
    )
    return IntegerField(label, validators=[Optional(), allowed])


def _meaning() -> RadioField:
    """Return the question that a rating brings which is marked as a maximum."""
    return RadioField(
        _l("What does the label mean by its maximum?"),
        choices=options(
            [
                ("mbs", _l("the least strength at break (MBS)")),
                ("wll", _l("the most that may hang on it (WLL)")),
            ]
        ),
        validators=[Optional()],
    )


class NewTypeForm(Form):
    """A type of kit: what is marked on it, and the school's rule for its life."""

    name = StringField(_l("Name of the type"), validators=required(120))
    wll = StringField(_l("WLL as marked"), validators=optional(32))
    wll_means = _meaning()
    mbs = StringField(_l("MBS as marked"), validators=optional(32))
    mbs_means = _meaning()
    size = StringField(_l("Nominal size"), validators=optional(120))
    material = StringField(_l("Material"), validators=optional(120))
    instructions = TextAreaField(_l("The maker's instructions"), validators=optional(4000))
    use_limit = _whole(_l("Retires at a use count of"), 10_000)
    years_from_first_use = _whole(_l("Retires this many years after first use"), 50)
    years_from_made = _whole(_l("Retires this many years after it was made"), 50)
    months_between_inspections = _whole(_l("Months between thorough examinations"), 60)

    def begin(self, kind: str) -> None:
        """Fill in the usual rule of a kind, unless something was typed."""
        if self.is_submitted():
            return
        usual = default_policy(kind)
        limit = usual.counting.limit
        self.use_limit.data = None if limit is None else int(limit)
        for name in _AGES:
            self[name].data = getattr(usual, name)

    def asks(self, rating: str) -> bool:
        """Whether it has to be asked what a rating means, as it is marked as a maximum."""
        return is_marked_most(self[rating].data or "")

    @property
    def means(self) -> dict[str, str]:
        """What was answered about ratings that are marked as a maximum."""
        return {name: self[f"{name}_means"].data or "" for name in RATINGS}

    def policy(self, kind: str) -> Policy:
        """Return the school's rule as typed."""
        usual = default_policy(kind)
        limit = self.use_limit.data
        own = replace(
            usual,
            counting=InspectionOnly() if limit is None else ClassesPolicy(float(limit)),
            **{name: self[name].data for name in _AGES},
        )
        return own if own == usual else replace(own, source=OWN_RULE)
