"""An invented site with gear for tests: a plain rig of each method, ready to be bent."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from coursekit.rigging.findings import Finding
from coursekit.rigging.gear import Item, Stretch
from coursekit.rigging.rig import Line, LineEnd, Piece, PulleyStation, Rig
from coursekit.rigging.site import Anchor, Ground, Situation
from coursekit.rigging.vehicle import Vehicle, Winch

G = 9.80665
KN = 1000.0


def deg(angle: float) -> float:
    return math.radians(angle)


def tonnes(mass: float) -> float:
    """Return a rating marked in tonnes as a force."""
    return mass * 1000.0 * G


GEAR = (
    Item("winch-line", "winch-line", mbs=88 * KN, length=50.0, material="synthetic"),
    Item("line-2", "extension-line", mbs=88 * KN, length=12.0),
    Item("sling-1", "roundsling", wll=tonnes(3.0), length=3.0),
    Item("sling-2", "roundsling", wll=tonnes(3.0), length=3.0),
    Item("bow-1", "bow-shackle", wll=tonnes(4.75), mbs=tonnes(28.5)),
    Item("bow-2", "bow-shackle", wll=tonnes(4.75), mbs=tonnes(28.5)),
    Item("soft-1", "soft-shackle", mbs=200 * KN),
    Item("soft-2", "soft-shackle", mbs=200 * KN),
    Item("soft-3", "soft-shackle", mbs=200 * KN),
    Item("block-1", "pulley-block", mbs=160 * KN, efficiency=0.90),
    Item("block-2", "pulley-block", mbs=160 * KN, efficiency=0.95),
    Item("ring-1", "pulley-ring", mbs=160 * KN),
    Item("rope-k", "kinetic-rope", length=9.0, mbs=130 * KN, stretch=Stretch(0.30)),
    Item("strap-k", "kinetic-strap", length=9.0, mbs=60 * KN, stretch=Stretch(0.20)),
    Item("tow-1", "tow-strap", length=5.0, mbs=90 * KN),
    Item("chain-1", "chain", length=4.0, wll=tonnes(4.0), mbs=tonnes(16.0)),
    Item("hook-1", "hook", wll=tonnes(4.0), mbs=tonnes(16.0), latch=True),
    Item("damper-1", "line-damper"),
    Item("damper-2", "line-damper"),
)


def point(vehicle: str, name: str, **more: Any) -> Item:
    given = {"kind": "recovery-point", "wll": tonnes(4.0), **more}
    return Item(f"{vehicle}.{name}", **given)


def stuck(**more: Any) -> Vehicle:
    points = {name: point("stuck_vehicle", name) for name in ("front", "rear", "side")}
    vehicle = Vehicle("loaded utility", 2600.0, (0.0, 0.0), points, exit=deg(90.0))
    return replace(vehicle, **more)


def winch(**more: Any) -> Winch:
    return replace(Winch(43 * KN, 0.064, 0.010, 20, "winch-line"), **more)


def recovery(**more: Any) -> Vehicle:
    points = {name: point("recovery_vehicle", name) for name in ("front", "rear")}
    vehicle = Vehicle("wagon", 3000.0, (20.0, 0.0), points, winch(), held="anchored")
    return replace(vehicle, **more)


def situation(**more: Any) -> Situation:
    anchors = {
        "oak": Anchor("oak", "tree", (20.0, 10.0), 90 * KN),
        "elm": Anchor("elm", "tree", (20.0, -10.0), 90 * KN),
        "boulder": Anchor("boulder", "rock", (-15.0, 0.0), 90 * KN),
        "picket": Anchor("picket", "ground-anchor", (-20.0, 0.0), 40 * KN),
    }
    plain = Situation(
        "vector",
        stuck(),
        recovery(),
        Ground("wet-grass"),
        anchors,
        {item.id: item for item in GEAR},
    )
    return replace(plain, **more)


def changed(site: Situation, item: str, **more: Any) -> Situation:
    """Return the site with one item of gear changed."""
    return replace(site, gear={**site.gear, item: replace(site.gear[item], **more)})


def pieces(*names: str | Piece) -> tuple[Piece, ...]:
    return tuple(name if isinstance(name, Piece) else Piece(name) for name in names)


CHOKED = Piece("sling-1", "choker")
BASKET = Piece("sling-1", "basket", deg(40.0))


def turn(at: str, by: str, *names: str | Piece) -> PulleyStation:
    return PulleyStation(at, by, pieces(*names))


def end(at: str, *names: str | Piece) -> LineEnd:
    return LineEnd(at, pieces(*names))


def winch_line(*turns: PulleyStation, to: LineEnd | None = None, **more: Any) -> Line:
    line = Line(
        "recovery_vehicle.winch",
        ("winch-line",),
        to or end("stuck_vehicle.front", "bow-1"),
        pulleys=turns,
        dampers=("damper-1",),
    )
    return replace(line, **more)


def single_line() -> Rig:
    """Winch straight to the stuck vehicle."""
    return Rig("winch", (winch_line(),))


def redirect() -> Rig:
    """Winch past a pulley at the oak."""
    return Rig("winch", (winch_line(turn("oak", "block-1", BASKET, "soft-1")),))


def double_line() -> Rig:
    """Winch past a moving pulley on the stuck vehicle, back to the recovery vehicle."""
    line = winch_line(
        turn("stuck_vehicle.front", "block-1", "soft-1"),
        to=end("recovery_vehicle.front", "bow-1"),
    )
    return Rig("winch", (line,))


def self_recovery() -> Rig:
    """Winch on the stuck vehicle, past a pulley at the oak, back to the stuck vehicle."""
    line = winch_line(turn("oak", "block-1", BASKET, "soft-1"), start="stuck_vehicle.winch")
    return Rig("winch", (line,))


def with_own_winch(**more: Any) -> Situation:
    """The same site without a recovery vehicle, the winch on the stuck one."""
    alone = stuck(winch=winch(), **more)
    return situation(stuck=alone, recovery=None)


def straight(method: str, item: str, **more: Any) -> Rig:
    """A kinetic pull or a tow straight ahead."""
    line = Line(
        "recovery_vehicle.rear",
        (item,),
        end("stuck_vehicle.front", "soft-1"),
        joined_with=pieces("soft-2"),
        dampers=("damper-1",),
    )
    return Rig(method, (line,), **more)


def kinetic(**more: Any) -> Rig:
    return straight("kinetic", "rope-k", **{"speed": 2.0, **more})


def tow(**more: Any) -> Rig:
    return straight("tow", "tow-1", **more)


def near(**more: Any) -> Situation:
    """The recovery vehicle four metres ahead, for straps and ropes."""
    return situation(recovery=recovery(at=(4.0, 0.0)), **more)


def rules(findings: Iterable[Finding]) -> set[str]:
    return {finding.rule for finding in findings}
