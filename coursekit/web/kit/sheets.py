"""The kit on paper: register, life sheet, inspection record, and the kit list of a class."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.drawing.pdf_sheet import Facts, Figure, Part, Sheet, Table, Text
from coursekit.services.kit import ItemLife, ItemRow, LifeLine
from coursekit.services.kit_list import KitList
from coursekit.wear.ledger import Kind
from coursekit.wear.status import AWAY
from coursekit.web.filters import day, moment
from coursekit.web.given_out import sheet_of
from coursekit.web.kit.issue_page import unmeasured_text
from coursekit.web.kit.item_page import ItemPage, LedgerLine
from coursekit.web.kit.looked_text import inspection_texts
from coursekit.web.kit.pages import made_text, use_text
from coursekit.web.kit.policy_text import PolicyText
from coursekit.web.kit.store_page import MOST_ON_PAPER
from coursekit.web.kit_words import kind_word, ratings_of
from coursekit.web.standing import coming, standing

# Room for a hand in gloves: a row to write in is two lines high.
TO_WRITE = " \n "
TO_TICK = "☐"
ROWS_TO_FILL = 4


def register_sheet(rows: Sequence[ItemRow], school: str, at: datetime) -> Sheet:
    """Return the register as a sheet: each item with its ratings, standing, use and what is due.

    A long one is cut, and says so.
    """
    title = ngettext("%(num)d item in the register", "%(num)d items in the register", len(rows))
    table = Table(
        head=(_("Item"), _("Marked on it"), _("Serial, batch, made"), _("Standing"), _("Due")),
        rows=[
            (_named(row), _marked(row), _known(row), _standing(row), _due(row))
            for row in rows[:MOST_ON_PAPER]
        ],
        widths=(0.24, 0.16, 0.21, 0.21, 0.18),
    )
    parts = [*_left_off(rows), table, Text(_prompt())]
    return sheet_of(title, _("Register of the kit"), school, at, parts)


def _left_off(rows: Sequence[ItemRow]) -> Iterator[Part]:
    """Yield what warns that a register is longer than its sheet."""
    if len(rows) > MOST_ON_PAPER:
        yield Text(
            ngettext(
                "This sheet ends with %(mark)s: %(num)d more item is left off. Narrow the search "
                "on the page of the store, or take the register as a table.",
                "This sheet ends with %(mark)s: %(num)d more items are left off. Narrow the search "
                "on the page of the store, or take the register as a table.",
                len(rows) - MOST_ON_PAPER,
                mark=rows[MOST_ON_PAPER - 1].mark,
            ),
            warns=True,
        )


def life_sheet(page: ItemPage, life: ItemLife, chart: bytes, school: str, at: datetime) -> Sheet:
    """Return all that is known of one item; `chart` is the picture of its pulls."""
    parts: list[Part] = [Facts(page.facts, _("On its label and in the register"))]
    now = [_("%(what)s: %(why)s", what=d.what, why=d.why) for d in page.due if d.is_now]
    parts += [Text(text, warns=True) for text in now]
    ahead = [d.what for d in page.due if not d.is_now]
    if ahead:
        parts.append(Text("; ".join(ahead), _("What will be due")))
    parts.append(Text(page.use, _("Use")))
    parts.append(Figure(chart, page.chart, width=0.7))
    parts.append(_ledger(page))
    parts += _rule(page.policy, life.item)
    return sheet_of(page.title, _("Life of an item"), school, at, [*parts, Text(_prompt())])


def inspections_sheet(page: ItemPage, life: ItemLife, school: str, at: datetime) -> Sheet:
    """Return every examination of one item, with room for the signature of the next."""
    done = [line for line in life.lines if line.kind == Kind.INSPECTED and not line.is_reversed]
    title = ngettext(
        "%(item)s: %(num)d examination",
        "%(item)s: %(num)d examinations",
        len(done),
        item=page.line.name,
    )
    parts: list[Part] = [
        Facts(page.facts),
        *_examinations(done),
        *_rule(page.policy, life.item),
        _to_fill(),
    ]
    return sheet_of(title, _("Record of examinations"), school, at, parts)


def kit_list_sheet(found: KitList, school: str, at: datetime) -> Sheet:
    """Return what is out with a class, or what is proposed to go, to be ticked and signed."""
    rows = found.out or found.proposed
    title = ngettext(
        "%(num)d item for %(title)s", "%(num)d items for %(title)s", len(rows),
        title=found.head.title,
    )  # fmt: skip
    table = Table(
        head=(_("Item"), _("Marked on it"), _("Place"), _("Out, looked at"), _("Back, condition")),
        rows=[(_named(row), _marked(row), row.place, TO_TICK, TO_WRITE) for row in rows],
        widths=(0.28, 0.2, 0.16, 0.12, 0.24),
    )
    look = Text(
        _(
            "Before each goes: the label can be read; no cut, melt, bend, crack or worn stitch; "
            "pins and latches close; clean enough to see all of it. What is in doubt stays."
        )
    )
    parts: list[Part] = [
        Facts([(_("Day"), day(found.head.on)), (_("Stands as"), _out_or_proposed(found))]),
        look,
        table,
        *(Text(text, warns=True) for text in map(unmeasured_text, found.rigs) if text),
        _to_sign(_("Signed"), (_("Given out by"), _("Taken by"), _("Taken back by"))),
    ]
    return sheet_of(title, _("Kit list"), school, at, parts)


def _out_or_proposed(found: KitList) -> str:
    return _("out with the class") if found.out else _("proposed, not out yet")


def _examinations(done: Sequence[LifeLine]) -> Iterator[Part]:
    if not done:
        yield Text(_("No examination is recorded."), warns=True)
        return
    yield Table(
        head=(_("When"), _("By"), _("Result"), _("Found")),
        rows=[(moment(line.at), line.by, _result(line), _found(line)) for line in done],
        widths=(0.22, 0.18, 0.15, 0.45),
    )


def _result(line: LifeLine) -> str:
    return _("passed") if line.passed else _("did not pass")


def _found(line: LifeLine) -> str:
    return "; ".join([*inspection_texts(line.detail), *filter(None, [line.reason])])


def _ledger(page: ItemPage) -> Part:
    return Table(
        head=(_("When"), _("What"), _("Use count"), _("By")),
        rows=[(moment(line.at), _entry(line), line.counted, line.by) for line in page.ledger],
        heading=_("What makes the count, line by line"),
        widths=(0.2, 0.45, 0.18, 0.17),
    )


def _entry(line: LedgerLine) -> str:
    """Return what an entry tells, with a word where it was reversed or came late."""
    told = [line.what, line.detail]
    told += [_("reversed")] if line.is_reversed else []
    told += [_("entered late")] if line.is_late else []
    return " · ".join(filter(None, told))


def _rule(policy: PolicyText, item: ItemRow) -> Iterator[Part]:
    yield Text(" ".join(policy.sentences), _("The rule of its type"))
    yield Text(_("Source: %(source)s.", source=policy.source))
    if policy.beyond:
        told = _("Longer between examinations than is published:")
        yield Text(f"{told} {'; '.join(policy.beyond)}", warns=True)
    yield Text("; ".join(policy.intervals), _("Published times between examinations"))
    if item.type.instructions:
        yield Text(item.type.instructions, _("The maker's instructions, which go first"))


def _to_sign(heading: str, who: Sequence[str]) -> Table:
    return Table(
        head=("", _("Name"), _("Signature"), _("Day and time")),
        rows=[(text, TO_WRITE, TO_WRITE, TO_WRITE) for text in who],
        heading=heading,
        widths=(0.22, 0.26, 0.3, 0.22),
    )


def _to_fill() -> Table:
    return Table(
        head=(_("Day"), _("Passed?"), _("Found"), _("Examined by, signature")),
        rows=[(TO_WRITE, TO_WRITE, TO_WRITE, TO_WRITE)] * ROWS_TO_FILL,
        heading=_("The next examinations"),
        widths=(0.16, 0.14, 0.4, 0.3),
    )


def _named(row: ItemRow) -> str:
    name, kind = row.type.name, kind_word(row.kind)
    is_told = kind.casefold() in name.casefold()
    return f"{row.mark}\n{name}" if is_told else f"{row.mark}\n{name}, {kind}"


def _marked(row: ItemRow) -> str:
    return "\n".join(ratings_of(row.type))


def _known(row: ItemRow) -> str:
    return "\n".join(text for text in (row.serial, row.batch, made_text(row.made)) if text)


def _standing(row: ItemRow) -> str:
    word = standing(row).word
    counts = row.status not in AWAY and row.use_limit is not None
    return f"{word}\n{use_text(row.use, row.use_limit)}" if counts else word


def _due(row: ItemRow) -> str:
    if row.status in AWAY:
        return ""
    told = [coming(reason) for reason in row.due.reasons if reason.is_due or reason.on is not None]
    return "\n".join(told)


def _prompt() -> str:
    return _("Counts are a prompt, never proof that an item is sound: inspection decides.")
