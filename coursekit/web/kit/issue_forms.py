"""The forms at the counter: what goes out with a class, and in what condition it comes back."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from flask_babel import lazy_gettext as _l
from wtforms import BooleanField, Field, HiddenField, SelectField, TextAreaField
from wtforms.validators import InputRequired

from coursekit.services.issuing import Condition
from coursekit.services.kit import ItemRow
from coursekit.services.kit_list import KitList
from coursekit.web.fields import Form, TickField, fresh_key, options
from coursekit.web.ids import ids_of
from coursekit.web.kit.forms import LONGEST_REASON, optional

_BACK = "back-"
_NO_CLASS = 0
AS_THE_OTHERS = ""
STILL_OUT = "out"
CONDITIONS = {
    STILL_OUT: _l("still out"),
    Condition.CLEAN: _l("back, clean and dry"),
    Condition.WET: _l("back, wet"),
    Condition.MUD: _l("back, muddy"),
    Condition.DAMAGE: _l("back, damaged or in doubt"),
}


def _check(label: Any) -> BooleanField:
    return BooleanField(label, validators=[InputRequired(_l("Look, then tick it."))])


class CounterForm(Form):
    """The short list of checks before anything goes out; it counts once."""

    key = HiddenField(default=fresh_key)
    labels = _check(_l("Each label can be read, and it is the item that stands here."))
    looks = _check(_l("No cut, melt, bend, crack or worn stitch; pins and latches close."))
    clean = _check(_l("Clean and dry enough to see all of it."))

    @property
    def looked(self) -> tuple[str, ...]:
        """The checks that were ticked, as the ledger keeps them."""
        return tuple(one.name for one in (self.labels, self.looks, self.clean) if one.data)


class IssueForm(CounterForm):
    """Items of the list that go out with a class."""

    items = TickField(_l("What goes out?"), coerce=int)

    def offer(self, found: KitList, scanned: Collection[int], sent: Collection[int]) -> None:
        """Let items be chosen; what was scanned is, else what the list proposes.

        What was sent stays among them wherever it is now: the service knows whether the
        form came before, and else names what can't go.
        """
        rows = (*found.proposed, *found.spares, *found.short)
        known = {row.id for row in rows}
        others = (row for row in found.asked_for if row.id in set(sent) - known)
        self.items.choices = options((row.id, _told(row)) for row in (*rows, *others))
        if not self.is_submitted():
            chosen = known & set(scanned) if scanned else {row.id for row in found.proposed}
            self.items.data = [row.id for row in rows if row.id in chosen]


class IssueItemForm(CounterForm):
    """One item that goes out with the class that its page was opened for."""

    class_id = HiddenField()

    @property
    def of_class(self) -> int:
        """The class; one that can't be there is the service's to refuse, as one that is over."""
        return next(iter(ids_of([self.class_id.data or ""])), _NO_CLASS)


class ReturnForm(Form):
    """What came back, each item with its condition; it counts once."""

    key = HiddenField(default=fresh_key)
    others = SelectField(
        _l("All that is not told apart below"),
        choices=options(
            (value, word) for value, word in CONDITIONS.items() if value != Condition.DAMAGE
        ),
        default=STILL_OUT,
    )
    damage = TextAreaField(_l("What is damaged, or in doubt?"), validators=optional(LONGEST_REASON))

    @property
    def rows(self) -> list[Field]:
        """The controls of the items, in their order."""
        return [field for name, field in self._fields.items() if name.startswith(_BACK)]

    @property
    def conditions(self) -> Mapping[int, str]:
        """The condition of each item that is back."""
        told = {int(f.name.removeprefix(_BACK)): f.data or self.others.data for f in self.rows}
        return {item_id: condition for item_id, condition in told.items() if condition != STILL_OUT}

    def control(self, name: str) -> Field | None:
        """Return the control that a problem's field means."""
        return super().control(name.replace("items.", _BACK, 1))


def return_form(out: Iterable[ItemRow]) -> ReturnForm:
    """Return the form with a control for each item that is out."""
    choices = options([(AS_THE_OTHERS, _l("as all others")), *CONDITIONS.items()])
    fields: dict[str, Any] = {
        f"{_BACK}{row.id}": SelectField(_told(row), choices=choices, default=AS_THE_OTHERS)
        for row in out
    }
    form: ReturnForm = type("ReturnFormOfClass", (ReturnForm,), fields)()
    return form


def sent_back(sent: Iterable[str]) -> tuple[int, ...]:
    """Return the items that a form, as it was sent, has a control for.

    What came back since the form was opened stays on it, so that the refusal can name it.
    """
    return ids_of(name.removeprefix(_BACK) for name in sent if name.startswith(_BACK))


def _told(row: ItemRow) -> str:
    ratings = (f"{rating.name.upper()} {rating.marked}" for rating in row.type.ratings)
    return ", ".join([row.mark, *ratings])
