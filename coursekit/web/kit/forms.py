"""The forms of the kit store; each says what it was made from, and counts once."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from flask_babel import lazy_gettext as _l
from wtforms import (
    BooleanField,
    DateField,
    HiddenField,
    SelectField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, Optional

from coursekit.services.kit import ItemLife
from coursekit.services.register import NewItem, is_long_ago
from coursekit.services.used import Used
from coursekit.web.fields import (
    NEEDED,
    PLEASE_CHOOSE,
    TOO_LONG,
    Form,
    fresh_key,
    options,
    required,
)
from coursekit.web.stamped import StampedForm

LONGEST_REASON = 500


def optional(longest: int) -> list[Any]:
    """Return the validators of a text that may be left empty."""
    return [Length(max=longest, message=str(TOO_LONG) % {"max": longest})]


class ItemForm(StampedForm):
    """A change of one item; its key makes it count once, however often it is sent."""

    key = HiddenField(default=fresh_key)


class DoubtForm(Form):
    """Whoever holds an item doubts it."""

    reason = TextAreaField(_l("What is wrong, or in doubt?"), validators=required(LONGEST_REASON))
    key = HiddenField(default=fresh_key)


class ReasonedForm(ItemForm):
    """A change with its reason alone."""

    reason: TextAreaField


class QuarantineForm(ReasonedForm):
    """Anyone who doubts an item keeps it in the store."""

    reason = TextAreaField(_l("What is wrong, or in doubt?"), validators=required(LONGEST_REASON))


class ReleaseForm(ReasonedForm):
    """A second competent person lets it go out again."""

    reason = TextAreaField(
        _l("What did you look at, and why is it sound?"), validators=required(LONGEST_REASON)
    )


class RetireForm(ItemForm):
    """The end of an item: why, how it was destroyed, and who saw it."""

    reason = StringField(_l("Why does it retire?"), validators=required())
    destroyed = StringField(_l("How was it destroyed?"), validators=required())
    witness = SelectField(_l("Who saw it destroyed?"), validators=[InputRequired(NEEDED)])
    sure = BooleanField(
        _l("It is destroyed, and nobody can use it again."),
        validators=[InputRequired(_l("Confirm it, or go back: retired is final."))],
    )

    def offer(self, people: Iterable[tuple[int, str]]) -> None:
        """Offer the people of the school who may have seen it."""
        named = ((str(person_id), name) for person_id, name in people)
        self.witness.choices = options([PLEASE_CHOOSE, *named])


class LoseForm(ReasonedForm):
    """Nobody knows where it is."""

    reason = TextAreaField(
        _l("Where was it last, and where did you look?"), validators=required(LONGEST_REASON)
    )


class FindForm(ReasonedForm):
    """What was lost is back."""

    reason = TextAreaField(_l("Where was it found?"), validators=required(LONGEST_REASON))


class RepairForm(ItemForm):
    """What was repaired; of a line that was spliced, what it is now."""

    reason = TextAreaField(
        _l("What was repaired, how, and with which parts?"), validators=required(LONGEST_REASON)
    )
    length = StringField(_l("Its new length"), validators=optional(32))
    certificate = StringField(_l("Number of its new certificate"), validators=optional(120))


class RecallForm(Form):
    """Takes a whole batch out of use."""

    reason = TextAreaField(_l("Why is the batch recalled?"), validators=required(LONGEST_REASON))
    key = HiddenField(default=fresh_key)


class CorrectForm(Form):
    """Reverses one entry of the ledger; the entry itself stays to be seen."""

    reason = TextAreaField(_l("What was wrong with it?"), validators=required(LONGEST_REASON))
    key = HiddenField(default=fresh_key)


class LabelForm(Form):
    """One item as its label reads, and where it lies."""

    mark = StringField(_l("The school's own mark"), validators=required(120))
    serial = StringField(_l("Serial"), validators=optional(120))
    batch = StringField(_l("Batch"), validators=optional(120))
    made = DateField(_l("Date of make"), validators=[Optional()])
    is_so_old = BooleanField(_l("Its label says so"))
    place = StringField(_l("Place in the store"), validators=optional(120))
    cost = StringField(_l("What it cost"), validators=optional(12))
    unlabelled = BooleanField(_l("Its rating can't be read"))
    first_used = DateField(_l("First used"), validators=[Optional()])
    used_before = StringField(_l("Pulls before it came here"), validators=optional(40))

    @property
    def asks_age(self) -> bool:
        """Whether it has to be asked if it was really made so long ago."""
        return is_long_ago(self.made.data)

    def of_type(self, type_id: int) -> NewItem:
        """Return what the register is to say of an item."""
        return NewItem(
            type_id=type_id,
            mark=self.mark.data or "",
            serial=self.serial.data or "",
            batch=self.batch.data or "",
            made=self.made.data,
            is_labelled=not self.unlabelled.data,
            place=self.place.data or "",
            cost=self.cost.data or "",
            is_so_old=bool(self.is_so_old.data),
            used=Used(self.first_used.data, self.used_before.data or ""),
        )


class NewItemForm(LabelForm):
    """A new item of a type."""

    type_id = SelectField(_l("Type"), coerce=int)

    @property
    def new(self) -> NewItem:
        """What the service is to register."""
        return self.of_type(self.type_id.data)


class ChangeItemForm(LabelForm, ItemForm):
    """What the register is to say of an item, with the reason of the change."""

    reason = TextAreaField(_l("Why is it changed?"), validators=optional(LONGEST_REASON))

    def begin(self, life: ItemLife) -> None:
        """Fill in what the register says now, unless something was typed."""
        if self.is_submitted():
            return
        item, told = life.item, [line.before for line in life.lines if not line.is_reversed]
        used = Used.of(next((before for before in reversed(told) if before is not None), None))
        self.first_used.data, self.used_before.data = used.first_used, used.used_before
        for name in ("mark", "serial", "batch", "made", "place"):
            self[name].data = getattr(item, name)
        self.cost.data = "" if item.cost_cents is None else f"{item.cost_cents / 100:.2f}"
        self.unlabelled.data = not item.is_labelled
        self.is_so_old.data = self.asks_age
