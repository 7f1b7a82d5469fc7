"""Invented situations of every shape, each with a rig that can be solved."""

from __future__ import annotations

import math
from collections.abc import Sequence

from coursekit.rigging.gear import Item, Stretch
from coursekit.rigging.rig import Line, LineEnd, Piece, PulleyStation, Rig
from coursekit.rigging.site import Anchor, Ground, Situation
from coursekit.rigging.vehicle import Position, Vehicle, Winch

DEG = math.pi / 180
WLL = 29_420.0
GEAR = {
    item.id: item
    for item in (
        Item("winch-line", "winch-line", mbs=88e3, length=40.0, stretch=Stretch(None)),
        Item("line-2", "extension-line", mbs=88e3, length=12.0),
        Item("hold-line", "extension-line", mbs=88e3, length=30.0),
        Item("rope-k", "kinetic-rope", mbs=125e3, length=9.0, stretch=Stretch(0.3, 1.0)),
        Item("sling-1", "roundsling", wll=WLL, length=3.0),
        Item("sling-2", "roundsling", wll=WLL, length=3.0),
        Item("bow-1", "bow-shackle", wll=31_900.0, mbs=191e3),
        Item("bow-2", "bow-shackle", wll=31_900.0, mbs=191e3),
        Item("bow-3", "bow-shackle", wll=31_900.0, mbs=191e3),
        Item("soft-1", "soft-shackle", mbs=140e3),
        Item("soft-2", "soft-shackle", mbs=140e3),
        Item("block-1", "pulley-block", mbs=160e3, efficiency=0.95),
        Item("ring-1", "pulley-ring", mbs=160e3, efficiency=0.70),
    )
}
WINCH = Winch(42_000.0, 0.064, 0.010, 8, "winch-line")


def stuck(name: str, exit_to: float, *points: str, winch: Winch | None = None) -> Vehicle:
    items = {p: Item(f"stuck_vehicle.{p}", "recovery-point", wll=WLL) for p in points}
    return Vehicle(name, 2650.0, (0.0, 0.0), items, winch, exit=exit_to * DEG)


def recovery(name: str, at: Position, *points: str, winch: Winch | None = WINCH) -> Vehicle:
    items = {p: Item(f"recovery_vehicle.{p}", "recovery-point", wll=WLL) for p in points}
    return Vehicle(name, 2900.0, at, items, winch)


def situation(
    one: Vehicle, other: Vehicle | None, ground: Ground, anchors: Sequence[Anchor] = ()
) -> Situation:
    return Situation("vector", one, other, ground, {each.id: each for each in anchors}, GEAR)


def winch_line(
    start: str, end: str, *pulleys: PulleyStation, joint: str = "bow-1", extended: bool = False
) -> Line:
    made_of = ("winch-line", "line-2") if extended else ("winch-line",)
    return Line(start, made_of, LineEnd(end, (Piece(joint),)), pulleys=pulleys)


GRASS = Ground("wet-grass", slope=8 * DEG, downhill=270 * DEG)
UTILITY = stuck("loaded utility 4x4", 90.0, "rear")
OAK = Anchor("oak", "tree", (30.0, -4.0), 60e3)
ELM = Anchor("elm", "tree", (24.0, 1.0), 60e3)
ROCK = Anchor("split rock", "rock", (14.0, 9.0), 90e3)

SINGLE = situation(UTILITY, recovery("wagon with winch", (22.0, 0.0), "front"), GRASS, [OAK])
SINGLE_RIG = Rig("winch", (winch_line("recovery_vehicle.winch", "stuck_vehicle.rear"),))

AT_ELM = PulleyStation("elm", "block-1", (Piece("sling-1", "basket", 30 * DEG), Piece("bow-2")))
REDIRECT = situation(
    UTILITY, recovery("wagon with winch", (16.0, -14.0), "front"), GRASS, [ELM, ROCK]
)
REDIRECT_RIG = Rig("winch", (winch_line("recovery_vehicle.winch", "stuck_vehicle.rear", AT_ELM),))

AT_STUCK = PulleyStation("stuck_vehicle.rear", "block-1", (Piece("bow-1"),))
DOUBLE_RIG = Rig(
    "winch",
    (
        winch_line(
            "recovery_vehicle.winch",
            "recovery_vehicle.front",
            AT_STUCK,
            joint="bow-2",
            extended=True,
        ),
    ),
)
TO_PINE = situation(
    stuck("camper", 90.0, "rear"),
    recovery("winch truck", (20.0, 3.0), "front"),
    Ground("deep-mud", slope=3 * DEG, downhill=200 * DEG),
    [Anchor("oak", "tree", (21.0, -3.0), 60e3), Anchor("pine", "tree", (19.0, 9.0), 40e3)],
)
TO_PINE_RIG = Rig("winch", (winch_line("recovery_vehicle.winch", "pine", AT_STUCK, joint="bow-3"),))

ALONE = situation(
    stuck("short wagon", 20.0, "front", "rear", winch=WINCH),
    None,
    Ground("shallow-mud", slope=5 * DEG, downhill=110 * DEG),
    [
        Anchor("beech", "tree", (8.0, 17.0), 50e3),
        Anchor("boulder", "rock", (-7.0, 14.0), 80e3),
        Anchor("pickets", "ground-anchor", (2.0, 24.0), 9e3),
    ],
)
AT_BEECH = PulleyStation("beech", "ring-1", (Piece("sling-2", "choker"), Piece("soft-1")))
ALONE_RIG = Rig("winch", (winch_line("stuck_vehicle.winch", "boulder", AT_BEECH),))

SNATCH = situation(
    stuck("long pickup with a canopy and a full trailer load", 0.0, "rear", "front"),
    recovery("crew wagon", (0.0, 7.0), "rear", winch=None),
    Ground("wet-grass"),
)
ROPE_END = LineEnd("stuck_vehicle.front", (Piece("soft-1"),))
SNATCH_RIG = Rig(
    "kinetic",
    (Line("recovery_vehicle.rear", ("rope-k",), ROPE_END, joined_with=(Piece("soft-2"),)),),
    speed=3.0,
)

DOWNHILL = situation(
    stuck("delivery van", 250.0, "front", "rear"),
    recovery("tow truck", (-14.0, -5.0), "rear", winch=None),
    Ground("gravel", slope=12 * DEG, downhill=255 * DEG),
    [
        Anchor("gate post", "structure", (20.0, 6.0), 30e3),
        Anchor("parked lorry", "vehicle", (6.0, -12.0), 70e3),
    ],
)
TOW_END = LineEnd("stuck_vehicle.front", (Piece("bow-1"),))
HOLD_END = LineEnd("gate post", (Piece("sling-1", "basket"), Piece("bow-3")))
DOWNHILL_RIG = Rig(
    "tow",
    (
        Line("recovery_vehicle.rear", ("line-2",), TOW_END, joined_with=(Piece("bow-2"),)),
        Line(
            "stuck_vehicle.rear",
            ("hold-line",),
            HOLD_END,
            role="hold",
            joined_with=(Piece("soft-1"),),
        ),
    ),
)

LAYOUTS = {
    "single line": (SINGLE, SINGLE_RIG),
    "redirect": (REDIRECT, REDIRECT_RIG),
    "double line": (SINGLE, DOUBLE_RIG),
    "double line to a tree": (TO_PINE, TO_PINE_RIG),
    "self-recovery": (ALONE, ALONE_RIG),
    "snatch": (SNATCH, SNATCH_RIG),
    "tow with a hold line": (DOWNHILL, DOWNHILL_RIG),
}
