"""The form on which a rig is built with plain controls.

Every list (parts of the line, pulleys, pieces of a joint) has blank slots that
count for nothing, and grows by a submit button that shows the form again.  The
classes are made for one scenario, whose gear and places are their choices.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import chain
from typing import Any, ClassVar

from flask import request
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from werkzeug.datastructures import MultiDict
from wtforms import Field, FieldList, FormField, RadioField, SelectField
from wtforms import Form as PlainForm
from wtforms.fields.choices import SelectChoice

from coursekit.files.rig_file import rig_from_document
from coursekit.problems import Problems, Where
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_at
from coursekit.rigging.gear import JOINERS, PULLEYS, WRAPPING, Item
from coursekit.rigging.site import Situation
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import AnyTask, RigTask
from coursekit.web import words
from coursekit.web.answer.forms import AnswerForm, task_form
from coursekit.web.answer.rig_document import Path, Written, is_used, write
from coursekit.web.fields import QuantityField, TickField, options

Choices = Sequence[tuple[str, str]]

NOTHING = ("", "—")
CHOOSE = _l("Choose one here.")
SLOTS_OF_A_JOINT = 2
PARTS_OF_A_LINE = 2
MOST_ROWS = 12
DAMPER = "line-damper"
BRIDLE = "bridle"
RIG = "rig"


class RigAnswer(AnswerForm):
    """A rig as an answer; `rig_form_class` adds the controls of one scenario."""

    template = "rig"
    situation: ClassVar[Situation]
    method: RadioField
    pull: FormField
    hold: FormField
    speed: QuantityField
    drive: QuantityField

    def add_row(self, name: str) -> bool:
        """Give the list of that name one more row; False where there is no such list."""
        found = next((field for field in _lists(self) if field.name == name), None)
        if found is None or len(found.entries) >= MOST_ROWS:
            return False
        found.append_entry()
        return True

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether the rig can be solved; each problem stands beside its control."""
        if not super().validate(extra_validators):
            return False
        written = self.written
        for blank in written.blanks:
            self.tell(self.at(blank), str(CHOOSE))
        if written.blanks:
            return False
        try:
            rig_from_document(written.document, Where(RIG), self.situation)
        except Problems as problems:
            self.show(problems)
            return False
        return True

    def control(self, name: str) -> Field | None:
        """Return the control that a field of the rig document was typed in."""
        path = self.written.control(name.removeprefix(f"{RIG}."))
        return self.at(path) if path else None

    def at(self, path: Path) -> Field:
        """Return the control at a path of names and rows."""
        found: Any = self
        for step in path:
            found = found[step] if isinstance(step, int) else getattr(found, str(step))
        control: Field = found
        return control

    @property
    def holds(self) -> bool:
        """Whether anything of a second line stands on the form."""
        return is_used(self.hold.data)

    @property
    def winch_lines(self) -> dict[str, str]:
        """The line on the drum of each winch."""
        vehicles = self.situation.vehicles()
        return {f"{name}.winch": v.winch.line for name, v in vehicles if v.winch}

    @property
    def written(self) -> Written:
        """The rig document of what stands on the form."""
        return write(self)

    @property
    def typed(self) -> dict[str, Any]:
        """The rig, and the controls as they stand, so that the form comes back as it was."""
        fields = {
            name: values
            for name, values in request.form.lists()
            if name not in ("key", "csrf_token") and any(values)
        }
        return {"fields": fields, "rig": self.written.document}


class RowList(FieldList):
    """A list of rows that knows what a new row looks like."""

    @property
    def blank(self) -> Field:
        """A row that is not in the list, for a script to copy."""
        row: Field = self.append_entry()
        self.entries.pop()
        self.last_index -= 1
        return row


def answer_form(scenario: Scenario, task: AnyTask, asked_id: int, saved: Any) -> AnswerForm:
    """Return the form of any task, filled with what was saved last, with a key of its own.

    `asked_id` is the number of the attempt or of the question that it is asked in.
    """
    if isinstance(task, RigTask):
        form: AnswerForm = rig_answer(scenario.situation, saved)
    else:
        form = task_form(scenario, task, asked_id, saved)
    if not form.key.data:
        form.renew_key()
    return form


def is_redrawn(form: AnswerForm) -> bool:
    """Whether the button pressed only asked for one more row, which the form now has."""
    add = request.form.get("add", "") if form.is_submitted() else ""
    return bool(add) and isinstance(form, RigAnswer) and form.add_row(add)


def rig_answer(situation: Situation, saved: Any) -> RigAnswer:
    """Return the form of a rig, filled with what was saved last."""
    form = rig_form_class(situation)
    if saved is None or request.form:
        return form()
    fields = saved["fields"]
    return form(MultiDict((name, value) for name, values in fields.items() for value in values))


