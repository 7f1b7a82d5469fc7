"""The look before every use, on the phone of whoever holds the item."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import before_use
from coursekit.services.before_use import Doubt, InHand
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.kit.each_use import EachUse, each_use_of
from coursekit.web.kit.forms import DoubtForm
from coursekit.web.kit.views import item
from coursekit.web.kit_words import kind_word
from coursekit.web.routes import STAFF


@dataclass(frozen=True)
class LookPage:
    """One item in somebody's hand: what would keep it in the store, and whether it is held."""

    id: int
    name: str
    kind: str
    is_held: bool
    looks: EachUse
    is_staff: bool


def opened(item_id: int) -> ResponseReturnValue:
    """Answer the code of a label: the item's page for staff, the look before use for a student."""
    if actor().roles & STAFF:
        return item(item_id)
    return redirect(url_for("kit.look", item_id=item_id), HTTPStatus.SEE_OTHER)


def look(item_id: int) -> ResponseReturnValue:
    """Show what to look at before an item is used, and hold it back on a doubt."""
    found = before_use.in_hand(unit(), actor(), item_id)
    form = DoubtForm()
    if form.validate_on_submit():
        doubt = Doubt(item_id, form.reason.data or "", form.key.data or "")
        try:
            before_use.hold_back(unit(), actor(), doubt, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Held back. Hand it to your instructor or to the store."))
            return redirect(url_for("kit.look", item_id=item_id), HTTPStatus.SEE_OTHER)
    return render_template("kit/look.html", page=_page(found), form=form), form.status


def _page(found: InHand) -> LookPage:
    return LookPage(
        id=found.id,
        name=found.mark,
        kind=kind_word(found.kind),
        is_held=found.is_held,
        looks=each_use_of(found.kind, found.material),
        is_staff=bool(actor().roles & STAFF),
    )
