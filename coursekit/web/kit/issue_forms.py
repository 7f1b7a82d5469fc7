"""The forms at the counter: what goes out with a class, after a look at it."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from flask_babel import lazy_gettext as _l
from wtforms import BooleanField, HiddenField
from wtforms.validators import InputRequired

from coursekit.services.kit import ItemRow
from coursekit.services.kit_list import KitList
from coursekit.web.fields import Form, TickField, fresh_key, options
from coursekit.web.ids import id_of
from coursekit.web.kit_words import ratings_of

_NO_CLASS = 0


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
        self.items.choices = options((row.id, told(row)) for row in (*rows, *others))
        if not self.is_submitted():
            chosen = known & set(scanned) if scanned else {row.id for row in found.proposed}
            self.items.data = [row.id for row in rows if row.id in chosen]


class IssueItemForm(CounterForm):
    """One item that goes out with the class that its page was opened for."""

    class_id = HiddenField()

    @property
    def of_class(self) -> int:
        """The class; one that can't be there is the service's to refuse, as one that is over."""
        return id_of(self.class_id.data or "") or _NO_CLASS


def told(row: ItemRow) -> str:
    """Return an item as its control names it: its mark, and what is marked on it."""
    return ", ".join([row.mark, *ratings_of(row.type)])
