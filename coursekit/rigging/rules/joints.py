"""Rules on what joins what: shackles, rings, edges, bare trees."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coursekit.rigging.chains.build import Layout
from coursekit.rigging.gear import JOINERS, LINES, PULLEYS, WRAPPING, Item
from coursekit.rigging.rig import Line, Piece
from coursekit.rigging.rules.finding import Finding, finding
from coursekit.rigging.site import Situation

# What goes through a pulley ring, and nothing else does: common practice, no source.
HOLDS_RING = "soft-shackle"


@dataclass(frozen=True)
class Joint:
    """A chain of gear from a place outward: what it starts at, and what it ends in."""

    at: str
    pieces: tuple[Item, ...]
    ends_in: Item


def joint_findings(layout: Layout) -> Iterator[Finding]:
    """Yield what the joints of each line show."""
    for line in layout.rig.lines:
        yield from _line_joints(layout.situation, line)
        for joint in _joints(layout.situation, line):
            yield from _missing_joiner(layout.situation, joint)
            yield from _ring(layout.situation, line, joint)
            yield from _edges(layout.situation, joint)
            yield from _bare_tree(layout.situation, joint)


def _joints(situation: Situation, line: Line) -> Iterator[Joint]:
    gear = situation.gear

    def items(pieces: Sequence[Piece]) -> tuple[Item, ...]:
        return tuple(gear[piece.item] for piece in pieces)

    if not line.starts_at_winch:
        yield Joint(line.start, items(line.joined_with), gear[line.made_of[0]])
    for pulley in line.pulleys:
        yield Joint(pulley.at, items(pulley.joined_with), gear[pulley.by])
    yield Joint(line.to.at, items(line.to.joined_with), gear[line.made_of[-1]])


def _line_joints(situation: Situation, line: Line) -> Iterator[Finding]:
    items = [situation.gear[name] for name in line.made_of]
    for before, after in itertools.pairwise(items):
        if before.kind not in JOINERS and after.kind not in JOINERS:
            yield finding(
                "no-joiner",
                "{before} and {item} have nothing between them: a joint takes a shackle.",
                item=after.id,
                before=before.id,
            )


def _missing_joiner(situation: Situation, joint: Joint) -> Iterator[Finding]:
    chain = (*joint.pieces, joint.ends_in)
    if _needs_joiner(joint) and not _may_lie_on(situation, joint, chain[0]):
        yield _no_joiner(joint.at, chain[0], joint.at)
    for before, after in itertools.pairwise(chain):
        if before.kind not in JOINERS and after.kind not in JOINERS:
            yield _no_joiner(joint.at, after, before.id)


def _needs_joiner(joint: Joint) -> bool:
    """Whether a line or a pulley meets its place with nothing between; a sling goes round it."""
    first = (*joint.pieces, joint.ends_in)[0]
    return first.kind not in JOINERS and (not joint.pieces or first.kind in PULLEYS | LINES)


def _may_lie_on(situation: Situation, joint: Joint, first: Item) -> bool:
    """Whether a line lies round a tree by itself: that is another fault, a bare tree."""
    return _is_tree(situation, joint) and first.kind not in PULLEYS


def _no_joiner(at: str, item: Item, to: str) -> Finding:
    return finding(
        "no-joiner",
        "{item} meets {to} with nothing between them: a joint takes a shackle.",
        at=at,
        item=item.id,
        to=to,
    )


def _is_tree(situation: Situation, joint: Joint) -> bool:
    anchor = situation.anchors.get(joint.at)
    return anchor is not None and anchor.kind == "tree"


def _ring(situation: Situation, line: Line, joint: Joint) -> Iterator[Finding]:
    if joint.ends_in.kind != "pulley-ring":
        return
    if not joint.pieces or joint.pieces[-1].kind != HOLDS_RING:
        yield finding(
            "ring-misrigged",
            "{item} is a ring: only a soft shackle goes through it.",
            at=joint.at,
            item=joint.ends_in.id,
        )
    wires = [item for item in map(situation.gear.__getitem__, line.made_of) if item.is_wire]
    if any(item.is_surely_wire for item in wires):
        yield finding(
            "ring-misrigged",
            "{item} is a ring for synthetic line; this line is wire.",
            at=joint.at,
            item=joint.ends_in.id,
        )
    elif wires:
        yield finding(
            "ring-misrigged",
            "{item} is a ring for synthetic line; nobody knows what this line is made of.",
            at=joint.at,
            item=joint.ends_in.id,
        )


def _edges(situation: Situation, joint: Joint) -> Iterator[Finding]:
    edges = [situation.edge_at(joint.at), *(item.edge for item in joint.pieces)]
    chain = (*joint.pieces, joint.ends_in)
    for edge, item in zip(edges, chain, strict=True):
        if item.is_cut_by(edge):
            yield _sharp(joint.at, item)
    for item, after in itertools.pairwise(chain):
        if item.is_cut_by(after.edge):
            yield _sharp(joint.at, item)


def _sharp(at: str, item: Item) -> Finding:
    return finding(
        "sharp-edge",
        "{item} is textile and bears on a sharp edge at {at}: it may be cut under load.",
        at=at,
        item=item.id,
    )


def _bare_tree(situation: Situation, joint: Joint) -> Iterator[Finding]:
    if not _is_tree(situation, joint):
        return
    first = (*joint.pieces, joint.ends_in)[0]
    if first.kind not in WRAPPING and first.kind not in PULLEYS:
        yield finding(
            "bare-tree",
            "{item} lies straight on {at}: it cuts the bark. Put a sling round the tree.",
            at=joint.at,
            item=first.id,
        )
