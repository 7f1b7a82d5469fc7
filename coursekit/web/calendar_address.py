"""The secret address of a calendar on a page: made, shown once, ended; and the feed itself."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from http import HTTPStatus

from flask import Response, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.files.calendar import MIMETYPE, OnDay, calendar_bytes
from coursekit.services import calendars
from coursekit.services.calendars import AddressRow, Feed
from coursekit.web import clock
from coursekit.web.fields import Press
from coursekit.web.identity import actor, unit


@dataclass(frozen=True)
class Told:
    """What the page of a calendar says: its titles, what stands in it, and the way back.

    `page`, `end` and `feed` are the endpoints of the page, of its end and of the feed.
    """

    has: str
    has_none: str
    what: str
    back: str
    back_to: str
    page: str
    end: str
    feed: str


@dataclass(frozen=True)
class CalendarPage:
    """The address in use, who made it, and the ones before; a new one is shown once."""

    title: str
    address: str
    rows: tuple[AddressRow, ...]
    is_open: bool
    told: Told


def address_page(feed: Feed, told: Told) -> ResponseReturnValue:
    """Show who made the address, and make another: it is shown once."""
    form = Press()
    address = ""
    if form.validate_on_submit():
        secret = calendars.change_address(unit(), actor(), feed, clock.now())
        address = url_for(told.feed, secret=secret, _external=True)
    rows = calendars.addresses(unit(), actor(), feed)
    is_open = any(row.is_open for row in rows)
    title = told.has if is_open else told.has_none
    page = CalendarPage(title, address, rows, is_open, told)
    return render_template("layout/calendar_address.html", page=page, form=form), form.status


def address_ended(feed: Feed, told: Told) -> ResponseReturnValue:
    """End the address in use."""
    calendars.end_address(unit(), actor(), feed, clock.now())
    flash(_("The address is ended: calendars that read it find nothing any more."))
    return redirect(url_for(told.page), HTTPStatus.SEE_OTHER)


def feed_response(name: str, entries: Iterable[OnDay], now: datetime) -> Response:
    """Return a calendar as whoever has its address reads it."""
    answer = Response(calendar_bytes(name, list(entries), now), mimetype=MIMETYPE)
    answer.headers["X-Robots-Tag"] = "noindex"
    return answer
