"""Forms that bring a file: what is too large is never read, and told beside its control."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import closing
from typing import Any

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString
from flask_wtf.file import FileField

from coursekit.web.fields import Form
from coursekit.web.security import is_too_large

MEGABYTE = 1024 * 1024
CHOOSE_FIRST = _l("Choose a file first.")
# What else a form may send: its fields, and the marks that part them.
_FRAME = MEGABYTE // 2


def form_around(largest: int) -> int:
    """Return how large a form may be whose file has so many bytes at most."""
    return largest + _FRAME


class UploadForm(Form):
    """Brings a file; `hint` tells which are taken, and how large they may be.

    Its route says in its table how large the whole form may be (`form_around`).
    """

    file: FileField
    hint: LazyString

    def __init__(self, **kwargs: Any) -> None:
        # What is too large is never read: the form comes back empty, with the reason.
        sent = {"formdata": None} if is_too_large() else {}
        super().__init__(**(kwargs | sent))

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether what was sent may be acted upon; a file that is too large never is."""
        if is_too_large():
            self.tell(self.file, _("The file is too large. %(taken)s", taken=self.hint))
            return False
        return super().validate(extra_validators)

    def read(self) -> tuple[str, bytes]:
        """Return the file as it was sent: the name that it had there, or none, and its bytes."""
        with closing(self.file.data) as sent:
            return sent.filename or "", sent.read()
