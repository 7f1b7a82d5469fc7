"""The calendar of classes and of certificates that end: its secret address, and the feed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from http import HTTPStatus

from flask import Response, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel import ngettext

from coursekit.files.calendar import MIMETYPE, Entry, OnDay, calendar_bytes, stable_uid
from coursekit.services import calendars
from coursekit.services.calendars import AddressRow, Feed, SchoolCalendar
from coursekit.web import clock
from coursekit.web.fields import Press
from coursekit.web.identity import actor, unit

STATUS = {"draft": _l("not open yet"), "open": _l("open"), "closed": _l("closed")}


@dataclass(frozen=True)
class CalendarPage:
    """The address in use, who made it, and the ones before; a new one is shown once."""

    title: str
    address: str
    rows: tuple[AddressRow, ...]
    is_open: bool


def calendar() -> ResponseReturnValue:
    """Show who made the address, and make another: it is shown once."""
    form = Press()
    address = ""
    if form.validate_on_submit():
        secret = calendars.change_address(unit(), actor(), Feed.CLASSES, clock.now())
        address = url_for("records.calendar_feed", secret=secret, _external=True)
    page = _page(calendars.addresses(unit(), actor(), Feed.CLASSES), address)
    return render_template("records/calendar.html", page=page, form=form), form.status


def end_calendar() -> ResponseReturnValue:
    """End the address in use."""
    calendars.end_address(unit(), actor(), Feed.CLASSES, clock.now())
    flash(_("The address is ended: calendars that read it find nothing any more."))
    return redirect(url_for("records.calendar"), HTTPStatus.SEE_OTHER)


def calendar_feed(secret: str) -> Response:
    """Serve the calendar to whoever has its address."""
    now = clock.now()
    found = calendars.school_calendar(unit(), secret, now)
    name = _("Classes of %(school)s", school=found.school.name)
    entries = [*_sessions(found), *_expiries(found)]
    answer = Response(calendar_bytes(name, entries, now), mimetype=MIMETYPE)
    answer.headers["X-Robots-Tag"] = "noindex"
    return answer


def _page(rows: tuple[AddressRow, ...], address: str) -> CalendarPage:
    is_open = any(row.is_open for row in rows)
    title = _("The calendar of classes has an address") if is_open else _(
        "The calendar of classes has no address yet"
    )  # fmt: skip
    return CalendarPage(title, address, rows, is_open)


def _sessions(found: SchoolCalendar) -> Iterator[OnDay]:
    for row in found.sessions:
        entry = Entry(
            stable_uid("class", found.school.id, row.id),
            _("%(course)s: %(title)s", course=row.course, title=row.title),
            _("%(status)s; %(n)s in it", status=STATUS[row.status], n=row.students),
            url=url_for("teach.class_now", class_id=row.id, _external=True),
        )
        yield OnDay(entry, row.on)


def _expiries(found: SchoolCalendar) -> Iterator[OnDay]:
    for day, count in found.expiries:
        entry = Entry(
            stable_uid("certificates", found.school.id, day),
            ngettext("%(num)d certificate ends", "%(num)d certificates end", count),
            _("Whose they are stands in the records."),
            url=url_for("records.records", _external=True),
        )
        yield OnDay(entry, day)
