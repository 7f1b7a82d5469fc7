"""The forms that send and remove photos and certificates of an item."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString
from flask_wtf.file import FileField, FileRequired
from wtforms import TextAreaField

from coursekit.files.certificate import LARGEST_PDF
from coursekit.files.photo import LARGEST_PHOTO
from coursekit.services.kit_files import FileKind, NewFile
from coursekit.web.fields import Form, required
from coursekit.web.kit.forms import LONGEST_REASON
from coursekit.web.uploads import CHOOSE_FIRST, MEGABYTE, UploadForm, form_around

LARGEST_FORM = form_around(LARGEST_PHOTO)
PICTURES = "image/jpeg,image/png,image/webp"
SIZES = {"photo": LARGEST_PHOTO // MEGABYTE, "pdf": LARGEST_PDF // MEGABYTE}


class FileForm(UploadForm):
    """Sends one file of an item; each kind has its own, so that both fit on one page."""

    kind: FileKind
    send: LazyString

    def __init__(self) -> None:
        super().__init__(prefix=self.kind.value)

    def new(self, item_id: int) -> NewFile:
        """What the service is to take in."""
        name, data = self.read()
        return NewFile(item_id, self.kind, name, data)


class PhotoForm(FileForm):
    """A photo: a phone opens its camera, anything else asks for a file."""

    kind = FileKind.PHOTO
    hint = _l("JPEG, PNG or WebP, up to %(photo)d MB.", **SIZES)
    send = _l("Add the photo")
    file = FileField(
        _l("Photo of the item"),
        validators=[FileRequired(CHOOSE_FIRST)],
        render_kw={"accept": PICTURES, "capture": "environment"},
    )


class CertificateForm(FileForm):
    """A certificate: a PDF, or a picture of the paper."""

    kind = FileKind.CERTIFICATE
    hint = _l("PDF up to %(pdf)d MB, or a picture up to %(photo)d MB.", **SIZES)
    send = _l("Add the certificate")
    file = FileField(
        _l("Certificate, PDF or picture"),
        validators=[FileRequired(CHOOSE_FIRST)],
        render_kw={"accept": f"application/pdf,{PICTURES}"},
    )


class RemoveFileForm(Form):
    """Takes a file away; why is kept."""

    reason = TextAreaField(_l("Why is it removed?"), validators=required(LONGEST_REASON))
