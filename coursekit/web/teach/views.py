"""The instructor's classes: list, make, prepare, open, watch, close, read a paper."""

from __future__ import annotations

from http import HTTPStatus
from ipaddress import ip_address
from urllib.parse import urlsplit

from flask import Response, flash, make_response, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from werkzeug.exceptions import NotFound

from coursekit.problems import CoursekitError
from coursekit.services import answering, class_now, preparing, reviewing, teaching, yard
from coursekit.services.class_now import ClassNow
from coursekit.services.errors import Conflict
from coursekit.services.figures import class_figures
from coursekit.services.records import stale_in_class
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.web import clock
from coursekit.web.fields import Press, options
from coursekit.web.force_time import force_time_chart
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.marks_page import shown_solution
from coursekit.web.qr import qr_svg
from coursekit.web.teach.class_page import JoinPanel, class_page, join_panel, live_part
from coursekit.web.teach.figures_page import figures_page
from coursekit.web.teach.forms import ChooseForm, NewClassForm
from coursekit.web.teach.pages import classes_page, close_page, draft_page, scenario_choices

DRAFT = "draft"
LONGEST_KEY = 200


def classes() -> ResponseReturnValue:
    """Show all classes, what is open first."""
    return render_template(
        "teach/classes.html", page=classes_page(teaching.classes(unit(), actor()))
    )


def new_class() -> ResponseReturnValue:
    """Make a class on a date, of an old or a new course."""
    form = NewClassForm()
    form.offer(teaching.courses(unit(), actor()))
    if form.on.data is None and not form.is_submitted():
        form.on.data = clock.today(timezone())
    if form.validate_on_submit():
        try:
            class_id = _created(form)
        except CoursekitError as error:
            form.show(error)
        else:
            return _to_class(class_id)
    return render_template("teach/new_class.html", form=form), form.status


def show_class(class_id: int) -> ResponseReturnValue:
    """Show a class as it is now; one that is being prepared, with what it works on."""
    now = _now(class_id)
    if now.head.status == DRAFT:
        return _draft(now, ChooseForm())
    page = class_page(now, _wanted(), _join(now))
    waiting = reviewing.waiting_in_class(unit(), actor(), class_id)
    stale = stale_in_class(unit(), actor(), class_id)
    return render_template("teach/class_now.html", page=page, waiting=waiting, stale=stale)


def live(class_id: int) -> ResponseReturnValue:
    """Serve what changes while the class works; nothing where nothing has changed."""
    part = live_part(_now(class_id), _wanted())
    response = make_response(render_template("teach/_live.html", live=part))
    response.add_etag()
    return response.make_conditional(request)


def join_screen(class_id: int) -> ResponseReturnValue:
    """Show the code and its QR as large as the screen allows."""
    now = _now(class_id)
    join = _join(now)
    if join is None:
        raise NotFound
    return render_template("teach/join_screen.html", page=now.head, join=join)


def join_qr(class_id: int) -> ResponseReturnValue:
    """Serve the QR of the join address."""
    join = _join(_now(class_id))
    if join is None:
        raise NotFound
    return Response(qr_svg(join.address), mimetype="image/svg+xml")


def choose(class_id: int) -> ResponseReturnValue:
    """Set what a class works on; open it when that was asked for."""
    now, form = _now(class_id), ChooseForm()
    _offer(form)
    if form.validate_on_submit():
        try:
            _choose(class_id, form)
        except CoursekitError as error:
            form.show(error)
            form.stamp(now.head.version, again=isinstance(error, Conflict))
        else:
            return _to_class(class_id)
    return _draft(now, form)


def figures(class_id: int) -> ResponseReturnValue:
    """Show how the tasks worked, in this class and in all so far."""
    page = figures_page(class_figures(unit(), actor(), class_id))
    return render_template("teach/figures.html", page=page)


def close(class_id: int) -> ResponseReturnValue:
    """Ask once, then close."""
    form = Press()
    if form.validate_on_submit():
        teaching.close_class(unit(), actor(), class_id, clock.now())
        flash(_("The class is closed, and its code is dead."))
        return _to_class(class_id)
    lists = yard.yard_of_class(unit(), actor(), class_id)
    page = close_page(_now(class_id), lists.places)
    return render_template("teach/close.html", page=page, form=form), form.status


def force_time(attempt_id: int) -> ResponseReturnValue:
    """Serve the chart of a kinetic pull of a paper."""
    result = answering.result_view(unit(), actor(), attempt_id)
    chart = force_time_chart(result.scenario, shown_solution(result))
    if chart is None:
        raise NotFound
    return Response(chart, mimetype="image/svg+xml")


def _now(class_id: int) -> ClassNow:
    return class_now.class_now(unit(), actor(), class_id)


def _wanted() -> str:
    return request.args.get("task", "")[:LONGEST_KEY]


def _created(form: NewClassForm) -> int:
    course_id = form.course_id.data
    if form.is_new_course:
        course_id = teaching.add_course(unit(), actor(), form.course_title.data or "", clock.now())
    new = NewClass(course_id, form.title.data or "", form.on.data)
    return teaching.create_class(unit(), actor(), new, clock.now())


def _offer(form: ChooseForm) -> None:
    form.version_ids.choices = options(scenario_choices(preparing.list_scenarios(unit(), actor())))


def _choose(class_id: int, form: ChooseForm) -> None:
    choice = ScenarioChoice(class_id, tuple(form.version_ids.data or ()), form.version)
    teaching.choose_scenarios(unit(), actor(), choice)
    if request.form.get("then") == "open":
        teaching.open_class(unit(), actor(), class_id, clock.now())
        flash(_("Open. Show the code to the students."))
    else:
        flash(_("Kept. Students can't come in yet."))


def _draft(now: ClassNow, form: ChooseForm) -> ResponseReturnValue:
    cards = preparing.list_scenarios(unit(), actor())
    form.version_ids.choices = options(scenario_choices(cards))
    if not form.is_submitted():
        form.version_ids.data = [one.version_id for one in now.scenarios]
    form.stamp(now.head.version)
    page = draft_page(now, cards)
    return render_template("teach/draft.html", page=page, form=form), form.status


def _join(now: ClassNow) -> JoinPanel | None:
    code = now.head.join_code
    if code is None:
        return None
    address = url_for("account.join_by_code", code=code, _external=True)
    return join_panel(code, address, now.head.id, is_local=_is_local(address))


def _is_local(address: str) -> bool:
    """Whether an address means this computer alone, so that no phone can reach it."""
    host = urlsplit(address).hostname or ""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _to_class(class_id: int) -> ResponseReturnValue:
    return redirect(url_for("teach.class_now", class_id=class_id), HTTPStatus.SEE_OTHER)
