"""Changing what the register says of an item or a type, and the page of a type."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import amending, kit
from coursekit.services.actor import Role
from coursekit.services.amending import ItemChange, TypeChange, TypePast
from coursekit.services.errors import Conflict
from coursekit.services.register import SerialTaken
from coursekit.web import clock
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.kit.changes_page import type_page
from coursekit.web.kit.forms import ChangeItemForm
from coursekit.web.kit.item_page import item_page
from coursekit.web.kit.register_pages import type_form_page
from coursekit.web.kit.type_form import ChangeTypeForm


def change_item(item_id: int) -> ResponseReturnValue:
    """Change what the register says of an item."""
    form = ChangeItemForm()
    has_moved, twin = False, None
    if form.validate_on_submit():
        try:
            amending.change_item(unit(), actor(), _item_change(item_id, form), clock.now())
        except CoursekitError as error:
            form.show(error)
            has_moved = isinstance(error, Conflict)
            twin = error.item_id if isinstance(error, SerialTaken) else None
        else:
            flash(_("Changed. What it said before stays to be seen."))
            return redirect(url_for("kit.item", item_id=item_id), HTTPStatus.SEE_OTHER)
    life = kit.item_life(unit(), actor(), item_id, clock.today(timezone()))
    form.begin(life)
    form.stamp(life.item.version, again=has_moved)
    page = item_page(life)
    shown = render_template("kit/change_item.html", page=page, form=form, twin=twin)
    return shown, form.status


def show_type(type_id: int) -> ResponseReturnValue:
    """Show a type of kit with what was changed of it."""
    may_change = actor().has(Role.STOREKEEPER)
    page = type_page(_past(type_id))
    return render_template("kit/type.html", page=page, may_change=may_change)


def change_type(type_id: int) -> ResponseReturnValue:
    """Change what the register says of a type, and count its items by its rule."""
    past = _past(type_id)
    form, has_moved = ChangeTypeForm(), False
    if form.validate_on_submit():
        change = TypeChange(
            type_id,
            form.version,
            form.new(past.row.kind),
            form.reason.data or "",
            form.key.data or "",
            is_marked=bool(form.is_marked.data),
        )
        try:
            amending.change_type(unit(), actor(), change, clock.now())
        except CoursekitError as error:
            form.show(error)
            has_moved = isinstance(error, Conflict)
        else:
            flash(_("Changed, and its items are counted by it. What it said before stays."))
            return redirect(url_for("kit.type", type_id=type_id), HTTPStatus.SEE_OTHER)
    form.begin_from(past.row)
    form.stamp(past.version, again=has_moved)
    page = type_form_page(past.row.kind, is_new=False)
    shown = render_template("kit/change_type.html", page=page, form=form, type=past.row)
    return shown, form.status


def _past(type_id: int) -> TypePast:
    return amending.type_with_past(unit(), actor(), type_id)


def _item_change(item_id: int, form: ChangeItemForm) -> ItemChange:
    return ItemChange(
        item_id, form.version, form.of_type(0), form.reason.data or "", form.key.data or ""
    )
