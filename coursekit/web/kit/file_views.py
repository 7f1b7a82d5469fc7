"""Photos and certificates of an item: sent, shown, taken away."""

from __future__ import annotations

from http import HTTPStatus

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import kit, kit_files
from coursekit.services.kit_files import GivenFile, Removal
from coursekit.web import clock
from coursekit.web.given_out import guarded
from coursekit.web.identity import actor, filing, timezone, unit
from coursekit.web.kit.file_forms import CertificateForm, FileForm, PhotoForm, RemoveFileForm
from coursekit.web.kit.files_page import file_line
from coursekit.web.kit.item_page import item_page


def add_photo(item_id: int) -> ResponseReturnValue:
    """Take in a photo of an item."""
    return _taken_in(item_id, PhotoForm())


def add_certificate(item_id: int) -> ResponseReturnValue:
    """Take in a certificate of an item."""
    return _taken_in(item_id, CertificateForm())


def show(file_id: int) -> ResponseReturnValue:
    """Give out a file."""
    return _given(kit_files.give_file(unit(), filing(), actor(), file_id))


def show_small(file_id: int) -> ResponseReturnValue:
    """Give out the small picture of a file."""
    return _given(kit_files.give_file(unit(), filing(), actor(), file_id, small=True))


def remove(file_id: int) -> ResponseReturnValue:
    """Take a file away, with the reason."""
    form = RemoveFileForm()
    # Sent once more, it deletes what the disk kept the first time.
    row = kit_files.file_of_id(unit(), actor(), file_id, or_removed=form.is_submitted())
    if form.validate_on_submit():
        removal = Removal(file_id, form.reason.data or "")
        try:
            kit_files.remove_file(unit(), filing(), actor(), removal, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Removed. Who added and who removed it stays to be seen."))
            return _to_item(row.item_id)
    page = item_page(_life(row.item_id))
    file = file_line(row, page.line)
    return render_template("kit/remove_file.html", page=page, file=file, form=form), form.status


def _taken_in(item_id: int, form: FileForm) -> ResponseReturnValue:
    """Take in what the form brings, else show it with what is to be mended."""
    page = item_page(_life(item_id))
    if form.validate_on_submit():
        try:
            kit_files.add_file(unit(), filing(), actor(), form.new(item_id), clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Added."))
            return _to_item(item_id)
    return render_template("kit/add_file.html", page=page, form=form), form.status


def _given(file: GivenFile) -> Response:
    """Return a file; a browser asks each time whether it is still the same."""
    name = "" if file.row.small_sha256 else file.row.name
    answer = guarded(file.data, file.row.media_type, attached_as=name)
    answer.set_etag(file.digest)
    answer.make_conditional(request)
    return answer


def _life(item_id: int) -> kit.ItemLife:
    return kit.item_life(unit(), actor(), item_id, clock.today(timezone()))


def _to_item(item_id: int) -> ResponseReturnValue:
    return redirect(url_for("kit.item", item_id=item_id, _anchor="files"), HTTPStatus.SEE_OTHER)
