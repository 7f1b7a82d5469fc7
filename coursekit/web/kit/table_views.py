"""The register as a table: taken in with a try beforehand, given out as CSV and XLSX."""

from __future__ import annotations

from dataclasses import dataclass

from flask import Response, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel import ngettext
from flask_wtf.file import FileField, FileRequired
from werkzeug.utils import secure_filename
from wtforms import SubmitField

from coursekit.files.kit_table import (
    COLUMNS,
    LARGEST_TABLE,
    MOST_ROWS,
    NEEDED,
    table_bytes,
    table_rows,
)
from coursekit.files.plain_table import table_type
from coursekit.files.reading import bounded
from coursekit.problems import Problems
from coursekit.rigging.gear import MATERIALS
from coursekit.services import importing, kit
from coursekit.services.exporting import export_rows
from coursekit.services.importing import Imported
from coursekit.web import clock
from coursekit.web.given_out import attached
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.uploads import CHOOSE_FIRST, MEGABYTE, UploadForm, form_around

LARGEST_FORM = form_around(LARGEST_TABLE)
_CSV, _XLSX = "kit-register.csv", "kit-register.xlsx"
# So many bad rows are told at once.
MOST_TOLD = 200
MOST_NAMED = 20


class TableForm(UploadForm):
    """A table of kit: tried first, then taken in."""

    hint = _l(
        "Up to %(size)d MB and %(rows)d rows. All rows are taken in, or none.",
        size=LARGEST_TABLE // MEGABYTE,
        rows=MOST_ROWS,
    )
    file = FileField(_l("Table, CSV or XLSX"), validators=[FileRequired(CHOOSE_FIRST)])
    try_it = SubmitField(_l("Try it, write nothing"))
    take_in = SubmitField(_l("Take it in"))


@dataclass(frozen=True)
class TablePage:
    """What a table may hold, what one would add, and what is wrong with it, row by row."""

    columns: str
    needed: str
    found: str
    unclear: str
    problems: tuple[str, ...]
    left_off: int


def export_csv() -> ResponseReturnValue:
    """Give the register out as CSV."""
    return _file(_CSV)


def export_xlsx() -> ResponseReturnValue:
    """Give the register out as a spreadsheet."""
    return _file(_XLSX)


def import_kit() -> ResponseReturnValue:
    """Try a table, telling every bad row, or take all of it in."""
    form, found, unclear, problems = TableForm(), "", "", tuple[str, ...]()
    if form.validate_on_submit():
        try:
            added = _taken(form)
        except Problems as error:
            problems = tuple(map(str, error.items))
            form.notices.append(_told_wrong(len(problems)))
        else:
            if form.take_in.data:
                flash(_("%(what)s taken in.", what=_told(added)))
                if added.unclear:
                    flash(_unclear(added))
                return redirect(url_for("kit.store"), 303)
            found, unclear = _told(added), _unclear(added) if added.unclear else ""
    page = TablePage(
        columns=", ".join(COLUMNS),
        needed=", ".join(NEEDED),
        found=found,
        unclear=unclear,
        problems=problems[:MOST_TOLD],
        left_off=max(0, len(problems) - MOST_TOLD),
    )
    return render_template("kit/import.html", page=page, form=form), form.status


def _taken(form: TableForm) -> Imported:
    sent_as, data = form.read()
    name = secure_filename(sent_as) or "table"
    rows = table_rows(name, bounded(data, largest=LARGEST_TABLE, name=name))
    act = importing.import_kit if form.take_in.data else importing.try_import
    return act(unit(), actor(), name, rows, clock.now())


def _told(added: Imported) -> str:
    items = ngettext("%(num)d item", "%(num)d items", len(added.items))
    if not added.types:
        return items
    types = ngettext("%(num)d new type", "%(num)d new types", len(added.types))
    return _("%(items)s and %(types)s", items=items, types=types)


def _unclear(added: Imported) -> str:
    return _(
        "Material not known of %(types)s: what is stricter holds. Fibre is written as "
        "%(fibre)s, metal as wire or chain.",
        types=", ".join(added.unclear[:MOST_NAMED]),
        fibre=", ".join(MATERIALS["bridle"][:-2]),
    )


def _told_wrong(number: int) -> str:
    return ngettext(
        "%(num)d thing is to be mended; nothing was written.",
        "%(num)d things are to be mended; nothing was written.",
        number,
    )


def _file(name: str) -> Response:
    rows = kit.list_items(unit(), actor(), clock.today(timezone()))
    return attached(table_bytes(name, export_rows(rows)), table_type(name), name)
