"""The register: new types of kit with the school's rule for them, and new items."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import register
from coursekit.services.register import SerialTaken
from coursekit.wear.lists import REGISTER_KINDS
from coursekit.web import clock
from coursekit.web.fields import options
from coursekit.web.identity import actor, unit
from coursekit.web.kit.forms import NewItemForm
from coursekit.web.kit.register_pages import kinds_page, new_item_page, type_form_page
from coursekit.web.kit.type_form import TypeForm
from coursekit.web.kit_words import unclear_material


def register_item() -> ResponseReturnValue:
    """Register one item of a known type."""
    types = register.kit_types(unit(), actor())
    form = NewItemForm()
    page = new_item_page(types)
    twin: int | None = None
    form.type_id.choices = options(page.choices)
    if form.validate_on_submit():
        try:
            item_id = register.register_item(unit(), actor(), form.new, clock.now())
        except CoursekitError as error:
            form.show(error)
            twin = error.item_id if isinstance(error, SerialTaken) else None
        else:
            flash(_("Registered. It is examined before it goes out for the first time."))
            return redirect(url_for("kit.item", item_id=item_id), HTTPStatus.SEE_OTHER)
    shown = render_template("kit/new_item.html", page=page, form=form, twin=twin)
    return shown, form.status


def register_type() -> ResponseReturnValue:
    """Ask for the kind, then register a type of it with the kind's usual rule filled in."""
    kind = request.args.get("kind", "")
    if kind not in REGISTER_KINDS:
        return render_template("kit/new_type_kind.html", page=kinds_page())
    form = TypeForm()
    form.begin(kind)
    if form.validate_on_submit():
        try:
            register.register_type(unit(), actor(), form.new(kind), clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("The type is registered. Now register its items."))
            if unclear := unclear_material(kind, form.material.data):
                flash(_("Material: %(unclear)s.", unclear=unclear))
            return redirect(url_for("kit.register_item"), HTTPStatus.SEE_OTHER)
    page = type_form_page(kind, is_new=True)
    return render_template("kit/new_type.html", page=page, form=form), form.status
