"""The forms of the account area.

Those that end a sign-in's absence have a prefix: they may carry, hidden, what
somebody typed elsewhere when the sign-in ended, and names must not clash.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any
from zoneinfo import available_timezones

from flask import request
from flask_babel import lazy_gettext as _l
from werkzeug.exceptions import RequestEntityTooLarge
from wtforms import HiddenField, PasswordField, SelectField, StringField, ValidationError
from wtforms.validators import EqualTo, Length, Optional

from coursekit.web.fields import Form, options, required

PREFIX = "sign-in"
LONGEST_PASSWORD = 1000
UNEQUAL = _l("The two passwords differ. Type the same one twice.")


class Carrying(Form):
    """A form that leads on to `next`, carrying what was typed there."""

    next = HiddenField()

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(prefix=PREFIX, **kwargs)

    @property
    def carried(self) -> tuple[tuple[str, str], ...]:
        """The typed values of another form, by name, as they were sent."""
        return tuple(_foreign_pairs())


class SignInForm(Carrying):
    """Staff: name and password, and the school where there are several."""

    sign_in_name = StringField(_l("Sign-in name"), validators=required())
    password = PasswordField(_l("Password"), validators=required(LONGEST_PASSWORD))
    school_id = SelectField(_l("School"), coerce=int, validators=[Optional()])

    def offer(self, schools: Sequence[tuple[int, str]]) -> None:
        """Ask for the school, by id and name, only where there is a choice."""
        self.school_id.choices = options(schools)
        if len(schools) <= 1:
            del self.school_id

    @property
    def chosen_school(self) -> int | None:
        """The school that was chosen, None where there is only one."""
        return self.school_id.data if "school_id" in self else None


class JoinForm(Form):
    """Student: the code on the board, and a name."""

    code = StringField(_l("Join code"), validators=required(32))
    name = StringField(_l("Your name"), validators=required(80))


class ReturnForm(Carrying):
    """Student on another device: name and return code; an older card takes the join code too."""

    name = StringField(_l("Your name, as you joined"), validators=required(80))
    return_code = StringField(_l("Return code from your class card"), validators=required(32))
    code = StringField(_l("Join code of the class"), validators=[Optional(), Length(max=32)])


class PasswordForm(Form):
    """A new password, with the old one as proof."""

    old = PasswordField(_l("Present password"), validators=required(LONGEST_PASSWORD))
    new = PasswordField(_l("New password"), validators=required(LONGEST_PASSWORD))
    again = PasswordField(_l("New password again"), validators=[EqualTo("new", UNEQUAL)])


class SetUpForm(Form):
    """The school and its first instructor."""

    name = StringField(_l("Name of the school"), validators=required())
    timezone = StringField(_l("Time zone"), validators=required(64))
    locale = SelectField(
        _l("Dates and numbers"),
        choices=options(
            [("en_GB", _l("25 Nov 2026 · 1,234.5")), ("en_US", _l("Nov 25, 2026 · 1,234.5"))]
        ),
    )
    instructor_name = StringField(_l("Your name"), validators=required())
    sign_in_name = StringField(_l("Your sign-in name"), validators=required())
    password = PasswordField(_l("Password"), validators=required(LONGEST_PASSWORD))
    again = PasswordField(_l("Password again"), validators=[EqualTo("password", UNEQUAL)])

    def validate_timezone(self, field: StringField) -> None:
        """Take a zone of the IANA list only."""
        if field.data not in available_timezones():
            raise ValidationError(str(_l("No such time zone. Write for example Europe/Dublin.")))


def _foreign_pairs() -> Iterator[tuple[str, str]]:
    try:
        typed = request.form
    except RequestEntityTooLarge:  # a file for somebody who is signed out: it is chosen again
        return
    for name, values in typed.lists():
        if not name.startswith(PREFIX) and not name.endswith("csrf_token"):
            yield from ((name, value) for value in values)
