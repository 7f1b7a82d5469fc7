"""The storekeeper's pages: the store, one item and what is done with it, the register."""

from __future__ import annotations

from collections.abc import Callable
from datetime import MAXYEAR
from http import HTTPStatus

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from werkzeug.exceptions import NotFound

from coursekit.drawing.wear_chart import life_chart, retirement_chart
from coursekit.problems import CoursekitError
from coursekit.services import amending, exposing, inspecting, issuing, kit, kit_files, stiffness
from coursekit.services.actor import Role
from coursekit.services.errors import Conflict
from coursekit.services.kit import Change, Correction, ItemLife, Retirement
from coursekit.services.shelf import look_through
from coursekit.web import clock
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.kit.changes_page import change_lines
from coursekit.web.kit.exposure_form import ExposureForm
from coursekit.web.kit.files_page import files_part
from coursekit.web.kit.forms import (
    CorrectForm,
    ItemForm,
    QuarantineForm,
    ReasonedForm,
    ReleaseForm,
    RetireForm,
)
from coursekit.web.kit.inspect_form import inspect_form
from coursekit.web.kit.item_page import item_page, life_for_chart
from coursekit.web.kit.retired_page import retired_for_chart, retired_page
from coursekit.web.kit.stiffness_page import StiffnessPage, stiffness_page
from coursekit.web.kit.store_page import StorePage, asked, cursor, store_page

SVG = "image/svg+xml"


def store() -> ResponseReturnValue:
    """Show what may go out, and what is due."""
    classes = issuing.open_classes(unit(), actor())
    may_register = actor().has(Role.STOREKEEPER)
    return render_template(
        "kit/store.html", page=_looked(), classes=classes, may_register=may_register
    )


def found() -> ResponseReturnValue:
    """Serve what the store's page finds, for a search that is still being typed."""
    return render_template("kit/_found.html", page=_looked())


def item(item_id: int) -> ResponseReturnValue:
    """Show one item with its life, its photos and certificates, and what was measured of it."""
    is_storekeeper = actor().has(Role.STOREKEEPER)
    life = _life(item_id)
    figure = request.args.get("made_by", "")
    page = item_page(life, is_storekeeper=is_storekeeper, figure=figure)
    rows = kit_files.files_of_item(unit(), actor(), item_id)
    return render_template(
        "kit/item.html",
        page=page,
        files=files_part(rows, page.line, may_remove=is_storekeeper),
        changes=change_lines(amending.changes_of_item(unit(), actor(), item_id)),
        may_change=is_storekeeper,
        stiffness=_stiffness(item_id),
        may_see_pulls=actor().has(Role.INSTRUCTOR),
    )


def life(item_id: int) -> ResponseReturnValue:
    """Serve the chart of an item's life."""
    drawn, words = life_for_chart(_life(item_id), clock.today(timezone()))
    return Response(life_chart(drawn, words), mimetype=SVG)


def quarantine(item_id: int) -> ResponseReturnValue:
    """Keep an item in the store until somebody else has looked at it."""
    form = QuarantineForm()

    def act() -> None:
        kit.quarantine(unit(), actor(), change_of(item_id, form), clock.now())

    return changed(item_id, form, "quarantine", act)


def release(item_id: int) -> ResponseReturnValue:
    """Let an item go out again."""
    form = ReleaseForm()

    def act() -> None:
        kit.release(unit(), actor(), change_of(item_id, form), clock.now())

    return changed(item_id, form, "release", act)


def inspect(item_id: int) -> ResponseReturnValue:
    """Record an examination."""
    form = inspect_form(_life(item_id).item)

    def act() -> None:
        inspecting.inspect(unit(), actor(), form.inspection(item_id), clock.now())

    return changed(item_id, form, "inspect", act)


def expose(item_id: int) -> ResponseReturnValue:
    """Record what an item was exposed to."""
    form = ExposureForm()

    def act() -> None:
        exposing.expose(unit(), actor(), form.exposure(item_id), clock.now())

    return changed(item_id, form, "expose", act)


def retire(item_id: int) -> ResponseReturnValue:
    """End an item's life, once it is destroyed."""
    form = RetireForm()
    form.offer(kit.witnesses(unit(), actor()))

    def act() -> None:
        end = Retirement(
            item_id,
            form.version,
            form.reason.data or "",
            form.destroyed.data or "",
            int(form.witness.data),
            form.key.data or "",
        )
        kit.retire(unit(), actor(), end, clock.now())

    return changed(item_id, form, "retire", act)


def correct(item_id: int, entry_id: int) -> ResponseReturnValue:
    """Reverse an entry that was wrong."""
    page = item_page(_life(item_id))
    entry = next((line for line in page.ledger if line.entry_id == entry_id), None)
    if entry is None:
        raise NotFound
    form = CorrectForm()
    if form.validate_on_submit():
        correction = Correction(entry_id, form.reason.data or "", form.key.data or "")
        try:
            kit.correct(unit(), actor(), correction, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Reversed. The entry stays to be seen."))
            return _to_item(item_id)
    return render_template("kit/correct.html", page=page, entry=entry, form=form), form.status


def retired() -> ResponseReturnValue:
    """Show how many items of which kind were retired, and why."""
    kind = request.args.get("kind", "")
    year = request.args.get("year", 0, type=int)
    items = kit.retired_items(unit(), actor(), kind, year) if 0 < year <= MAXYEAR else ()
    page = retired_page(kit.retirement_count(unit(), actor()), (kind, year), items)
    return render_template("kit/retired.html", page=page)


def retired_chart() -> ResponseReturnValue:
    """Serve the chart of retirements."""
    rows, words = retired_for_chart(kit.retirement_count(unit(), actor()))
    return Response(retirement_chart(rows, words), mimetype=SVG)


def _looked() -> StorePage:
    search = asked(request.args)
    at, today = cursor(request.args), clock.today(timezone())
    return store_page(look_through(unit(), actor(), search.sought, at, today), search)


def _life(item_id: int) -> ItemLife:
    return kit.item_life(unit(), actor(), item_id, clock.today(timezone()))


def _stiffness(item_id: int) -> StiffnessPage | None:
    """Return what a rope's measured pulls say of it, None where it has none."""
    rope = stiffness.rope_stiffness(unit(), actor(), item_id, clock.today(timezone()))
    return stiffness_page(rope) if rope else None


def change_of(item_id: int, form: ReasonedForm) -> Change:
    """Return what a form says of an item."""
    return Change(item_id, form.version, form.reason.data or "", form.key.data or "")


def changed(
    item_id: int, form: ItemForm, name: str, act: Callable[[], None]
) -> ResponseReturnValue:
    """Act on a form that may be acted upon, else show it with the item as it is now."""
    has_moved = False
    if form.validate_on_submit():
        try:
            act()
        except CoursekitError as error:
            form.show(error)
            has_moved = isinstance(error, Conflict)
        else:
            flash(_("Recorded."))
            return _to_item(item_id)
    page = item_page(_life(item_id))
    form.stamp(page.version, again=has_moved)
    return render_template(f"kit/{name}.html", page=page, form=form), form.status


def _to_item(item_id: int) -> ResponseReturnValue:
    return redirect(url_for("kit.item", item_id=item_id), HTTPStatus.SEE_OTHER)
