"""Labels with a code that opens the item, and the recall of a batch."""

from __future__ import annotations

from http import HTTPStatus

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import ngettext
from werkzeug.exceptions import NotFound

from coursekit.problems import CoursekitError
from coursekit.services import kit, recalling
from coursekit.services.recalling import Recall
from coursekit.services.shelf import found_items
from coursekit.web import clock
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.kit.forms import RecallForm
from coursekit.web.kit.labels_page import LabelsPage, asked_labels, labels_page
from coursekit.web.kit.recall_page import recall_page
from coursekit.web.kit.store_page import asked
from coursekit.web.kit.views import SVG
from coursekit.web.qr import qr_svg

LONGEST_BATCH = 120


def labels() -> ResponseReturnValue:
    """Ask which labels, on which sheet."""
    return render_template("kit/labels.html", page=_labels())


def label_sheet() -> ResponseReturnValue:
    """Lay the labels out to print."""
    return render_template("kit/label_sheet.html", page=_labels())


def code(item_id: int) -> ResponseReturnValue:
    """Serve the code that opens an item."""
    if not kit.items_of_ids(unit(), actor(), [item_id], clock.today(timezone())):
        raise NotFound
    address = url_for("kit.item", item_id=item_id, _external=True)
    return Response(qr_svg(address), mimetype=SVG)


def recall() -> ResponseReturnValue:
    """Take a whole batch out of use in one step."""
    name = request.args.get("batch", "")[:LONGEST_BATCH]
    form = RecallForm()
    rows = recalling.batch(unit(), actor(), name, clock.today(timezone()))
    if form.validate_on_submit():
        new = Recall(name, form.reason.data or "", form.key.data or "")
        try:
            moved = recalling.recall(unit(), actor(), new, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(
                ngettext(
                    "%(num)d item is in quarantine.", "%(num)d items are in quarantine.", moved
                )
            )
            return redirect(url_for("kit.store", words=name), HTTPStatus.SEE_OTHER)
    page = recall_page(name, rows)
    return render_template("kit/recall.html", page=page, form=form), form.status


def _labels() -> LabelsPage:
    search = asked(request.args)
    rows = found_items(unit(), actor(), search.sought, clock.today(timezone()))
    sheet, skip = request.args.get("sheet", ""), request.args.get("skip", "")
    return labels_page(rows, asked_labels(search, sheet, skip))
