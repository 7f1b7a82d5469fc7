"""The forms of the editor: a draft's text, and a file that is brought along."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from flask_wtf.file import FileField, FileRequired
from wtforms import TextAreaField

from coursekit.files.reading import LARGEST
from coursekit.web.stamped import StampedForm
from coursekit.web.uploads import CHOOSE_FIRST, UploadForm, form_around

LARGEST_FORM = form_around(LARGEST)


class DraftForm(StampedForm):
    """What every form of a draft carries: the revision that its page showed."""


class TextForm(DraftForm):
    """The file as text."""

    text = TextAreaField(_l("The file"))

    @property
    def typed(self) -> str:
        """The text with the line ends of a file: browsers send others."""
        return (self.text.data or "").replace("\r\n", "\n")


class ImportForm(UploadForm):
    """A scenario file from the person's device."""

    hint = _l("YAML, at most %(n)d kB. Mistakes in it can be mended here.", n=LARGEST // 1024)
    file = FileField(_l("A scenario file"), validators=[FileRequired(CHOOSE_FIRST)])
