"""The forms of the editor: a draft's text, and a file that is brought along."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from flask_wtf.file import FileField, FileRequired
from wtforms import TextAreaField

from coursekit.web.fields import Form
from coursekit.web.stamped import StampedForm


class DraftForm(StampedForm):
    """What every form of a draft carries: the revision that its page showed."""


class TextForm(DraftForm):
    """The file as text."""

    text = TextAreaField(_l("The file"))

    @property
    def typed(self) -> str:
        """The text with the line ends of a file: browsers send others."""
        return (self.text.data or "").replace("\r\n", "\n")


class ImportForm(Form):
    """A scenario file from the person's device."""

    file = FileField(
        _l("A scenario file"), validators=[FileRequired(_l("Choose the file on your device."))]
    )
