"""Which item of the store an item of a rig most likely was: by kind, by rating, by what is left."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from flask_babel import gettext as _

from coursekit.rigging.gear import Item
from coursekit.services import pulls
from coursekit.services.kit import ItemRow
from coursekit.services.pulls import RigItem
from coursekit.web import clock
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.kit_words import kind_word, ratings_of
from coursekit.web.resting import resting
from coursekit.web.standing import standing
from coursekit.web.teach.pulled import Pulled
from coursekit.web.words import item_name


@dataclass(frozen=True)
class Matched:
    """One item of the rig with the items of the store that it may have been.

    `resting` tells those of them that still rest after their last pull.
    """

    gear_id: str
    label: str
    choices: tuple[tuple[int, str], ...]
    usual: int | None
    resting: tuple[str, ...] = ()


def matched(items: Sequence[RigItem], gear: Mapping[str, Item]) -> tuple[Matched, ...]:
    """Return every item of a rig with its likeliest match; no item of the store serves twice."""
    found: list[Matched] = []
    taken: set[int] = set()
    for item in items:
        usual = _likeliest(item, gear[item.gear_id], taken)
        taken |= {usual} if usual else set()
        found.append(
            Matched(
                item.gear_id,
                _label(item),
                tuple(map(_choice, item.candidates)),
                usual,
                resting(item.candidates),
            )
        )
    return tuple(found)


def matched_kit(pulled: Pulled, chosen: Collection[int]) -> tuple[Matched, ...]:
    """Return the items of the rig that is pulled, matched with what the store holds now.

    `chosen` are those that a form, as it was sent, holds already.
    """
    items = pulls.rig_items(
        unit(), actor(), pulled.version_id, pulled.document, clock.today(timezone()), chosen
    )
    return matched(items, pulled.scenario.situation.gear)


def _likeliest(item: RigItem, as_planned: Item, taken: set[int]) -> int | None:
    free = [row for row in item.candidates if row.id not in taken]
    best = min(
        free, key=lambda row: (not row.due.may_go_out, _far_off(row, as_planned)), default=None
    )
    return best.id if best else None


def _far_off(row: ItemRow, as_planned: Item) -> float:
    """Return how far the ratings lie from what the rig was planned with, as a share."""
    pairs = (
        (as_planned.wll, row.type.rating("wll")),
        (as_planned.mbs, row.type.rating("mbs")),
    )
    shares = [abs(ours - planned) / planned for planned, ours in pairs if planned and ours]
    return min(shares, default=inf)


def still_at_rest(matches: Iterable[Matched]) -> tuple[str, ...]:
    """Return what still rests of all that a rig may be made of, each once."""
    return tuple(dict.fromkeys(text for one in matches for text in one.resting))


def _choice(row: ItemRow) -> tuple[int, str]:
    told = [row.mark, *ratings_of(row.type)]
    if not row.due.may_go_out:
        told.append(standing(row).word)
    return row.id, ", ".join(told)


def _label(item: RigItem) -> str:
    return _("%(item)s (%(kind)s)", item=item_name(item.gear_id), kind=kind_word(item.kind))