def rig_form_class(situation: Situation) -> type[RigAnswer]:
    """Return the form of a rig from the gear and places of one situation."""
    line, units = _line_form(situation), units_at(situation)

    class RigForm(RigAnswer):
        method = RadioField(
            _l("How do you pull?"),
            choices=options(words.RIG_METHODS.items()),
            validate_choice=False,
        )
        pull = FormField(line)
        speed = QuantityField(
            _l("Closing speed when the rope comes taut"), Kind.SPEED, units[Kind.SPEED]
        )
        drive = QuantityField(_l("Drive force kept on"), Kind.FORCE, units[Kind.FORCE])
        hold = FormField(line)

    RigForm.situation = situation
    return RigForm


def _piece_form(situation: Situation) -> type[PlainForm]:
    class PieceForm(PlainForm):
        item = SelectField(_l("Item"), choices=_gear_groups(situation), validate_choice=False)
        hitch = SelectField(
            _l("Hitch"),
            choices=options(words.HITCHES.items()),
            validate_choice=False,
        )
        angle = QuantityField(_l("Angle between its legs"), Kind.ANGLE)

    return PieceForm


def _pulley_form(situation: Situation) -> type[PlainForm]:
    class PulleyForm(PlainForm):
        at = SelectField(_l("Where"), choices=options(_places(situation)), validate_choice=False)
        by = SelectField(_l("Pulley"), choices=options(_pulleys(situation)), validate_choice=False)
        pieces = _pieces(situation, _l("What joins the pulley to it, from there outwards"))

    return PulleyForm


def _pieces(situation: Situation, label: Any) -> Any:
    return RowList(FormField(_piece_form(situation)), label, min_entries=SLOTS_OF_A_JOINT)


def _line_form(situation: Situation) -> type[PlainForm]:
    gear = _gear_groups(situation)

    class LineForm(PlainForm):
        start = SelectField(
            _l("The line starts at"), choices=options(_starts(situation)), validate_choice=False
        )
        start_pieces = _pieces(situation, _l("What joins the line to it, vehicle side first"))
        made_of = RowList(
            SelectField(_l("Part"), choices=gear, validate_choice=False),
            _l("The line is made of, in order from its start"),
            min_entries=PARTS_OF_A_LINE,
        )
        pulleys = RowList(FormField(_pulley_form(situation)), _l("Pulleys that the line passes"))
        to = SelectField(
            _l("The line ends at"), choices=options(_places(situation)), validate_choice=False
        )
        to_pieces = _pieces(situation, _l("What joins the line to it, from there outwards"))
        dampers = TickField(
            _l("Dampers on the line"), choices=options(_dampers(situation)), validate_choice=False
        )

    return LineForm


def _gear_groups(situation: Situation) -> list[SelectChoice]:
    """Return the gear that may stand in a line or a joint, by what it is for."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for name, item in situation.gear.items():
        if item.kind not in PULLEYS | {DAMPER}:
            groups.setdefault(_purpose(item), []).append(_named(name, item))
    grouped = (options(pairs, group) for group, pairs in groups.items())
    return [*options([NOTHING]), *chain.from_iterable(grouped)]


def _purpose(item: Item) -> str:
    if item.kind in JOINERS:
        return _("Joiners")
    if item.kind in WRAPPING or item.kind == BRIDLE:
        return _("Slings and straps")
    return _("Lines") if item.length else _("Other gear")


def _named(name: str, item: Item) -> tuple[str, str]:
    return name, f"{words.item_name(name)} ({words.KINDS[item.kind]})"


def _of_kind(situation: Situation, kinds: frozenset[str]) -> list[tuple[str, str]]:
    return [_named(name, item) for name, item in situation.gear.items() if item.kind in kinds]


def _pulleys(situation: Situation) -> Choices:
    return [NOTHING, *_of_kind(situation, PULLEYS)]


def _dampers(situation: Situation) -> Choices:
    return _of_kind(situation, frozenset({DAMPER}))


def _points(situation: Situation) -> list[str]:
    return [f"{name}.{point}" for name, vehicle in situation.vehicles() for point in vehicle.points]


def _places(situation: Situation) -> Choices:
    places = [*situation.anchors, *_points(situation)]
    return [NOTHING, *((place, words.place_name(situation, place)) for place in places)]


def _starts(situation: Situation) -> Choices:
    winches = [f"{name}.winch" for name, vehicle in situation.vehicles() if vehicle.winch]
    starts = [(winch, words.place_name(situation, winch)) for winch in winches]
    return [NOTHING, *starts, *_places(situation)[1:]]


def _lists(field: Any) -> list[FieldList]:
    """Return every list of rows in a form, however deep."""
    if isinstance(field, FieldList):
        return [field, *(found for entry in field.entries for found in _lists(entry))]
    inner = field.form if isinstance(field, FormField) else field
    return (
        [found for part in inner for found in _lists(part)] if isinstance(inner, PlainForm) else []
    )
