"""What single change would make an unsafe situation safe; each proposal is solved with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from coursekit.problems import Amount, Message
from coursekit.rigging.gear import Item
from coursekit.rigging.plan import scaled, unit_vector
from coursekit.rigging.search.found import FoundRig
from coursekit.rigging.search.search import Cancelled, safe_rigs
from coursekit.rigging.search.stock import Alike, stock_of
from coursekit.rigging.site import BOGGED, Anchor, Situation

# How many rigs are solved at most for each proposal.
SOLVES_FOR_CHANGE = 100
# A rating beyond all that is on the market: what it is used of it is what is needed.
_AMPLE = 1e8
# Nothing rated for less than this is sold for recovery.
_LEAST = 1000.0
# What is asked for is this much above the least, so that the dust of floats decides nothing.
_ABOVE = 1.0 + 1e-6
# The shares of its mass that are tried as taken off a vehicle, the least first.
_LIGHTER = tuple(step / 20.0 for step in range(1, 11))
# How far ahead a new anchor is tried, and how long a new line.
_AHEAD = (10.0, 20.0, 30.0)
_LENGTHS = (10.0, 20.0, 30.0)
_RATED_BY_WLL = ("bow-shackle", "roundsling")
_RATED_BY_MBS = ("soft-shackle", "pulley-block")
_LINES = ("extension-line", "tow-strap")
NEW_ITEM, NEW_ANCHOR = "one-more", "new-anchor"


@dataclass(frozen=True)
class Change:
    """One change that makes a situation safe, and the rig that proves it."""

    kind: str
    message: Message
    situation: Situation
    proof: FoundRig


def single_changes(
    situation: Situation, *, cancelled: Cancelled | None = None, most: int = SOLVES_FOR_CHANGE
) -> tuple[Change, ...]:
    """Return single changes that would make an unsafe situation safe, the cheapest first.

    Tried are: digging out by one class, tying the recovery vehicle back, one more item like
    one at hand or of another kind, an anchor that holds more or stands ahead, a lighter
    vehicle.  Each that is returned was proven by a rig that `solve` finds good.  Of one sort
    the least that was tried and does is named; that nothing is returned says only that none
    of these does by itself.
    """
    asked = cancelled or (lambda: False)

    def proven(changed: Situation) -> FoundRig | None:
        return _first_safe(changed, asked, most)

    tries = (_dug_out, _tied_back, _one_more_alike, _one_more_of_a_kind, _anchors, _lighter)
    return tuple(change for attempt in tries for change in attempt(situation, proven))


_Prove = Callable[[Situation], FoundRig | None]


def _first_safe(situation: Situation, cancelled: Cancelled, most: int) -> FoundRig | None:
    safe = [0]
    search = safe_rigs(
        situation,
        progress=lambda _examined, found: safe.append(found),
        cancelled=lambda: safe[-1] > 0 or cancelled(),
        most=most,
    )
    return search.best


def _dug_out(situation: Situation, proven: _Prove) -> Iterator[Change]:
    depth = BOGGED.index(situation.ground.bogged)
    if depth == 0:
        return
    less = BOGGED[depth - 1]
    dug = replace(situation, ground=replace(situation.ground, bogged=less))
    if proof := proven(dug):
        text = "Dig out until it is bogged no deeper than: {bogged}."
        yield Change("dig-out", Message(text, {"bogged": less}), dug, proof)


def _tied_back(situation: Situation, proven: _Prove) -> Iterator[Change]:
    if situation.recovery is None or situation.recovery.held == "anchored":
        return
    tied = replace(situation, recovery=replace(situation.recovery, held="anchored"))
    if proof := proven(tied):
        text = "Tie the recovery vehicle back, so that it can't be dragged."
        yield Change("tie-back", Message(text), tied, proof)


def _one_more_alike(situation: Situation, proven: _Prove) -> Iterator[Change]:
    stock = stock_of(situation)
    for group in stock.alike:
        if group.name in stock.on_winches:
            continue
        more = _with_item(situation, _copy_of(group))
        if proof := proven(more):
            message = Message("Have one more item like {item}.", {"item": group.name})
            yield Change("one-more", message, more, proof)


def _copy_of(group: Alike) -> Item:
    return replace(group.item, id=f"{group.name}-{NEW_ITEM}")


def _with_item(situation: Situation, item: Item) -> Situation:
    return replace(situation, gear={**situation.gear, item.id: item})


def _one_more_of_a_kind(situation: Situation, proven: _Prove) -> Iterator[Change]:
    for ample in _ample_items():
        proof = proven(_with_item(situation, ample))
        use = None if proof is None else proof.solution.values.get(f"item.{ample.id}.use")
        if use is None:
            continue
        rating = _needed(use)
        enough = _rated(ample, rating)
        more = _with_item(situation, enough)
        if proof := proven(more):
            yield Change("another-item", _item_message(enough, rating), more, proof)


def _ample_items() -> Iterator[Item]:
    for kind in (*_RATED_BY_WLL, *_RATED_BY_MBS):
        yield _rated(Item(f"{kind}-{NEW_ITEM}", kind), _AMPLE)
    for kind in _LINES:
        for length in _LENGTHS:
            yield _rated(Item(f"{kind}-{NEW_ITEM}", kind, length=length), _AMPLE)


def _needed(use: float) -> float:
    """Return the rating that an ample item, used so far, shows to be needed."""
    return max(_AMPLE * use * _ABOVE, _LEAST)


def _rated(item: Item, rating: float) -> Item:
    if item.kind in _RATED_BY_WLL:
        return replace(item, wll=rating)
    return replace(item, mbs=rating)


def _item_message(item: Item, rating: float) -> Message:
    values = {"kind": item.kind, "rating": Amount(rating, "N", "up")}
    if item.length is not None:
        text = "Have a {kind} of {length} with a breaking strength of at least {rating}."
        return Message(text, {**values, "length": Amount(item.length, "m", "nearest")})
    if item.kind in _RATED_BY_WLL:
        return Message("Have one more {kind} with a WLL of at least {rating}.", values)
    text = "Have one more {kind} with a breaking strength of at least {rating}."
    return Message(text, values)


def _anchors(situation: Situation, proven: _Prove) -> Iterator[Change]:
    for anchor in situation.anchors.values():
        text = "{anchor} would have to hold at least {holds} by its assessor's figure."
        yield from _holding(situation, anchor, proven, "stronger-anchor", text)
    for ahead in _AHEAD:
        text = "Set an anchor {ahead} ahead of the vehicle that holds at least {holds}."
        anchor = Anchor(NEW_ANCHOR, "ground-anchor", _ahead_of(situation, ahead), 0.0)
        found = list(_holding(situation, anchor, proven, "another-anchor", text, ahead))
        yield from found
        if found:
            return


def _ahead_of(situation: Situation, ahead: float) -> tuple[float, float]:
    way = scaled(unit_vector(situation.stuck.exit or 0.0), ahead)
    return situation.stuck.at[0] + way[0], situation.stuck.at[1] + way[1]


def _holding(
    situation: Situation,
    anchor: Anchor,
    proven: _Prove,
    kind: str,
    text: str,
    ahead: float = 0.0,
) -> Iterator[Change]:
    """Yield the anchor with the least that it must hold for some rig, where that helps."""
    proof = proven(_with_anchor(situation, anchor.assessed_at(_AMPLE)))
    use = None if proof is None else proof.solution.values.get(f"place.{anchor.id}.use")
    if use is None:
        return
    holds = _needed(use)
    enough = _with_anchor(situation, anchor.assessed_at(holds))
    if proof := proven(enough):
        values = {"anchor": anchor.id, "holds": Amount(holds, "N", "up")}
        values |= {"ahead": Amount(ahead, "m", "nearest")} if ahead else {}
        yield Change(kind, Message(text, values), enough, proof)


def _with_anchor(situation: Situation, anchor: Anchor) -> Situation:
    return replace(situation, anchors={**situation.anchors, anchor.id: anchor})


def _lighter(situation: Situation, proven: _Prove) -> Iterator[Change]:
    mass = situation.stuck.mass
    for share in _LIGHTER:
        less = replace(situation, stuck=replace(situation.stuck, mass=mass * (1.0 - share)))
        if proof := proven(less):
            message = Message(
                "Take {mass} off the vehicle: load, water, people.",
                {"mass": Amount(mass * share, "kg", "up")},
            )
            yield Change("lighter", message, less, proof)
            return
