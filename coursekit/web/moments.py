"""A moment that a person types in the school's own time zone; left empty it is now."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from wtforms import DateTimeLocalField, ValidationError
from wtforms.validators import Optional

from coursekit.web.identity import timezone

NOT_READ = _l("Write a date and a time of day, for example 2026-06-13 09:30.")
FORMATS = ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M", "%Y-%m-%d %H:%M:%S"]


class MomentField(DateTimeLocalField):
    """A date and time of day on the school's clock, which may be left empty."""

    def __init__(self, label: Any = None, **kwargs: Any) -> None:
        super().__init__(label, validators=[Optional()], format=FORMATS, **kwargs)
        self.moment: datetime | None = None

    def process_formdata(self, valuelist: list[str]) -> None:
        """Read what was typed, or say how it is written."""
        try:
            super().process_formdata(valuelist)
        except ValueError as error:
            raise ValueError(str(NOT_READ)) from error

    def pre_validate(self, form: Any) -> None:  # noqa: ARG002 - wtforms calls it so
        """Find the moment that is meant; an hour that the clocks leave out is none.

        Of an hour that they go through twice it is the first.
        """
        if self.data is None:
            return
        zone = ZoneInfo(timezone())
        try:
            moment = self.data.replace(tzinfo=zone).astimezone(UTC)
            is_there = moment.astimezone(zone).replace(tzinfo=None) == self.data
        except OverflowError as error:
            raise ValidationError(str(NOT_READ)) from error
        if not is_there:
            raise ValidationError(_("The clocks go forward over this time: there is none such."))
        self.moment = moment
