"""The forms that log a pull: which item of the store each item of the rig was, and how it ended."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypeVar

from flask_babel import lazy_gettext as _l
from wtforms import Field, HiddenField, RadioField, SelectField
from wtforms.validators import InputRequired

from coursekit.wear.ledger import Size
from coursekit.web.fields import NEEDED, Form, fresh_key, options
from coursekit.web.ids import ids_of
from coursekit.web.kit_words import ENDINGS
from coursekit.web.moments import MomentField
from coursekit.web.teach.matching import Matched
from coursekit.web.words import RIG_METHODS

ELSEWHERE = 0
_ITEM = "item-"
DECLARED = {
    Size.LIGHT: _l("light: below a quarter of its limit"),
    Size.HEAVY: _l("heavy: a quarter or more"),
    Size.UNKNOWN: _l("nobody knows"),
}


def _ending() -> RadioField:
    return RadioField(
        _l("How did it end?"),
        choices=options((ending.value, word) for ending, word in ENDINGS.items()),
        validators=[InputRequired(NEEDED)],
    )


def _time() -> MomentField:
    return MomentField(_l("When was it, if not just now?"))


class PullForm(Form):
    """A pull of a rig; it counts once, however often it is sent."""

    key = HiddenField(default=fresh_key)
    at = _time()
    ended = _ending()

    @property
    def matches(self) -> list[Field]:
        """The controls that say which item of the store was used, in the rig's order."""
        return [field for name, field in self._fields.items() if name.startswith(_ITEM)]

    @property
    def items(self) -> dict[str, int | None]:
        """The item of the store for each item of the rig, None for one from elsewhere."""
        return {field.name.removeprefix(_ITEM): field.data or None for field in self.matches}

    def control(self, name: str) -> Field | None:
        """Return the control that a problem's field means."""
        return super().control(name.replace("items.", _ITEM, 1))


_Form = TypeVar("_Form", bound=PullForm)


def pull_form(matched: Sequence[Matched], of: type[_Form]) -> _Form:
    """Return the form of a rig, each of its items matched as well as the store allows."""
    fields: dict[str, Any] = {f"{_ITEM}{one.gear_id}": _match(one) for one in matched}
    # WTForms sorts fields by when they were made, so the rig's order is kept.
    form: _Form = type("PullFormOfRig", (of,), fields)()
    return form


def chosen_items(sent: Mapping[str, str]) -> frozenset[int]:
    """Return the items that a form, as it was sent, has chosen.

    What retired since the form was opened stays on its list, so that the refusal can name
    it and no other item slips into its place.
    """
    return frozenset(
        ids_of(v for name, v in sent.items() if name.startswith(_ITEM) or name == "item_id")
    )


def _match(one: Matched) -> SelectField:
    elsewhere = (ELSEWHERE, _l("from elsewhere, not the school's"))
    choices = options([*one.choices, elsewhere])
    return SelectField(one.label, coerce=int, choices=choices, default=one.usual or ELSEWHERE)


class DeclaredForm(Form):
    """A pull of one item whose load is only known as light or heavy."""

    key = HiddenField(default=fresh_key)
    item_id = SelectField(_l("Item"), coerce=int)
    method = SelectField(_l("Method"), choices=options(RIG_METHODS.items()))
    size = RadioField(
        _l("How hard was the pull on it?"),
        choices=options((size.value, word) for size, word in DECLARED.items()),
        validators=[InputRequired(NEEDED)],
    )
    at = _time()
    ended = _ending()
