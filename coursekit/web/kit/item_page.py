"""The page of one item: what is due and why, and its life line by line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from flask_babel import format_date, ngettext
from flask_babel import gettext as _

from coursekit.drawing.wear_chart import Life, LifeWords, PullMark, describe_life, life_size
from coursekit.quantities.display import show_load
from coursekit.services.kit import Ages, ItemLife, LifeLine
from coursekit.services.repairing import is_repairable, is_spliced
from coursekit.wear.ledger import Kind, Pull, Size, UsedBefore
from coursekit.wear.schedule import Cause
from coursekit.wear.status import AWAY, Status
from coursekit.web.filters import percent
from coursekit.web.kit.ahead_page import forecast_text, sum_text
from coursekit.web.kit.exposed_text import exposed_text, exposure_text
from coursekit.web.kit.looked_text import LookedLine, inspection_texts, looked_lines
from coursekit.web.kit.made_by import made_by
from coursekit.web.kit.pages import ItemLine, item_line, made_text, use_text
from coursekit.web.kit.policy_text import PolicyText, policy_text
from coursekit.web.kit.type_facts import type_facts
from coursekit.web.kit_words import ENDINGS, ENTRIES, ORIGINS, SIZES, unclear_material
from coursekit.web.resting import rest_text
from coursekit.web.standing import WHY_WORDS, coming
from coursekit.web.words import RIG_METHODS


@dataclass(frozen=True)
class DueLine:
    """One thing that is or will be due: what, when, and why; `figure` is what made it."""

    what: str
    is_now: bool
    why: str
    figure: str


@dataclass(frozen=True)
class LedgerLine:
    """One entry as the table shows it; `counted` where it adds to the count.

    `looked` is what an examination looked at, line by line.
    """

    entry_id: int
    at: datetime
    what: str
    detail: str
    counted: str
    looked: tuple[LookedLine, ...]
    by: str
    is_reversed: bool
    is_late: bool
    may_correct: bool


@dataclass(frozen=True)
class Acts:
    """What may be done with the item now."""

    may_issue: bool
    is_out: bool
    may_quarantine: bool
    may_release: bool
    may_inspect: bool
    may_retire: bool
    is_undestroyed: bool
    may_lose: bool
    may_find: bool
    may_repair: bool


@dataclass(frozen=True)
class ItemPage:
    """One item: standing, label, what is due, its ledger, and the rule it lives by."""

    line: ItemLine
    type_id: int
    version: int
    title: str
    use: str
    rest: str
    facts: tuple[tuple[str, str], ...]
    due: tuple[DueLine, ...]
    ledger: tuple[LedgerLine, ...]
    made_by: str
    policy: PolicyText
    chart: str
    chart_size: tuple[int, int]
    acts: Acts
    held_by: str
    batch: str
    instructions: str
    is_spliced: bool
    unclear: str


def item_page(life: ItemLife, *, is_storekeeper: bool = False, figure: str = "") -> ItemPage:
    """Return the page of an item from its life.

    Of its ledger it shows the entries that made a figure, where one is named, else all.
    """
    line, opened = item_line(life.item), made_by(life, figure)
    shown = life.lines
    if opened is not None:
        shown = tuple(line for line in shown if line.entry_id in opened.entry_ids)
    return ItemPage(
        line=line,
        type_id=life.item.type.id,
        version=life.item.version,
        title=_("%(item)s: %(standing)s", item=line.name, standing=line.tag.word),
        use=use_text(life.item.use, life.item.use_limit),
        rest=rest_text(life.item.rest_until),
        facts=tuple(_facts(life)),
        due=() if life.item.status in AWAY else tuple(_due_lines(life)),
        ledger=tuple(_ledger_line(line) for line in reversed(shown)),
        made_by=opened.said if opened else "",
        policy=policy_text(life.item.type.policy),
        chart=_chart_text(life),
        chart_size=life_size(_life(life, date.max)),
        acts=_acts(life, is_storekeeper=is_storekeeper),
        held_by=_held_by(life),
        batch=life.item.batch,
        instructions=life.item.type.instructions,
        is_spliced=is_spliced(life.item.kind),
        unclear=unclear_material(life.item.kind, life.item.type.material),
    )


def _chart_text(life: ItemLife) -> str:
    """Return what the chart shows in words."""
    return describe_life(_life(life, date.max), _words())


def life_for_chart(life: ItemLife, today: date) -> tuple[Life, LifeWords]:
    """Return what the chart of an item's life draws, and its words."""
    return _life(life, today), _words()


