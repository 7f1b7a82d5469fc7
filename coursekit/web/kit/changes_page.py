"""What the register said before: each change with its fields in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from flask_babel import format_date
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.services.amending import ChangeRow, TypePast
from coursekit.wear.policy import Policy
from coursekit.web.kit.ahead_page import sum_text
from coursekit.web.kit.policy_text import PolicyText, policy_text
from coursekit.web.kit.type_facts import HITCHES, type_facts

FIELDS = {
    "mark": _l("mark"),
    "serial": _l("serial"),
    "batch": _l("batch"),
    "made": _l("made"),
    "is_labelled": _l("its rating can be read"),
    "place": _l("place"),
    "first_used": _l("first used"),
    "used_before": _l("pulls before it came here"),
    "cost_cents": _l("cost"),
    "name": _l("name"),
    "material": _l("material"),
    "size": _l("size"),
    "wll_marked": "WLL",
    "mbs_marked": "MBS",
    "choker_marked": HITCHES["choker"],
    "basket_marked": HITCHES["basket"],
    "length_marked": _l("length"),
    "coldest": _l("not to be used below"),
    "hottest": _l("not to be used above"),
    "instructions": _l("the maker's instructions"),
    "policy": _l("the rule it lives by"),
}


@dataclass(frozen=True)
class ChangeLine:
    """One change: when, by whom, why; each field with what it said and what it says since."""

    at: datetime
    by: str
    reason: str
    fields: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class TypePage:
    """A type of kit as the register has it, its rule, and what was changed."""

    id: int
    name: str
    items: int
    facts: tuple[tuple[str, str], ...]
    instructions: str
    policy: PolicyText
    changes: tuple[ChangeLine, ...]


def change_lines(changes: Iterable[ChangeRow]) -> tuple[ChangeLine, ...]:
    """Return changes as they are shown."""
    return tuple(
        ChangeLine(
            row.at,
            row.by,
            row.reason,
            tuple(
                (str(FIELDS[f.name]), _text(f.name, f.before), _text(f.name, f.after))
                for f in row.fields
            ),
        )
        for row in changes
    )


def type_page(past: TypePast) -> TypePage:
    """Return the page of a type."""
    row = past.row
    return TypePage(
        id=row.id,
        name=row.name,
        items=past.items,
        facts=tuple(type_facts(row)),
        instructions=row.instructions,
        policy=policy_text(row.policy),
        changes=change_lines(past.changes),
    )


def _text(name: str, value: Any) -> str:
    if isinstance(value, Policy):
        return " ".join(policy_text(value).sentences)
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if value is None or value == "":
        return _("not stated")
    if name == "cost_cents":
        return sum_text(value, 0)
    is_day = name in ("made", "first_used")
    return format_date(date.fromisoformat(value), "medium") if is_day else str(value)
