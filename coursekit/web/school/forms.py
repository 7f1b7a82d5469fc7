"""The forms of the school area."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from wtforms import PasswordField, StringField

from coursekit.services.accounts import NewPerson
from coursekit.services.actor import Role
from coursekit.web.fields import Form, TickField, options, required

LONGEST_PASSWORD = 1000
_ROLES = (
    (Role.INSTRUCTOR.value, _l("Instructor: prepares, teaches, marks and logs pulls")),
    (Role.STOREKEEPER.value, _l("Storekeeper: registers, issues and retires kit")),
    (Role.HEAD.value, _l("Head: people, the school's rules, records")),
)


class RolesForm(Form):
    """What somebody may do; none ticked is told by the service."""

    roles = TickField(_l("What may they do?"), choices=options(_ROLES), validate_choice=True)

    @property
    def chosen(self) -> frozenset[Role]:
        """The roles that are ticked."""
        return frozenset(map(Role, self.roles.data or ()))


class FirstPasswordForm(Form):
    """A password that the head gives; its owner changes it."""

    password = PasswordField(_l("First password"), validators=required(LONGEST_PASSWORD))


class NewPersonForm(RolesForm, FirstPasswordForm):
    """Somebody new on the staff."""

    name = StringField(_l("Name"), validators=required(120))
    sign_in_name = StringField(_l("Sign-in name"), validators=required(120))

    @property
    def new(self) -> NewPerson:
        """What the service is to add."""
        return NewPerson(self.name.data, self.sign_in_name.data, self.password.data, self.chosen)
