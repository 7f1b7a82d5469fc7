"""Rules on single items: ratings, condition, the points of vehicles, hooks, use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from coursekit.mechanics.sling import WIDEST, basket_length
from coursekit.problems import Amount
from coursekit.rigging.chains.build import Layout
from coursekit.rigging.chains.mounts import BEND, OFF_LINE, Mount, factor_of_hitch
from coursekit.rigging.gear import WRAPPING, Item
from coursekit.rigging.plan import efficiency, table_efficiency
from coursekit.rigging.rules.finding import Finding, finding

_POINT_RULES = {
    "tow-ball": "{item} is a tow ball: it may shear off and kill. Use a rated recovery point.",
    "tie-down-point": "{item} is for tying the vehicle down in transport, not for recovery.",
}

# Points that no recovery line goes on, whatever they are marked with.
NO_RECOVERY_POINTS = frozenset(_POINT_RULES)

_NOTHING_LEFT = {
    OFF_LINE: "{item} is pulled more than 90 deg off its line: so it may carry nothing.",
    BEND: "{item} bends over a sheave that is thinner than itself: so it may carry nothing.",
}


def item_findings(layout: Layout) -> Iterator[Finding]:
    """Yield what single items show."""
    seen: set[str] = set()
    for mount in layout.mounts:
        yield from _hitch(layout, mount)
        if mount.item.id not in seen:
            seen.add(mount.item.id)
            yield from _ratings(mount)
            yield from _points(layout, mount)
        yield from _nothing_left(mount)
    yield from _unfit(layout)
    yield from _used_twice(layout)
    yield from _optimistic_pulleys(layout)


def _ratings(mount: Mount) -> Iterator[Finding]:
    item = mount.item
    if item.is_unrated:
        yield finding(
            "unrated",
            "{item} has neither a WLL nor an MBS: nobody knows what it may carry.",
            at=mount.at,
            item=item.id,
        )
    if item.lacks_wll:
        yield finding(
            "no-wll",
            "{item} is a {kind}, and those are used by their WLL; this one shows none.",
            at=mount.at,
            item=item.id,
            kind=item.kind,
        )


def _nothing_left(mount: Mount) -> Iterator[Finding]:
    """Yield what is loaded so that nothing of its rating may be counted on."""
    for last, share in mount.shares.items():
        if share is None:
            yield finding("over-limit", _NOTHING_LEFT[last], at=mount.at, item=mount.item.id)


def _points(layout: Layout, mount: Mount) -> Iterator[Finding]:
    item = mount.item
    if item.kind in _POINT_RULES:
        yield finding(item.kind, _POINT_RULES[item.kind], at=mount.at, item=item.id)
    if item.kind == "towing-eye" and layout.rig.method == "kinetic":
        yield finding(
            "towing-eye",
            "{item} is a towing eye: it is made for a steady tow, not for a kinetic pull.",
            at=mount.at,
            item=item.id,
        )
    if item.kind == "hook" and not item.latch:
        yield finding(
            "hook-open",
            "{item} has no latch: what hangs in it can jump out when the line goes slack.",
            at=mount.at,
            item=item.id,
        )


def _hitch(layout: Layout, mount: Mount) -> Iterator[Finding]:
    if mount.angle is None:
        yield from _too_short(mount)
    elif factor_of_hitch(layout.situation, mount) is None:
        yield finding(
            "wide-angle",
            "The legs of {item} open beyond 120 deg, where each carries more than the load.",
            at=mount.at,
            item=mount.item.id,
        )
    wraps = mount.at is not None and layout.situation.is_wrapped(mount.at)
    unstated = wraps and mount.item.kind in WRAPPING and mount.hitch == "straight"
    if unstated and _is_first(layout, mount):
        yield finding(
            "hitch-unstated",
            "{item} goes round {at}: choose choker or basket, with its angle.",
            at=mount.at,
            item=mount.item.id,
        )


def _too_short(mount: Mount) -> Iterator[Finding]:
    if mount.wrap is not None:
        yield finding(
            "line-too-short",
            "{item} is {length} long and does not meet round {at}: a basket there takes {least}.",
            at=mount.at,
            item=mount.item.id,
            length=Amount(mount.wrap.length, "m", "down"),
            least=Amount(basket_length(mount.wrap.girth, WIDEST), "m", "up"),
        )


def _is_first(layout: Layout, mount: Mount) -> bool:
    """Whether an item lies against the anchor itself, not behind another."""
    return any(mount is chain[0] for chain in _chains_at(layout, mount.at) if chain)


def _chains_at(layout: Layout, at: str | None) -> list[list[Mount]]:
    keys = dict.fromkeys(m.key for m in layout.meetings if m.at == at)
    here = [mount for mount in layout.mounts if mount.at == at]
    return [[mount for mount in here if mount.load_key == key] for key in keys]


def _all_items(layout: Layout) -> Iterator[tuple[Item, str | None]]:
    for mount in layout.mounts:
        yield mount.item, mount.at
    for line in layout.rig.lines:
        for damper in line.dampers:
            yield layout.situation.gear[damper], None


def _unfit(layout: Layout) -> Iterator[Finding]:
    unfit = {item.id: (item, at) for item, at in _all_items(layout) if item.condition}
    for item, at in unfit.values():
        yield finding(
            "unfit",
            "{item} must stay out of use: {condition}.",
            at=at,
            item=item.id,
            condition=", ".join(item.condition),
        )


def _used_twice(layout: Layout) -> Iterator[Finding]:
    for item, times in Counter(layout.rig.items()).items():
        if times > 1:
            yield finding(
                "used-twice",
                "{item} stands in the rig {times} times; there is only one of it.",
                item=item,
                times=times,
            )


def _optimistic_pulleys(layout: Layout) -> Iterator[Finding]:
    for line in layout.rig.lines:
        for pulley in line.pulleys:
            item = layout.situation.gear[pulley.by]
            table = table_efficiency(item)
            if efficiency(item) > table:
                yield finding(
                    "optimistic",
                    "{item} is taken as more efficient ({own:g}) than its kind ({table:g}).",
                    at=pulley.at,
                    item=item.id,
                    own=efficiency(item),
                    table=table,
                )
