"""The forms of the classes."""

from __future__ import annotations

from collections.abc import Sequence

from flask_babel import lazy_gettext as _l
from wtforms import DateField, SelectField, StringField, ValidationError
from wtforms.validators import InputRequired, Length

from coursekit.services.teaching import CourseRow
from coursekit.web.fields import NEEDED, TOO_LONG, Form, TickField, options, required
from coursekit.web.stamped import StampedForm

NEW_COURSE = 0
LONGEST = 120


class NewClassForm(Form):
    """A class on a date, of a course that is there or is named here."""

    title = StringField(_l("Name of the class"), validators=required(LONGEST))
    on = DateField(_l("Date"), validators=[InputRequired(_l("Give the date."))])
    course_id = SelectField(_l("Course"), coerce=int)
    course_title = StringField(
        _l("Name of the new course"),
        validators=[Length(max=LONGEST, message=str(TOO_LONG) % {"max": LONGEST})],
    )

    def offer(self, courses: Sequence[CourseRow]) -> None:
        """Let a course be chosen, or a new one be named."""
        known = [(course.id, course.title) for course in courses]
        self.course_id.choices = options([*known, (NEW_COURSE, _l("a new course, named below"))])

    @property
    def is_new_course(self) -> bool:
        """Whether the course is to be made."""
        return bool(self.course_id.data == NEW_COURSE)

    def validate_course_title(self, field: StringField) -> None:
        """Ask for the name of a new course."""
        if self.is_new_course and not (field.data or "").strip():
            raise ValidationError(NEEDED)


class ChooseForm(StampedForm):
    """What a class works on."""

    version_ids = TickField(_l("Scenarios"), coerce=int)
