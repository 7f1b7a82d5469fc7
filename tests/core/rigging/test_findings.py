"""Each finding rule bites where it should, and a sound rig shows nothing grave."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from coursekit.rigging.findings import RULES
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Line, Piece, Rig
from coursekit.rigging.site import Anchor, Ground, Policy, Situation
from coursekit.rigging.solver import solve
from tests.core.world import (
    BASKET,
    CHOKED,
    KN,
    changed,
    deg,
    double_line,
    end,
    kinetic,
    near,
    pieces,
    point,
    recovery,
    redirect,
    rules,
    self_recovery,
    single_line,
    situation,
    straight,
    stuck,
    tonnes,
    tow,
    turn,
    winch,
    winch_line,
    with_own_winch,
)

Case = Callable[[], tuple[Situation, Rig]]


def at_point(vehicle: str, name: str, **more: Any) -> Situation:
    """Return the near site with one point of a vehicle changed."""
    site = near()
    holder = site.stuck if vehicle == "stuck_vehicle" else site.recovery
    assert holder is not None
    points = {**holder.points, name: point(vehicle, name, **more)}
    changed = replace(holder, points=points)
    if vehicle == "stuck_vehicle":
        return replace(site, stuck=changed)
    return replace(site, recovery=changed)


def anchored_at(anchor: Anchor) -> Situation:
    site = situation()
    return replace(site, anchors={**site.anchors, anchor.id: anchor})


def oak(**more: Any) -> Anchor:
    return replace(Anchor("oak", "tree", (20.0, 10.0), 90 * KN), **more)


def redirected(*joint: str | Piece, by: str = "block-1") -> Rig:
    return Rig("winch", (winch_line(turn("oak", by, *joint)),))


DOWNHILL = Ground(None, 0.05, deg(10.0), deg(90.0))
UPHILL = Ground(None, 0.05, deg(10.0), deg(270.0))
STRAPS = Line(
    "recovery_vehicle.rear",
    ("rope-k", "bow-1", "strap-k"),
    end("stuck_vehicle.front", "soft-1"),
    joined_with=pieces("soft-2"),
    dampers=("damper-1",),
)

BITES: dict[str, list[Case]] = {
    "over-limit": [lambda: (changed(situation(), "bow-1", wll=3 * KN), single_line())],
    "unrated": [lambda: (changed(situation(), "soft-1", mbs=None), redirect())],
    "no-wll": [
        lambda: (changed(situation(), "bow-1", wll=None), single_line()),
        lambda: (changed(situation(), "sling-1", wll=None, mbs=210 * KN), redirect()),
    ],
    "unfit": [
        lambda: (changed(situation(), "winch-line", condition=("cut",)), single_line()),
        lambda: (changed(situation(), "damper-1", condition=("worn",)), single_line()),
    ],
    "tow-ball": [lambda: (at_point("recovery_vehicle", "rear", kind="tow-ball"), kinetic())],
    "tie-down-point": [lambda: (at_point("stuck_vehicle", "front", kind="tie-down-point"), tow())],
    "towing-eye": [lambda: (at_point("stuck_vehicle", "front", kind="towing-eye"), kinetic())],
    "static-in-kinetic": [
        lambda: (near(), straight("kinetic", "chain-1", speed=1.0)),
        lambda: (near(), straight("kinetic", "tow-1", speed=1.0)),
    ],
    "metal-joiner": [lambda: (near(), Rig("kinetic", (STRAPS,), speed=1.0))],
    "snatch-sunk": [lambda: (near(ground=Ground("deep-mud", bogged="sills")), kinetic())],
    "kinetic-as-winch-line": [
        lambda: (
            situation(),
            Rig("winch", (winch_line(made_of=("winch-line", "soft-3", "rope-k")),)),
        )
    ],
    "line-too-short": [
        lambda: (changed(situation(), "winch-line", length=21.0), single_line()),
        lambda: (situation(), kinetic()),
    ],
    "line-too-long": [
        lambda: (
            near(),
            Rig("winch", (winch_line(made_of=("winch-line", "bow-2", "line-2")),)),
        )
    ],
    "winch-overloaded": [
        lambda: (situation(recovery=recovery(winch=winch(pull=2 * KN))), single_line())
    ],
    "anchor-overloaded": [lambda: (anchored_at(oak(holds=5 * KN)), redirect())],
    "vehicle-drags": [
        lambda: (
            situation(recovery=recovery(held="braked"), stuck=stuck(mass=9000.0)),
            single_line(),
        ),
        lambda: (
            situation(stuck=stuck(mass=9000.0), recovery=recovery(at=(4.0, 0.0), held="braked")),
            tow(),
        ),
    ],
    "wrong-direction": [
        lambda: (situation(stuck=stuck(exit=deg(270.0))), single_line()),
        lambda: (near(stuck=stuck(exit=deg(270.0))), tow()),
    ],
    "wide-angle": [
        lambda: (situation(), redirected(Piece("sling-1", "basket", deg(130.0)), "soft-1"))
    ],
    "sharp-edge": [
        lambda: (anchored_at(oak(edge="sharp", kind="rock")), redirect()),
        lambda: (at_point("stuck_vehicle", "front", edge="sharp"), kinetic()),
    ],
    "hitch-unstated": [lambda: (situation(), redirected("sling-1", "soft-1"))],
    "ring-misrigged": [
        lambda: (situation(), redirected(CHOKED, "bow-2", by="ring-1")),
        lambda: (
            changed(situation(), "winch-line", material="wire"),
            redirected(CHOKED, "soft-1", by="ring-1"),
        ),
    ],
    "no-joiner": [
        lambda: (situation(), Rig("winch", (winch_line(to=end("stuck_vehicle.front")),))),
        lambda: (situation(), redirected(CHOKED)),
        lambda: (situation(), Rig("winch", (winch_line(made_of=("winch-line", "line-2")),))),
    ],
    "used-twice": [lambda: (situation(), redirected(CHOKED, "soft-1", "soft-1"))],
    "runs-away": [lambda: (near(ground=DOWNHILL), tow())],
    "stall-over-limit": [lambda: (changed(situation(), "bow-1", wll=15 * KN), single_line())],
    "no-breakout": [lambda: (near(ground=Ground("deep-mud")), kinetic(speed=0.2))],
    "off-line-pull": [lambda: (situation(stuck=stuck(exit=deg(125.0))), single_line())],
    "off-line-kinetic": [lambda: (near(stuck=stuck(exit=deg(101.0))), kinetic())],
    "strap-mismatch": [
        lambda: (
            changed(near(), "strap-k", mbs=120 * KN),
            straight("kinetic", "strap-k", speed=1.0),
        )
    ],
    "bare-tree": [
        lambda: (with_own_winch(), Rig("winch", (_to_tree("bow-1"),))),
        lambda: (with_own_winch(), Rig("winch", (_to_tree(),))),
    ],
    "damper-required": [
        lambda: (
            changed(situation(), "winch-line", material="wire"),
            Rig("winch", (winch_line(dampers=()),)),
        ),
        lambda: (near(), Rig("kinetic", (replace(kinetic().pull_line, dampers=()),), speed=1.0)),
    ],
    "rolls-back": [lambda: (situation(ground=UPHILL), single_line())],
    "hook-open": [
        lambda: (
            changed(situation(), "hook-1", latch=False),
            Rig("winch", (winch_line(to=end("stuck_vehicle.front", "hook-1")),)),
        )
    ],
    "joint-at-pulley": [
        lambda: (
            situation(stuck=stuck(travel=15.0), recovery=recovery(at=(20.0, 1.0))),
            Rig("winch", (_joined_redirect(),)),
        )
    ],
    "winch-fades": [
        lambda: (
            situation(stuck=stuck(travel=19.0, mass=13_500.0), recovery=recovery()),
            single_line(),
        )
    ],
    "stretch-unknown": [
        lambda: (changed(near(), "rope-k", mbs=None, wll=tonnes(4.0)), kinetic(speed=1.0))
    ],
    "kinetic-as-hold-line": [lambda: (situation(ground=DOWNHILL), held_by("rope-k"))],
    "kinetic-on-lying": [lambda: (near(stuck=stuck(lying="side")), kinetic(speed=1.0))],
    "drops-on-wheels": [lambda: (situation(stuck=stuck(lying="side")), single_line())],
    "low-margin": [lambda: (changed(situation(), "bow-1", wll=4.2 * KN), single_line())],
    "thin-ice": [lambda: (changed(situation(), "bow-1", wll=4.2 * KN), single_line())],
    "no-damper": [lambda: (situation(), Rig("winch", (winch_line(dampers=()),)))],
    "metal-in-kinetic": [
        lambda: (
            near(),
            Rig("kinetic", (replace(kinetic().pull_line, joined_with=pieces("bow-1")),), speed=1.0),
        )
    ],
    "optimistic": [
        lambda: (situation(recovery=recovery(grip=0.6)), single_line()),
        lambda: (changed(situation(), "block-1", efficiency=0.98), redirect()),
    ],
}


def held_by(item: str) -> Rig:
    """A pull down the slope, held back from the boulder behind."""
    made_of = (item, "soft-3", "tow-1", "soft-2", "line-2")
    hold = Line(
        "boulder",
        made_of,
        end("stuck_vehicle.rear", "bow-2"),
        role="hold",
        joined_with=pieces(BASKET, "soft-1"),
    )
    return Rig("winch", (winch_line(), hold))


def _to_tree(*joint: str) -> Line:
    return winch_line(start="stuck_vehicle.winch", to=end("oak", *joint))


def _joined_redirect() -> Line:
    # 9 m to the oak and 22.4 m on: the joint stands 10.4 m behind the pulley, and after
    # 15 m of travel 11.2 m of line have come in.
    return winch_line(
        turn("oak", "block-1", BASKET, "soft-1"),
        made_of=("winch-line", "bow-2", "line-2"),
    )


CASES = [(rule, case) for rule, cases in BITES.items() for case in cases]


@pytest.mark.parametrize(("rule", "case"), CASES, ids=[rule for rule, _ in CASES])
def test_the_rule_bites(rule: str, case: Case) -> None:
    site, rig = case()

    found = solve(site, rig).findings

    assert rule in rules(found)
    assert all(str(finding.message) for finding in found)


def test_every_rule_has_a_case() -> None:
    assert set(BITES) == set(RULES)


SOUND: list[tuple[str, Case]] = [
    ("single line", lambda: (situation(), single_line())),
    ("redirect", lambda: (situation(), redirect())),
    ("double line", lambda: (situation(), double_line())),
    ("self-recovery", lambda: (with_own_winch(), self_recovery())),
    ("tow", lambda: (near(), tow())),
    ("kinetic", lambda: (near(), kinetic(speed=1.2))),
]


@pytest.mark.parametrize(("case"), [case for _, case in SOUND], ids=[name for name, _ in SOUND])
def test_a_sound_rig_shows_nothing_critical(case: Case) -> None:
    site, rig = case()
    solution = solve(site, rig)

    assert [str(f.message) for f in solution.findings if f.severity == "critical"] == []
    assert solution.is_safe


def test_a_school_can_make_a_major_rule_stop() -> None:
    site = situation(ground=UPHILL)

    plain = solve(site, single_line())
    strict = solve(replace(site, policy=Policy(stop_on=("rolls-back",))), single_line())

    assert plain.stops == ()
    assert [finding.rule for finding in strict.stops] == ["rolls-back"]


def test_a_load_at_its_limit_is_within_it() -> None:
    pull = solve(situation(), single_line()).values["pull"]

    at_limit = solve(changed(situation(), "bow-1", wll=pull), single_line())

    assert "over-limit" not in rules(at_limit.findings)


def test_a_wet_kinetic_rope_has_lost_strength_and_not_stiffness() -> None:
    dry = solve(near(), kinetic(speed=1.2)).values
    wet = solve(changed(near(), "rope-k", wet=True), kinetic(speed=1.2)).values

    # UFC 4-159-03, table 6-8: reduce nylon by 15 % for wet conditions.
    assert wet["item.rope-k.limit"] == pytest.approx(0.85 * dry["item.rope-k.limit"])
    assert wet["kinetic.peak"] == dry["kinetic.peak"]


def test_an_item_rated_by_its_wll_is_never_held_to_its_breaking_strength() -> None:
    values = solve(situation(), single_line()).values

    assert values["item.bow-1.limit"] == pytest.approx(tonnes(4.75))


def test_a_choked_sling_may_carry_eight_tenths() -> None:
    values = solve(situation(), redirected(CHOKED, "soft-1")).values

    # ASME B30.9, second-hand: choker 0.8 of the vertical rating.
    assert values["item.sling-1.limit"] == pytest.approx(0.8 * tonnes(3.0))


def test_gear_is_listed_in_the_order_the_load_meets_it() -> None:
    [place] = [p for p in solve(situation(), redirect()).places if p.at == "oak"]

    assert [item.item for item in place.items] == ["sling-1", "soft-1", "block-1"]


def test_a_free_item_is_found_unrated_by_the_solver_too() -> None:
    site = situation()
    gear = {**site.gear, "mystery": Item("mystery", "soft-shackle")}

    solution = solve(replace(site, gear=gear), redirected(CHOKED, "mystery"))

    assert "unrated" in rules(solution.findings)
    [load] = [i for p in solution.places for i in p.items if i.item == "mystery"]
    assert (load.limit, load.use, load.safety_factor) == (None, None, None)
