"""The counter: the kit list of a class, issue, and return with condition."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from http import HTTPStatus

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import issuing
from coursekit.services.errors import Conflict
from coursekit.services.issuing import GiveBack, Issue
from coursekit.services.kit import ItemRow
from coursekit.services.kit_list import KitList, kit_list
from coursekit.web import clock
from coursekit.web.fields import fresh_key
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.ids import ids_of
from coursekit.web.kit.issue_forms import IssueForm, IssueItemForm
from coursekit.web.kit.issue_page import class_kit_page, desk_page, give_back_page
from coursekit.web.kit.return_form import ReturnForm, return_form, sent_back


def class_kit(class_id: int) -> ResponseReturnValue:
    """Propose the kit of a class, and issue what is chosen of it."""
    form = IssueForm()
    named, sent = scanned_ids(), ids_of(request.form.getlist("items"))
    found = _list(class_id, (*named, *sent))
    form.offer(found, named, sent)
    if form.validate_on_submit():
        new = Issue(class_id, tuple(form.items.data or ()), form.key.data or "", form.looked)
        if _issued(form, new):
            return _to_class_kit(class_id)
    page = class_kit_page(found, named)
    return render_template("kit/class_kit.html", page=page, form=form), form.status


def give_back(class_id: int) -> ResponseReturnValue:
    """Take back what a class had out."""
    named, sent = scanned_ids(), sent_back(request.form)
    found = _list(class_id, (*named, *sent))
    form = return_form(_of_the_form(found, named, sent), _usual_method(found))
    if form.validate_on_submit():
        try:
            back = GiveBack(
                class_id, form.conditions, form.damages, form.key.data or "", form.pulls
            )
            issuing.give_back(unit(), actor(), back, clock.now())
        except CoursekitError as error:
            _show(form, error)
        else:
            flash(_("Taken back. What is wet is dried before it goes out again."))
            return _to_class_kit(class_id)
    logged = issuing.logged_with(unit(), actor(), class_id, [row.item.id for row in form.rows])
    page = give_back_page(found, logged, named)
    return render_template("kit/give_back.html", page=page, form=form), form.status


def issue_item(item_id: int) -> ResponseReturnValue:
    """Issue one item, as when its code was scanned, or say why it stays."""
    form = IssueItemForm()
    sent = form.of_class if form.is_submitted() else request.args.get("class_id", type=int)
    class_id = chosen_class(sent)
    desk = issuing.item_desk(unit(), actor(), item_id, class_id, clock.today(timezone()))
    if desk.out_with is not None and request.method == "GET":
        return redirect(url_for("kit.give_back", class_id=desk.out_with[0], item=item_id))
    if form.validate_on_submit():
        new = Issue(form.of_class, (item_id,), form.key.data or "", form.looked)
        if _issued(form, new):
            return redirect(url_for("kit.item", item_id=item_id), HTTPStatus.SEE_OTHER)
    form.class_id.data = str(class_id)
    page = desk_page(desk, class_id)
    return render_template("kit/issue_item.html", page=page, form=form), form.status


def chosen_class(named: int | None) -> int | None:
    """Return the class that was named, else the newest that is open."""
    classes = issuing.open_classes(unit(), actor())
    return named if named in dict(classes) else next((key for key, _title in classes), None)


def scanned_ids() -> tuple[int, ...]:
    """Return the items that the address names, in their order."""
    return ids_of(request.args.getlist("item"))


def _list(class_id: int, asked_for: Collection[int]) -> KitList:
    return kit_list(unit(), actor(), class_id, clock.today(timezone()), asked_for)


def _of_the_form(
    found: KitList, named: Collection[int], sent: Collection[int]
) -> Iterable[ItemRow]:
    """Return what the form asks of: that which was sent, else what the address names, else all.

    So what is told of all the others is never told of an item that the form didn't show.
    """
    if request.method == "POST":
        return (row for row in found.asked_for if row.id in sent)
    return (row for row in found.out if not named or row.id in named)


def _usual_method(found: KitList) -> str | None:
    """Return how the class pulls the first rig that it has, None where it has none."""
    return next((one.rig.method for one in found.rigs if one.rig is not None), None)


def _issued(form: IssueForm | IssueItemForm, new: Issue) -> bool:
    try:
        issuing.issue(unit(), actor(), new, clock.now())
    except CoursekitError as error:
        _show(form, error)
        return False
    flash(_("Issued. Log its pulls where they are made."))
    return True


def _show(form: IssueForm | IssueItemForm | ReturnForm, error: CoursekitError) -> None:
    form.show(error)
    if isinstance(error, Conflict):
        # What was sent with the old key is recorded: this is a form of its own.
        form.key.data = fresh_key()


def _to_class_kit(class_id: int) -> ResponseReturnValue:
    return redirect(url_for("kit.class_kit", class_id=class_id), HTTPStatus.SEE_OTHER)