def _life(life: ItemLife, today: date) -> Life:
    return Life(
        item=life.item.mark,
        pulls=[
            PullMark(
                line.counted.day, line.counted.size.value, line.counted.share, line.counted.total
            )
            for line in life.lines
            if line.counted
        ],
        inspections=[
            line.day for line in life.lines if line.kind == Kind.INSPECTED and not line.is_reversed
        ],
        limit=life.item.use_limit,
        today=today,
        heavy_from=life.item.type.policy.counting.heavy_from,
        before=sum(line.brought for line in life.lines),
    )


def _words() -> LifeWords:
    return LifeWords(
        title=_("Use of {item}"),
        load=_("load, % of its limit"),
        its_limit=_("its limit"),
        declared=_("declared, at most"),
        highest=_("highest load {share} of its limit"),
        use=_("use count"),
        total=_("use count so far"),
        limit=_("retires at {limit}"),
        inspected=_("inspected"),
        sizes={size.value: str(word) for size, word in SIZES.items()},
        described=_("{pulls} pulls, {inspections} inspections"),
        counted=_("use count {total}"),
    )


def _facts(life: ItemLife) -> Iterator[tuple[str, str]]:
    item = life.item
    yield from type_facts(item.type)
    for word, text in ((_("serial"), item.serial), (_("batch"), item.batch)):
        if text:
            yield word, text
    yield from _dates(life)
    if item.place:
        yield _("place"), item.place
    if item.cost_cents is not None:
        yield _("cost"), sum_text(item.cost_cents, 0)
    if not item.type.is_rated:
        yield _("rating"), _("no WLL and no MBS known: it may be kept, never issued")
    if not item.is_labelled:
        yield _("label"), _("not legible: it may be kept, never issued")
    if item.retired_on:
        yield _("retired"), f"{format_date(item.retired_on, 'medium')}, {item.retired_for}"


def _dates(life: ItemLife) -> Iterator[tuple[str, str]]:
    item = life.item
    yield _("made"), format_date(item.made, "medium") if item.made else made_text(None)
    if item.counts.first_used:
        yield _("first used"), format_date(item.counts.first_used, "medium")
    if ages := ", ".join(_ages(life.ages)):
        yield _("age"), ages
    if exposed := exposed_text(life.lines):
        yield _("exposed to"), exposed


def _ages(ages: Ages) -> Iterator[str]:
    """Yield how long ago an item was made, first used and found sound, as far as is known."""
    if (days := ages.since_made) is not None:
        yield ngettext("%(num)d day since made", "%(num)d days since made", days)
    if (days := ages.since_first_use) is not None:
        yield ngettext("%(num)d day since first use", "%(num)d days since first use", days)
    if (days := ages.since_inspection) is not None:
        yield ngettext(
            "%(num)d day since its last examination",
            "%(num)d days since its last examination",
            days,
        )


def _due_lines(life: ItemLife) -> Iterator[DueLine]:
    """Yield what is due and will be; use that is left is told in pulls, then as a forecast."""
    item = life.item
    for reason in item.due.reasons:
        if reason.is_due or reason.on is not None:
            yield DueLine(
                coming(reason), reason.is_due, str(WHY_WORDS[reason.cause]), reason.cause.value
            )
    left = dict(item.due.left.pulls)
    if item.use_limit and item.use < item.use_limit and Size.HEAVY in left:
        told = _(
            "retire by use after %(light)s more light or %(heavy)s more heavy pulls",
            light=left.get(Size.LIGHT, 0),
            heavy=left[Size.HEAVY],
        )
        yield DueLine(told, is_now=False, why="", figure=Cause.USE.value)
    ahead = forecast_text(life.forecast, life.rate)
    if ahead:
        yield DueLine(ahead, is_now=False, why="", figure=Cause.USE.value)


def _ledger_line(line: LifeLine) -> LedgerLine:
    return LedgerLine(
        entry_id=line.entry_id,
        at=line.at,
        what=str(ENTRIES[Kind(line.kind)]),
        detail=" · ".join(_details(line)),
        counted=_counted(line),
        looked=looked_lines(line.detail),
        by=line.by,
        is_reversed=line.is_reversed,
        is_late=line.is_late,
        may_correct=_may_correct(line),
    )


