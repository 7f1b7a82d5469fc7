"""The form on which kit comes back from a class: condition, damage, and pulls nobody logged."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from wtforms import Field, HiddenField, IntegerField, SelectField, TextAreaField
from wtforms.validators import NumberRange, Optional

from coursekit.rigging.gear import Item
from coursekit.rigging.rig import RIG_METHODS
from coursekit.services.issuing import MOST_COUNTED, Condition, Counted
from coursekit.services.kit import ItemRow
from coursekit.wear.ledger import Size
from coursekit.web.fields import Form, fresh_key, options
from coursekit.web.ids import ids_of
from coursekit.web.kit.forms import LONGEST_REASON, optional
from coursekit.web.kit.issue_forms import told
from coursekit.web.words import RIG_METHODS as METHOD_WORDS

_BACK, _DAMAGE = "back-", "damage-"
AS_THE_OTHERS = ""
STILL_OUT = "out"
KINETIC = "kinetic"
CONDITIONS = {
    STILL_OUT: _l("still out"),
    Condition.CLEAN: _l("back, clean and dry"),
    Condition.WET: _l("back, wet"),
    Condition.MUD: _l("back, muddy"),
    Condition.DAMAGE: _l("back, damaged or in doubt"),
}
_COUNTS = {
    Size.LIGHT: _l("light"),
    Size.HEAVY: _l("heavy"),
    Size.UNKNOWN: _l("not known"),
}


@dataclass(frozen=True)
class BackRow:
    """One item on the form, with its controls; `is_open` where one below its own is filled."""

    item: ItemRow
    back: Field
    damage: Field
    counts: tuple[Field, ...]

    @property
    def is_open(self) -> bool:
        """Whether something stands below its condition, or is to be mended there."""
        return any(field.errors or field.raw_data not in (None, [], [""]) for field in self._more)

    @property
    def counted(self) -> dict[str, int]:
        """The pulls of each size that were told."""
        return {
            size.value: field.data
            for size, field in zip(_COUNTS, self.counts, strict=True)
            if field.data
        }

    @property
    def _more(self) -> tuple[Field, ...]:
        return (self.damage, *self.counts)


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
    method = SelectField(
        _l("How was it pulled, where pulls are counted here?"),
        choices=options(METHOD_WORDS.items()),
        default=RIG_METHODS[0],
    )
    shown: ClassVar[tuple[ItemRow, ...]] = ()

    @property
    def rows(self) -> tuple[BackRow, ...]:
        """The items with their controls, in their order."""
        return tuple(
            BackRow(
                row,
                self[f"{_BACK}{row.id}"],
                self[f"{_DAMAGE}{row.id}"],
                tuple(self[f"{size}-{row.id}"] for size in _COUNTS),
            )
            for row in self.shown
        )

    @property
    def conditions(self) -> Mapping[int, str]:
        """The condition of each item that is back."""
        told_of = {row.item.id: row.back.data or self.others.data for row in self.rows}
        return {item_id: how for item_id, how in told_of.items() if how != STILL_OUT}

    @property
    def damages(self) -> Mapping[int, str]:
        """What is damaged, by item."""
        return {row.item.id: row.damage.data for row in self.rows if row.damage.data}

    @property
    def pulls(self) -> Mapping[int, Counted]:
        """The pulls that nobody logged, by item; what stretches is pulled kinetically."""
        return {
            row.item.id: Counted(self._method(row.item), **row.counted)
            for row in self.rows
            if row.counted
        }

    def control(self, name: str) -> Field | None:
        """Return the control that a problem's field means."""
        where, _dot, rest = name.partition(".")
        item_id, _dot, size = rest.partition(".")
        begins = {"items": _BACK, "damages": _DAMAGE, "pulls": f"{size}-"}
        return super().control(f"{begins[where]}{item_id}" if where in begins else name)

    def _method(self, item: ItemRow) -> str:
        return KINETIC if Item(item.mark, item.kind).is_elastic else self.method.data


def return_form(out: Iterable[ItemRow], method: str | None = None) -> ReturnForm:
    """Return the form with the controls of each item that is out; `method` is the usual one."""
    shown = tuple(out)
    choices = options([(AS_THE_OTHERS, _l("as all others")), *CONDITIONS.items()])
    fields: dict[str, Any] = {"shown": shown}
    for row in shown:
        fields[f"{_BACK}{row.id}"] = SelectField(told(row), choices=choices, default=AS_THE_OTHERS)
        fields[f"{_DAMAGE}{row.id}"] = TextAreaField(
            _("What is damaged on %(item)s, or in doubt?", item=row.mark),
            validators=optional(LONGEST_REASON),
        )
        fields |= {f"{size}-{row.id}": _count(word) for size, word in _COUNTS.items()}
    form: ReturnForm = type("ReturnFormOfClass", (ReturnForm,), fields)()
    if method is not None and not form.is_submitted():
        form.method.data = method
    return form


def sent_back(sent: Iterable[str]) -> tuple[int, ...]:
    """Return the items that a form, as it was sent, has a control for.

    What came back since the form was opened stays on it, so that the refusal can name it.
    """
    return ids_of(name.removeprefix(_BACK) for name in sent if name.startswith(_BACK))


def _count(word: Any) -> IntegerField:
    allowed = NumberRange(
        0, MOST_COUNTED, str(_l("A whole number up to %(most)d.")) % {"most": MOST_COUNTED}
    )
    return IntegerField(word, validators=[Optional(), allowed])
