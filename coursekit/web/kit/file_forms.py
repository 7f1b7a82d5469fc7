"""The forms that send and remove photos and certificates of an item."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString
from flask_wtf.file import FileField, FileRequired
from wtforms import TextAreaField

from coursekit.files.certificate import LARGEST_PDF
from coursekit.files.photo import LARGEST_PHOTO
from coursekit.services.kit_files import FileKind, NewFile
from coursekit.web.fields import TOO_LARGE, Form, required
from coursekit.web.kit.forms import LONGEST_REASON
from coursekit.web.security import is_too_large

# The frame of a form around a file takes far less.
LARGEST_FORM = LARGEST_PHOTO + 64 * 1024
PICTURES = "image/jpeg,image/png,image/webp"
MEGABYTE = 1024 * 1024
SIZES = {"photo": LARGEST_PHOTO // MEGABYTE, "pdf": LARGEST_PDF // MEGABYTE}
_CHOOSE = _l("Choose a file first.")


class FileForm(Form):
    """Sends one file of an item; each kind has its own, so that both fit on one page."""

    file: FileField
    kind: FileKind
    hint: LazyString
    send: LazyString

    def __init__(self) -> None:
        # What is too large is never read: the form comes back empty, with the reason.
        sent = {"formdata": None} if is_too_large() else {}
        super().__init__(prefix=self.kind.value, **sent)

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether a file came that may be looked at."""
        if is_too_large():
            self.tell(self.file, str(TOO_LARGE) % {"most": SIZES["photo"]})
            return False
        return super().validate(extra_validators)

    def new(self, item_id: int) -> NewFile:
        """What the service is to take in."""
        sent = self.file.data
        return NewFile(item_id, self.kind, sent.filename or "", sent.stream.read())


class PhotoForm(FileForm):
    """A photo: a phone opens its camera, anything else asks for a file."""

    kind = FileKind.PHOTO
    hint = _l("JPEG, PNG or WebP, up to %(photo)d MB.", **SIZES)
    send = _l("Add the photo")
    file = FileField(
        _l("Photo of the item"),
        validators=[FileRequired(_CHOOSE)],
        render_kw={"accept": PICTURES, "capture": "environment"},
    )


class CertificateForm(FileForm):
    """A certificate: a PDF, or a picture of the paper."""

    kind = FileKind.CERTIFICATE
    hint = _l("PDF up to %(pdf)d MB, or a picture up to %(photo)d MB.", **SIZES)
    send = _l("Add the certificate")
    file = FileField(
        _l("Certificate, PDF or picture"),
        validators=[FileRequired(_CHOOSE)],
        render_kw={"accept": f"application/pdf,{PICTURES}"},
    )


class RemoveFileForm(Form):
    """Takes a file away; why is kept."""

    reason = TextAreaField(_l("Why is it removed?"), validators=required(LONGEST_REASON))
