"""The form of a type of kit: what is marked on it, and the school's rule for its life."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from wtforms import (
    BooleanField,
    Field,
    FloatField,
    HiddenField,
    IntegerField,
    RadioField,
    StringField,
    TextAreaField,
)
from wtforms.validators import NumberRange, Optional

from coursekit.problems import Problems
from coursekit.quantities.units import Kind
from coursekit.services.checks import Checks
from coursekit.services.kit_rules import (
    BOUNDS,
    CLASSES,
    NONE,
    POWER,
    as_own,
    counting_of,
    load_text,
    policy_of_numbers,
    rule_name,
    rule_numbers,
)
from coursekit.services.marked import RATINGS, is_marked_most
from coursekit.services.register import NewType, TypeRow
from coursekit.wear.policy import ClassesPolicy, Policy, default_policy
from coursekit.web.fields import Form, QuantityField, fresh_key, options, required
from coursekit.web.kit.forms import LONGEST_REASON, optional
from coursekit.web.stamped import StampedForm

RULES = {
    CLASSES: _l("by classes: light and heavy pulls count towards a number"),
    POWER: _l("by power: each pull counts its load to a power"),
    NONE: _l("none: inspection and age decide"),
}
_NUMBERS = (
    "heavy_from",
    "use_limit",
    "light",
    "heavy",
    "exponent",
    "life",
    "safety",
    "years_from_first_use",
    "years_from_made",
    "months_between_inspections",
    "rest_minutes",
)
_TEXTS = (
    "name",
    "wll",
    "mbs",
    "choker",
    "basket",
    "length",
    "size",
    "material",
    "coldest",
    "hottest",
    "instructions",
)


def _number(label: Any) -> FloatField:
    """Return a field for a number that may be left empty."""
    return FloatField(label, validators=[Optional()])


def _whole(label: Any, name: str) -> IntegerField:
    """Return a field for a whole number of a rule that may be left empty."""
    highest = int(BOUNDS[name][1])
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


class TypeForm(Form):
    """A type of kit: what is marked on it, and the school's rule for its life."""

    name = StringField(_l("Name of the type"), validators=required(120))
    wll = StringField(_l("WLL as marked"), validators=optional(32))
    wll_means = _meaning()
    mbs = StringField(_l("MBS as marked"), validators=optional(32))
    mbs_means = _meaning()
    choker = StringField(_l("WLL in a choker hitch as marked"), validators=optional(32))
    basket = StringField(
        _l("WLL in a basket hitch with upright legs as marked"), validators=optional(32)
    )
    length = StringField(_l("Length"), validators=optional(32))
    size = StringField(_l("Nominal size"), validators=optional(120))
    material = StringField(_l("Material"), validators=optional(120))
    coldest = StringField(_l("Not to be used below"), validators=optional(32))
    hottest = StringField(_l("Not to be used above"), validators=optional(32))
    instructions = TextAreaField(_l("The maker's instructions"), validators=optional(4000))
    rule = RadioField(_l("How are its pulls counted?"), choices=options(RULES.items()))
    heavy_from = _whole(_l("A pull is heavy from this percentage of its limit"), "heavy_from")
    use_limit = _whole(_l("Retires at a use count of"), "use_limit")
    light = _number(_l("A light pull counts"))
    heavy = _number(_l("A heavy pull counts"))
    reference = QuantityField(_l("Reference load"), kind=Kind.FORCE)
    exponent = _number(_l("Power of the load"))
    life = _number(_l("Pulls at the reference load that would end its life"))
    safety = _number(_l("Safety: it retires at this part of that life"))
    years_from_first_use = _whole(
        _l("Retires this many years after first use"), "years_from_first_use"
    )
    years_from_made = _whole(_l("Retires this many years after it was made"), "years_from_made")
    months_between_inspections = _whole(
        _l("Months between thorough examinations"), "months_between_inspections"
    )
    rest_minutes = IntegerField(_l("Minutes of rest between two pulls"), validators=[Optional()])
    look_over = BooleanField(_l("It is looked over on each day of a class"))
    own_rule: Policy | None = None

    def begin(self, kind: str) -> None:
        """Fill in the usual rule of a kind, unless something was typed."""
        if not self.is_submitted():
            self._fill_rule(default_policy(kind))

    def asks(self, rating: str) -> bool:
        """Whether it has to be asked what a rating means, as it is marked as a maximum."""
        return is_marked_most(self[rating].data or "")

    @property
    def means(self) -> dict[str, str]:
        """What was answered about ratings that are marked as a maximum."""
        return {name: self[f"{name}_means"].data or "" for name in RATINGS}

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether it may be registered: the way that pulls are counted has its numbers."""
        if not super().validate(extra_validators):
            return False
        checks = Checks()
        if self.rule.data == NONE and self.use_limit.data is not None:
            checks.add(self.rule.name, _("A use count is given below"), _("Choose, or empty it"))
        numbers = self._numbers()
        counting = counting_of(checks, "", self.rule.data, numbers)
        try:
            checks.done()
        except Problems as error:
            self.show(error)
            return False
        if counting is not None:
            look_over = bool(self.look_over.data)
            self.own_rule = policy_of_numbers(counting, numbers, look_over=look_over)
        return self.own_rule is not None

    def new(self, kind: str) -> NewType:
        """Return what the service is to register."""
        texts = {name: self[name].data or "" for name in _TEXTS}
        rule = self.own_rule and as_own(self.own_rule, kind)
        return NewType(kind=kind, policy=rule, means=self.means, **texts)

    def _fill_rule(self, rule: Policy) -> None:
        self.rule.data = rule_name(rule.counting)
        self.look_over.data = rule.look_over_each_day
        # A rule of another sort begins with the usual weights.
        usual = {"light": ClassesPolicy.light, "heavy": ClassesPolicy.heavy}
        for name, number in (usual | rule_numbers(rule)).items():
            field: Field = self[name]
            is_whole = isinstance(field, IntegerField)
            field.data = int(number) if is_whole else number
        if self.reference.data:
            self.reference.data = load_text(self.reference.data)

    def _numbers(self) -> dict[str, float]:
        """Return the numbers that are typed, by name; a load in newton."""
        reference = self.reference.quantity
        found = {name: self[name].data for name in _NUMBERS}
        found["reference"] = reference.value if reference else None
        return {name: number for name, number in found.items() if number is not None}


class ChangeTypeForm(TypeForm, StampedForm):
    """What the register is to say of a type, with the reason of the change."""

    reason = TextAreaField(_l("Why is it changed?"), validators=required(LONGEST_REASON))
    is_marked = BooleanField(_l("A rating that is raised is marked so by the maker."))
    key = HiddenField(default=fresh_key)

    def begin_from(self, row: TypeRow) -> None:
        """Fill in what the register says now, unless something was typed."""
        if self.is_submitted():
            return
        marked = {one.name: one.marked for one in (*row.ratings, *row.hitches)}
        for name in _TEXTS:
            self[name].data = marked.get(name, getattr(row, name, None) or "")
        # It was asked when the type was registered, and the answer is where the rating stands.
        for name in RATINGS:
            self[f"{name}_means"].data = name if self.asks(name) else None
        self._fill_rule(row.policy)
