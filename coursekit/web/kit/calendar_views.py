"""The calendar of what is due on the kit: its secret address, and the feed."""

from __future__ import annotations

from collections.abc import Iterator

from flask import Response, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.files.calendar import Entry, OnDay, stable_uid
from coursekit.services import calendars
from coursekit.services.calendars import Feed, KitCalendar
from coursekit.services.kit import ItemRow
from coursekit.wear.schedule import Reason
from coursekit.web import clock
from coursekit.web.calendar_address import Told, address_ended, address_page, feed_response
from coursekit.web.identity import unit
from coursekit.web.kit_words import kind_word
from coursekit.web.standing import COMING_WORDS, WHY_WORDS


def calendar() -> ResponseReturnValue:
    """Show who made the address, and make another: it is shown once."""
    return address_page(Feed.KIT, _told())


def end_calendar() -> ResponseReturnValue:
    """End the address in use."""
    return address_ended(Feed.KIT, _told())


def calendar_feed(secret: str) -> Response:
    """Serve the calendar to whoever has its address."""
    now = clock.now()
    found = calendars.kit_calendar(unit(), secret, now)
    name = _("Kit of %(school)s", school=found.school.name)
    return feed_response(name, [*_overdue(found), *_due(found)], now)


def _told() -> Told:
    return Told(
        has=_("The calendar of the kit has an address"),
        has_none=_("The calendar of the kit has no address yet"),
        what=_(
            "The calendar shows the day on which each item is to be examined or retired by age "
            "or time in use; what is due already stands on today. Use counts have no day: "
            "look at what will be due."
        ),
        back=_("Kit"),
        back_to="kit.store",
        page="kit.calendar",
        end="kit.end_calendar",
        feed="kit.calendar_feed",
    )


def _overdue(found: KitCalendar) -> Iterator[OnDay]:
    """Yield what is due already as one entry of today, where somebody still looks."""
    marks = [item.mark for item in found.items if item.due.is_due]
    if marks:
        title = ngettext("%(num)d item is due", "%(num)d items are due", len(marks))
        where = url_for("kit.store", _external=True)
        entry = Entry(stable_uid("kit-due", found.school.id), title, ", ".join(marks), url=where)
        yield OnDay(entry, found.today)


def _due(found: KitCalendar) -> Iterator[OnDay]:
    for item in found.items:
        for reason in item.due.reasons:
            if reason.on is not None:
                yield OnDay(_entry(found, item, reason), reason.on)


def _entry(found: KitCalendar, item: ItemRow, reason: Reason) -> Entry:
    what = COMING_WORDS[reason.cause]
    kind = kind_word(item.kind)
    return Entry(
        # Without the day, so that an examination moves the entry.
        stable_uid("kit", found.school.id, item.id, reason.cause),
        _("%(what)s: %(mark)s, %(kind)s", what=what, mark=item.mark, kind=kind),
        str(WHY_WORDS[reason.cause]) if reason.is_due else item.type.name,
        item.place,
        url_for("kit.item", item_id=item.id, _external=True),
    )
