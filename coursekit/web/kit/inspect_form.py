"""The form of an examination: the list of the item's kind, line by line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from flask_babel import get_locale
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from wtforms import Field, HiddenField, RadioField, StringField, TextAreaField
from wtforms.validators import InputRequired

from coursekit.quantities.units import Kind as QuantityKind
from coursekit.services.inspecting import Inspection
from coursekit.services.kit import ItemRow
from coursekit.wear.inspection import Criterion, Looked, Occasion, Seen
from coursekit.wear.lists import InspectionList, list_for
from coursekit.wear.status import Status
from coursekit.web.fields import NEEDED, QuantityField, options
from coursekit.web.kit.forms import LONGEST_REASON, ItemForm, optional
from coursekit.web.kit_words import MEASURED, OCCASIONS, SEEN, core_text
from coursekit.web.moments import MomentField

_SEEN, _SIZE = "seen-", "size-"
LONGEST_EVENT = 120


@dataclass(frozen=True)
class Row:
    """One line as the form shows it, with the controls of its sizes where it is measured."""

    seen: Field
    sizes: tuple[QuantityField, ...]
    is_length: bool


class InspectForm(ItemForm):
    """A thorough examination by a competent person."""

    listed = HiddenField()
    occasion = RadioField(
        _l("Why is it examined?"),
        choices=options(OCCASIONS.items()),
        validators=[InputRequired(NEEDED)],
    )
    event = StringField(_l("What happened to it?"), validators=optional(LONGEST_EVENT))
    at = MomentField(_l("When was it, if not just now?"))
    findings = TextAreaField(_l("What did you find?"), validators=optional(LONGEST_REASON))
    known: ClassVar[InspectionList]

    @property
    def rows(self) -> tuple[Row, ...]:
        """The lines of the list, in its order."""
        return tuple(
            Row(
                self[f"{_SEEN}{each.key}"],
                self._sizes(each),
                each.measure is not None and each.measure.is_length,
            )
            for each in self.known.criteria
        )

    @property
    def sources(self) -> Mapping[str, str]:
        """Where the lines come from: each source with the numbers of its lines."""
        found: dict[str, list[str]] = {}
        for number, each in enumerate(self.known.criteria, start=1):
            found.setdefault(core_text(each.source), []).append(str(number))
        return {source: ", ".join(numbers) for source, numbers in found.items()}

    def begin(self, item: ItemRow) -> None:
        """Fill in what is likely, but never what was seen."""
        if self.is_submitted():
            return
        self.listed.data = self.known.name
        self.occasion.data = _likely(item)
        for each in self.known.criteria:
            for field in self._sizes(each):
                field.chosen_unit = _usual_unit() if field.kind is QuantityKind.LENGTH else ""

    def inspection(self, item_id: int) -> Inspection:
        """Return what the service is to record."""
        return Inspection(
            item_id,
            self.version,
            self.listed.data or "",
            {each.key: self._looked(each) for each in self.known.criteria},
            self.findings.data or "",
            self.key.data or "",
            self.occasion.data,
            self.event.data or "",
            self.at.moment,
        )

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether it may be recorded: of two sizes both or none are given."""
        holds = super().validate(extra_validators)
        for each in self.known.criteria:
            empty = [field for field in self._sizes(each) if not field.typed]
            if empty and len(empty) < len(self._sizes(each)):
                self.tell(empty[0], _("Fill in both, or neither."))
                holds = False
        return holds

    def control(self, name: str) -> Field | None:
        """Return the control that a problem's field means; a hidden one shows no message."""
        if name == self.listed.name:
            return None
        if not name.startswith("lines."):
            return super().control(name)
        _lines, key, *size = name.split(".")
        return super().control(f"{_SIZE}{key}-{size[0]}" if size else f"{_SEEN}{key}")

    def _sizes(self, criterion: Criterion) -> tuple[QuantityField, ...]:
        names = criterion.measure.names if criterion.measure else ()
        return tuple(self[_size_name(criterion, name)] for name in names)

    def _looked(self, criterion: Criterion) -> Looked:
        seen = Seen(self[f"{_SEEN}{criterion.key}"].data)
        fields = self._sizes(criterion)
        sizes = tuple(field.quantity.value for field in fields if field.quantity is not None)
        return Looked(seen, sizes, tuple(field.typed for field in fields) if sizes else ())


def inspect_form(item: ItemRow) -> InspectForm:
    """Return the form with the list of an item's kind."""
    known = list_for(item.kind, item.type.material)
    fields: dict[str, Any] = {"known": known}
    for each in known.criteria:
        fields[f"{_SEEN}{each.key}"] = _seen_field(each)
        for name in each.measure.names if each.measure else ():
            fields[_size_name(each, name)] = _size_field(each, name)
    form: InspectForm = type("InspectFormOfKind", (InspectForm,), fields)()
    form.begin(item)
    return form


def _size_name(criterion: Criterion, name: str) -> str:
    return f"{_SIZE}{criterion.key}-{name}"


def _seen_field(criterion: Criterion) -> RadioField:
    return RadioField(
        core_text(criterion.text),
        choices=options(SEEN.items()),
        default=Seen.UNSEEN,
        validators=[InputRequired(_l("Look at it, and mark it."))],
    )


def _size_field(criterion: Criterion, name: str) -> QuantityField:
    is_length = criterion.measure is not None and criterion.measure.is_length
    kind = QuantityKind.LENGTH if is_length else QuantityKind.RATIO
    return QuantityField(MEASURED[name], kind=kind, example_unit="mm" if is_length else "")


def _usual_unit() -> str:
    locale = get_locale()
    return "in" if locale is not None and locale.territory == "US" else "mm"


def _likely(item: ItemRow) -> Occasion:
    if item.status == Status.QUARANTINED:
        return Occasion.AFTER
    return Occasion.PERIODIC if item.counts.last_inspected else Occasion.FIRST
