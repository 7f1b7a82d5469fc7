"""Where an item stands, in a shape and few words: may it go out, and what is due, and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import format_date, ngettext
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.services.kit import ItemRow
from coursekit.wear.ledger import Size
from coursekit.wear.schedule import Bar, Cause, Reason
from coursekit.wear.shelf import is_nearly_due, is_nearly_used
from coursekit.wear.status import AWAY, Status

BAR_WORDS = {
    Bar.QUARANTINED: _l("in quarantine"),
    Bar.UNLABELLED: _l("no legible rating"),
    Bar.UNRATED: _l("no rating in the register"),
    Bar.UNDATED: _l("date of make unknown"),
    Bar.RETIRED: _l("retired"),
    Bar.LOST: _l("lost"),
    Bar.OUT: _l("out with a class"),
}
DUE_WORDS = {
    Cause.USE: _l("retire: use count spent"),
    Cause.AGE: _l("retire: too old"),
    Cause.CALENDAR: _l("retire: too long in use"),
    Cause.INSPECTION: _l("inspect first"),
}
COMING_WORDS = {
    Cause.USE: _l("retire by use"),
    Cause.AGE: _l("retire by age"),
    Cause.CALENDAR: _l("retire by time in use"),
    Cause.INSPECTION: _l("inspect"),
}
WHY_WORDS = {
    Cause.USE: _l("The use count has reached the number at which its type retires."),
    Cause.AGE: _l("Its age from the date of make has reached the limit of its type."),
    Cause.CALENDAR: _l("The time since its first use has reached the limit of its type."),
    Cause.INSPECTION: _l("Its last thorough examination is too long ago, or was never recorded."),
}


BAR_WHY = {
    Bar.QUARANTINED: _l("It is in quarantine until another competent person has released it."),
    Bar.UNLABELLED: _l("Its rating can't be read."),
    Bar.UNRATED: _l("Its type has no WLL and no MBS, so nobody knows what it may carry."),
    Bar.UNDATED: _l("Nobody knows when it was made."),
    Bar.RETIRED: _l("It is retired, and retired is final."),
    Bar.LOST: _l("It is lost."),
    Bar.OUT: _l("It is out with a class."),
}


@dataclass(frozen=True)
class Tag:
    """A shape, a word and a tone; the tone alone never carries the meaning.

    Where the word tells what is due, `cause` is why.
    """

    shape: str
    word: str
    tone: str
    cause: Cause | None = None


def standing(row: ItemRow) -> Tag:
    """Return where an item stands: the gravest thing first."""
    if row.status in AWAY:
        return Tag("○", str(BAR_WORDS[Bar(row.status)]), "soft")
    stop = next(_stops(row), None)
    if stop is not None:
        return stop
    if row.status == Status.OUT:
        return Tag("○", str(BAR_WORDS[Bar.OUT]), "soft")
    return next((Tag("◆", word, "care") for word in _cares(row)), Tag("✓", _("may go out"), "good"))


def why_it_stays(row: ItemRow) -> tuple[str, ...]:
    """Return everything that keeps an item in the store, a sentence each."""
    due = () if row.status in AWAY else row.due.now
    return (
        *(str(BAR_WHY[bar]) for bar in row.due.bars),
        *(str(WHY_WORDS[reason.cause]) for reason in due),
    )


def coming(reason: Reason) -> str:
    """Return what will be due, with its date where it has one."""
    if reason.on is None:
        return str(COMING_WORDS[reason.cause])
    return _(
        "%(what)s by %(day)s", what=COMING_WORDS[reason.cause], day=format_date(reason.on, "medium")
    )


def _stops(row: ItemRow) -> Iterator[Tag]:
    bars = [bar for bar in row.due.bars if bar is not Bar.OUT]
    yield from (_barred(bar) for bar in bars if bar is Bar.QUARANTINED)
    yield from (_due(reason) for reason in row.due.now if reason.retires)
    yield from (_barred(bar) for bar in bars if bar is not Bar.QUARANTINED)
    yield from (_due(reason) for reason in row.due.now if not reason.retires)


def _barred(bar: Bar) -> Tag:
    return Tag("▲", str(BAR_WORDS[bar]), "stop")


def _due(reason: Reason) -> Tag:
    return Tag("▲", str(DUE_WORDS[reason.cause]), "stop", reason.cause)


def _cares(row: ItemRow) -> Iterator[str]:
    if is_nearly_used(row.counts, row.type.policy):
        yield _use_left(row)
    if is_nearly_due(row.due):
        yield from (coming(r) for r in row.due.reasons if r.on is not None and not r.is_due)
    if row.due.look_over:
        yield _("look over before use")


def _use_left(row: ItemRow) -> str:
    light = dict(row.due.left.pulls).get(Size.LIGHT)
    if light is None:
        return _("use count nearly spent")
    return ngettext(
        "due after %(num)d more light pull", "due after %(num)d more light pulls", light
    )
