"""The calendar of classes and of certificates that end: its secret address, and the feed."""

from __future__ import annotations

from collections.abc import Iterator

from flask import Response, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel import ngettext

from coursekit.files.calendar import Entry, OnDay, stable_uid
from coursekit.services import calendars
from coursekit.services.calendars import Feed, SchoolCalendar
from coursekit.web import clock
from coursekit.web.calendar_address import Told, address_ended, address_page, feed_response
from coursekit.web.identity import unit

STATUS = {"draft": _l("not open yet"), "open": _l("open"), "closed": _l("closed")}


def calendar() -> ResponseReturnValue:
    """Show who made the address, and make another: it is shown once."""
    return address_page(Feed.CLASSES, _told())


def end_calendar() -> ResponseReturnValue:
    """End the address in use."""
    return address_ended(Feed.CLASSES, _told())


def calendar_feed(secret: str) -> Response:
    """Serve the calendar to whoever has its address."""
    now = clock.now()
    found = calendars.school_calendar(unit(), secret, now)
    name = _("Classes of %(school)s", school=found.school.name)
    return feed_response(name, [*_sessions(found), *_expiries(found)], now)


def _told() -> Told:
    return Told(
        has=_("The calendar of classes has an address"),
        has_none=_("The calendar of classes has no address yet"),
        what=_(
            "The calendar shows the class sessions and the days on which certificates end, "
            "for this and the coming two years. It names no student."
        ),
        back=_("Records"),
        back_to="records.records",
        page="records.calendar",
        end="records.end_calendar",
        feed="records.calendar_feed",
    )


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
