"""Pulls of a class: the hold point before, the log after, and what each did to the kit."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from werkzeug.exceptions import NotFound

from coursekit.problems import CoursekitError
from coursekit.services import class_now, kit, planning, pulls
from coursekit.services.class_now import ClassNow
from coursekit.services.errors import Conflict
from coursekit.services.pulls import DeclaredPull, PullReport, RigPull
from coursekit.wear.status import Status
from coursekit.web import clock
from coursekit.web.fields import fresh_key, options
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.resting import resting
from coursekit.web.teach.hold_point import hold_point_form
from coursekit.web.teach.matching import matched_kit, still_at_rest
from coursekit.web.teach.pull_forms import DeclaredForm, PullForm, chosen_items, pull_form
from coursekit.web.teach.pull_pages import ChoosePage, choose_page, report_page, rig_page
from coursekit.web.teach.pulled import Pulled, pulled_rig

GONE = (Status.RETIRED, Status.LOST)


def choose_pull(class_id: int) -> ResponseReturnValue:
    """Ask what is or was pulled."""
    return render_template("teach/choose_pull.html", page=_choose(_now(class_id)))


def hold_point(class_id: int) -> ResponseReturnValue:
    """Hold the pull until everything on the list is true."""
    now = _now(class_id)
    pulled = pulled_rig(now, request.args)
    page = rig_page(now, pulled, whole_area=True)
    form = hold_point_form(pulled.rig.method)
    if form.validate_on_submit() and page.is_safe:
        flash(_("The hold point is passed. Pull, then log here how it ended."))
        return redirect(page.log, HTTPStatus.SEE_OTHER)
    at_rest = still_at_rest(matched_kit(pulled, ()))
    return render_template(
        "teach/hold_point.html", page=page, form=form, resting=at_rest
    ), form.status


def log_rig(class_id: int) -> ResponseReturnValue:
    """Log the pull of a rig: what was used of the store, and how it ended."""
    now = _now(class_id)
    pulled = pulled_rig(now, request.args)
    kit_now = matched_kit(pulled, chosen_items(request.form))
    form = pull_form(kit_now, PullForm)
    if form.validate_on_submit():
        try:
            report = pulls.record_rig_pull(unit(), actor(), _rig_pull(pulled, form), clock.now())
        except CoursekitError as error:
            show_error(form, error)
        else:
            return to_report(class_id, report)
    page, at_rest = rig_page(now, pulled), still_at_rest(kit_now)
    return render_template("teach/log_rig.html", page=page, form=form, resting=at_rest), form.status


def log_item(class_id: int) -> ResponseReturnValue:
    """Log the pull of one item with a declared load."""
    now, form = _now(class_id), DeclaredForm()
    rows = kit.list_items(unit(), actor(), clock.today(timezone()))
    chosen = chosen_items(request.form)
    form.item_id.choices = options(
        (row.id, row.mark) for row in rows if row.status not in GONE or row.id in chosen
    )
    if form.validate_on_submit():
        try:
            pull = _declared_pull(class_id, form)
            report = pulls.record_declared_pull(unit(), actor(), pull, clock.now())
        except CoursekitError as error:
            show_error(form, error)
        else:
            return to_report(class_id, report)
    page, at_rest = _choose(now), resting(row for row in rows if row.status not in GONE)
    return render_template(
        "teach/log_item.html", page=page, form=form, resting=at_rest
    ), form.status


def pull(class_id: int, pull_id: int) -> ResponseReturnValue:
    """Show what a pull did to the kit."""
    now = _now(class_id)
    row = next((row for row in now.pulls if row.pull_id == pull_id), None)
    if row is None:
        raise NotFound
    report = pulls.pull_report(unit(), actor(), pull_id)
    pulled = [line.item_id for line in report.lines]
    rows = kit.items_of_ids(unit(), actor(), pulled, clock.today(timezone()))
    return render_template("teach/pull.html", page=report_page(now, report, row, rows))


def _choose(now: ClassNow) -> ChoosePage:
    return choose_page(now, planning.plan_desk(unit(), actor(), now.head.id).plan)


def _now(class_id: int) -> ClassNow:
    return class_now.class_now(unit(), actor(), class_id)


def _rig_pull(pulled: Pulled, form: PullForm) -> RigPull:
    return RigPull(
        class_id=pulled.class_id,
        version_id=pulled.version_id,
        rig=pulled.document,
        items=form.items,
        ended=form.ended.data,
        key=form.key.data or "",
        at=form.at.moment,
    )


def _declared_pull(class_id: int, form: DeclaredForm) -> DeclaredPull:
    return DeclaredPull(
        class_id=class_id,
        item_id=form.item_id.data,
        method=form.method.data,
        size=form.size.data,
        ended=form.ended.data,
        key=form.key.data or "",
        at=form.at.moment,
    )


def show_error(form: PullForm | DeclaredForm, error: CoursekitError) -> None:
    """Show what is to be mended; a pull that is another than the one known gets its own key."""
    form.show(error)
    if isinstance(error, Conflict):
        # The old key belongs to another pull, which is recorded: this one is a pull of its own.
        form.key.data = fresh_key()


def to_report(class_id: int, report: PullReport) -> ResponseReturnValue:
    """Lead to what the pull did to the kit."""
    if report.was_there:
        flash(_("This pull had been sent before: it counts once."))
    url = url_for("teach.pull", class_id=class_id, pull_id=report.pull_id)
    return redirect(url, HTTPStatus.SEE_OTHER)