def _counted(line: LifeLine) -> str:
    """Return what an entry added to the count and what that made, nothing where it adds none."""
    if line.brought:
        return _("came with %(total)s", total=f"{line.brought:.4g}")
    if line.counted is None or not line.counted.added:
        return ""
    return _(
        "+%(added)s, makes %(total)s",
        added=f"{line.counted.added:.4g}",
        total=f"{line.counted.total:.4g}",
    )


def _may_correct(line: LifeLine) -> bool:
    final = line.kind in (Kind.RECEIVED, Kind.CORRECTION) or "destroyed" in line.detail
    # What a pull brought by itself goes with the pull alone.
    is_brought = line.pull_id is not None and line.kind in (Kind.QUARANTINED, Kind.RETIRED)
    return not (final or is_brought or line.is_reversed)


def _details(line: LifeLine) -> Iterator[str]:
    if line.pull is not None:
        yield from _pull_texts(line.pull)
    if line.counted is not None:
        yield str(SIZES[line.counted.size])
    yield from _before_texts(line.before)
    if line.passed is not None:
        yield _("passed") if line.passed else _("did not pass")
        yield from inspection_texts(line.detail)
    if line.reason:
        yield line.reason
    yield from _kept_beside(line)
    if line.class_title:
        yield line.class_title


def _kept_beside(line: LifeLine) -> Iterator[str]:
    """Yield what the detail of an entry tells."""
    if line.kind == Kind.EXPOSURE:
        yield exposure_text(line.detail)
    yield from _ended_or_spliced(line)
    if line.detail.get("looked"):
        yield _("looked over")


def _before_texts(before: UsedBefore | None) -> Iterator[str]:
    if before is None:
        return
    if before.first_used is not None:
        yield _("in use since %(day)s", day=format_date(before.first_used, "medium"))
    if before.light or before.heavy:
        yield _("%(light)d light and %(heavy)d heavy pulls before it came here",
                light=before.light, heavy=before.heavy)  # fmt: skip
    if before.count:
        yield _("a use count of %(count)s before it came here", count=f"{before.count:.4g}")


def _ended_or_spliced(line: LifeLine) -> Iterator[str]:
    if "destroyed" in line.detail:
        yield _("destroyed: %(how)s, seen by %(who)s", how=line.detail["destroyed"],
                who=line.witness)  # fmt: skip
    if "certificate" in line.detail:
        yield _(
            "now %(length)s, certificate %(number)s",
            length=line.detail["length"],
            number=line.detail["certificate"],
        )


def _pull_texts(pull: Pull) -> Iterator[str]:
    yield _("%(method)s, %(ended)s", method=RIG_METHODS[pull.method], ended=ENDINGS[pull.ended])
    if pull.load is not None:
        yield _("%(load)s, %(origin)s", load=show_load(pull.load), origin=ORIGINS[pull.origin])
    else:
        yield str(ORIGINS[pull.origin])
    if pull.share is not None:
        yield _("%(share)s of its limit", share=percent(pull.share))


def _acts(life: ItemLife, *, is_storekeeper: bool) -> Acts:
    status = life.item.status
    kept = status not in AWAY
    undestroyed = status == Status.RETIRED and not any(
        "destroyed" in line.detail for line in life.lines if line.kind == Kind.RETIRED
    )
    return Acts(
        may_issue=status == Status.IN_STORE,
        is_out=status == Status.OUT,
        may_quarantine=kept and status != Status.QUARANTINED,
        may_release=status == Status.QUARANTINED,
        may_inspect=kept,
        may_retire=is_storekeeper and (kept or undestroyed),
        is_undestroyed=undestroyed,
        may_lose=kept,
        may_find=status == Status.LOST,
        may_repair=status == Status.QUARANTINED and is_repairable(life.item.kind),
    )


def _held_by(life: ItemLife) -> str:
    """Return who put the item into quarantine last, nothing where it isn't there."""
    if life.item.status != Status.QUARANTINED:
        return ""
    # What was lost and is back was put there by whoever found it.
    held = (Kind.QUARANTINED, Kind.RECEIVED)
    lines = [line for line in life.lines if line.kind in held and not line.is_reversed]
    return lines[-1].by if lines else ""
