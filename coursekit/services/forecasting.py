"""What will be due: when each item retires at its present rate, what to buy, what classes cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from coursekit.services.actor import Actor, Role
from coursekit.store import queries
from coursekit.store.queries.kit import ItemRow
from coursekit.store.queries.rates import ClassCost
from coursekit.store.unit import Unit
from coursekit.wear.forecast import YEAR, Forecast, Purchases, Rate, forecast, purchases
from coursekit.wear.status import AWAY

__all__ = ["Ahead", "ClassCost", "KindAhead", "StoreAhead", "ahead", "forecast_of", "window"]

LATEST_CLASSES = 12


@dataclass(frozen=True)
class Ahead:
    """One item, the rate it is pulled at, and when it will retire; None where nothing tells."""

    item: ItemRow
    rate: Rate
    forecast: Forecast | None


@dataclass(frozen=True)
class KindAhead:
    """What to buy of one kind in the year ahead; the cost is expected, in hundredths."""

    kind: str
    kept: int
    purchases: Purchases
    cents: float
    unpriced: int


@dataclass(frozen=True)
class StoreAhead:
    """The whole store: items by their likely day, purchases by kind, costs of classes."""

    items: tuple[Ahead, ...]
    kinds: tuple[KindAhead, ...]
    all: Purchases
    classes: tuple[ClassCost, ...]


def ahead(unit: Unit, actor: Actor, today: date) -> StoreAhead:
    """Return what will be due in the store."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        rows = queries.kit.items(session, actor.school_id, today)
        pulled = queries.rates.pulls_since(session, actor.school_id, today - timedelta(days=YEAR))
        classes = queries.rates.class_costs(session, actor.school_id, LATEST_CLASSES)
    kept = [row for row in rows if row.status not in AWAY]
    items = [_ahead(row, pulled.get(row.id, 0), today) for row in kept]
    items.sort(key=lambda one: (_likely(one), one.item.mark))
    kinds: dict[str, list[Ahead]] = {}
    for one in items:
        kinds.setdefault(one.item.kind, []).append(one)
    return StoreAhead(
        items=tuple(items),
        kinds=tuple(_of_kind(kind, of_kind) for kind, of_kind in sorted(kinds.items())),
        all=purchases([_chance(one) for one in items]),
        classes=classes,
    )


def forecast_of(item: ItemRow, rate: Rate, today: date) -> Forecast | None:
    """Return when an item will retire at a rate."""
    return forecast(item.due, item.counts, item.type.policy, rate, today)


def window(item: ItemRow, today: date) -> date:
    """Return the day from which an item's present rate is taken: a year ago, or its first here."""
    return max(item.registered, today - timedelta(days=YEAR))


def _ahead(item: ItemRow, pulls: int, today: date) -> Ahead:
    rate = Rate(pulls, max(1, (today - window(item, today)).days))
    return Ahead(item, rate, forecast_of(item, rate, today))


def _of_kind(kind: str, items: Sequence[Ahead]) -> KindAhead:
    return KindAhead(
        kind=kind,
        kept=len(items),
        purchases=purchases([_chance(one) for one in items]),
        cents=sum(_chance(one) * (one.item.cost_cents or 0) for one in items),
        unpriced=sum(one.item.cost_cents is None for one in items if _chance(one) > 0.0),
    )


def _chance(one: Ahead) -> float:
    return one.forecast.within_a_year if one.forecast else 0.0


def _likely(one: Ahead) -> date:
    return (one.forecast.likely if one.forecast else None) or date.max
