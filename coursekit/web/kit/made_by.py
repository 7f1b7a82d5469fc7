"""The entries of the ledger that made a figure, and what they come to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from flask_babel import format_date, ngettext
from flask_babel import gettext as _

from coursekit.services.kit import ItemLife, LifeLine
from coursekit.wear.ledger import Kind
from coursekit.wear.schedule import Cause
from coursekit.web.kit.pages import STANDING, made_text, use_text

_MOVES = (
    Kind.RECEIVED,
    Kind.ISSUED,
    Kind.RETURNED,
    Kind.QUARANTINED,
    Kind.RELEASED,
    Kind.RETIRED,
    Kind.LOST,
)


@dataclass(frozen=True)
class MadeBy:
    """What makes a figure: a sentence with the sum, and the entries of it."""

    said: str
    entry_ids: frozenset[int]


def made_by(life: ItemLife, figure: str) -> MadeBy | None:
    """Return what made a figure of an item, None for a figure that there is not."""
    told = _FIGURES.get(figure)
    return None if told is None else told(life)


def _use(life: ItemLife) -> MadeBy:
    lines = [line for line in life.lines if line.counted is not None and line.counted.added]
    number = ngettext("%(num)d pull makes", "%(num)d pulls make", len(lines))
    use = use_text(life.item.use, life.item.use_limit)
    said = _("%(pulls)s it: %(use)s.", pulls=number, use=use)
    came = [line for line in life.lines if line.brought]
    if came:
        brought = f"{sum(line.brought for line in came):.4g}"
        told = _("It came with %(count)s of it.", count=brought)
        said = f"{said} {told}"
    return _made(said, [*came, *lines])


def _age(life: ItemLife) -> MadeBy:
    years, told = life.item.type.policy.years_from_made, made_text(life.item.made)
    said = _("No entry makes its age: its label does (%(made)s).", made=told)
    if life.item.made is not None and years is not None:
        said = f"{said} {_limit(years)}"
    return _made(said, _of_kind(life, Kind.RECEIVED))


def _calendar(life: ItemLife) -> MadeBy:
    first, years = life.item.counts.first_used, life.item.type.policy.years_from_first_use
    if first is None:
        return _made(_("It was never pulled, so its time in use has not begun."), ())
    came = [line for line in life.lines if line.before and line.before.first_used == first]
    said = (
        _("Its time in use runs from %(day)s, before it came here.", day=_day(first))
        if came
        else _("Its time in use runs from its first pull, on %(day)s.", day=_day(first))
    )
    if years is not None:
        said = f"{said} {_limit(years)}"
    pulls = (line for line in _of_kind(life, Kind.PULL) if line.day == first)
    return _made(said, [*came, *pulls])


def _inspection(life: ItemLife) -> MadeBy:
    last, months = (
        life.item.counts.last_inspected,
        life.item.type.policy.months_between_inspections,
    )
    if last is None:
        said = _("No thorough examination that it passed is recorded, so it is due at once.")
        return _made(said, _of_kind(life, Kind.INSPECTED))
    said = _("It passed its last thorough examination on %(day)s.", day=_day(last))
    if months is not None:
        every = ngettext(
            "The next is due %(num)d month later.", "The next is due %(num)d months later.", months
        )
        said = f"{said} {every}"
    passed = (line for line in _of_kind(life, Kind.INSPECTED) if line.passed)
    return _made(said, (line for line in passed if line.day == last))


def _standing(life: ItemLife) -> MadeBy:
    moves = [line for line in life.lines if line.kind in _MOVES and not line.is_reversed]
    return _made(_("Where it stands follows from these moves."), moves)


def _day(day: date) -> str:
    return str(format_date(day, "medium"))


def _made(said: str, lines: Iterable[LifeLine]) -> MadeBy:
    return MadeBy(said, frozenset(line.entry_id for line in lines))


def _of_kind(life: ItemLife, kind: Kind) -> Iterable[LifeLine]:
    return (line for line in life.lines if line.kind == kind and not line.is_reversed)


def _limit(years: int) -> str:
    return ngettext(
        "Its type retires after %(num)d year.", "Its type retires after %(num)d years.", years
    )


_FIGURES: Mapping[str, Callable[[ItemLife], MadeBy]] = {
    Cause.USE: _use,
    Cause.AGE: _age,
    Cause.CALENDAR: _calendar,
    Cause.INSPECTION: _inspection,
    STANDING: _standing,
}
