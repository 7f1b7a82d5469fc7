"""A rig solved in many cases at once shows in each what it shows when solved alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems
from coursekit.rigging.cases import Place, SolvedCases, solve_cases
from coursekit.rigging.gear import Stretch
from coursekit.rigging.rig import LineEnd, Piece, Rig
from coursekit.rigging.site import Ground, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.world import (
    double_line,
    kinetic,
    near,
    recovery,
    redirect,
    self_recovery,
    single_line,
    situation,
    tow,
    winch_line,
    with_own_winch,
)

# The whole of what may be a number in a field: how far each is drawn.
REACH = {
    "mass": (800.0, 20_000.0),
    "slope": (0.0, 0.7),
    "rolling": (0.01, 0.6),
    "exit": (0.0, 6.0),
    "travel": (0.0, 8.0),
    "recovery_mass": (1000.0, 9000.0),
    "grip": (0.1, 0.9),
    "winch_pull": (5e3, 9e4),
    "holds": (5e3, 2e5),
    "wll": (4e3, 9e4),
    "mbs": (2e4, 3e5),
    "length": (10.0, 60.0),
    "efficiency": (0.5, 1.0),
    "strain": (0.05, 0.4),
    "speed": (0.1, 6.0),
    "drive": (0.0, 8e3),
    "angle": (0.0, 2.3),
}


def held() -> Rig:
    """A winch line and a line that holds, from the boulder."""
    hold = winch_line(
        role="hold",
        start="boulder",
        made_of=("line-2",),
        to=LineEnd("stuck_vehicle.rear", (Piece("bow-2"),)),
        joined_with=(Piece("sling-2", "choker"), Piece("soft-2")),
        dampers=(),
    )
    return Rig("winch", (*single_line().lines, hold))


SITES: dict[str, tuple[Situation, Rig]] = {
    "single line": (situation(), single_line()),
    "redirect": (situation(), redirect()),
    "double line": (situation(), double_line()),
    "held": (situation(), held()),
    "self-recovery": (with_own_winch(), self_recovery()),
    "kinetic": (near(), kinetic()),
    "tow": (situation(recovery=recovery(at=(4.0, 0.5), held="braked")), tow()),
    "field rule": (situation(method="field-rule"), double_line()),
}
BOGGED = st.sampled_from(["none", "none", "hubs", "bonnet"])


def place_in(site: Situation, rig: Rig, bogged: str) -> Place:
    """Return what puts every field of REACH that the site has into it and the rig."""

    def place(v: Mapping[str, Any]) -> tuple[Situation, Rig]:
        points = {name: replace(item, wll=v["wll"]) for name, item in site.stuck.points.items()}
        stuck = replace(
            site.stuck, mass=v["mass"], exit=v["exit"], travel=v["travel"], points=points
        )
        other = site.recovery
        if other is not None and other.winch is not None:
            drum = replace(other.winch, pull=v["winch_pull"])
            other = replace(other, mass=v["recovery_mass"], grip=v["grip"], winch=drum)
        gear = dict(site.gear)
        for name in ("sling-1", "bow-1"):
            gear[name] = replace(gear[name], wll=v["wll"])
        gear["winch-line"] = replace(gear["winch-line"], mbs=v["mbs"], length=v["length"])
        gear["block-1"] = replace(gear["block-1"], efficiency=v["efficiency"])
        gear["rope-k"] = replace(gear["rope-k"], mbs=v["mbs"], stretch=Stretch(v["strain"]))
        changed = replace(
            site,
            stuck=stuck,
            recovery=other,
            ground=Ground(None, v["rolling"], v["slope"], 4.0, bogged),
            anchors={k: replace(a, holds=v["holds"]) for k, a in site.anchors.items()},
            gear=gear,
        )
        return changed, with_angle(replace(rig, speed=rig.speed and v["speed"]), v)

    return place


def with_angle(rig: Rig, v: Mapping[str, Any]) -> Rig:
    lines = tuple(
        replace(
            line,
            pulleys=tuple(
                replace(
                    pulley,
                    joined_with=tuple(
                        replace(piece, angle=v["angle"]) if piece.hitch == "basket" else piece
                        for piece in pulley.joined_with
                    ),
                )
                for pulley in line.pulleys
            ),
        )
        for line in rig.lines
    )
    return replace(rig, lines=lines, drive=v["drive"])


def alone(place: Place, fields: Mapping[str, NDArray[np.float64]], case: int) -> Solution | str:
    try:
        return solve(*place({name: float(values[case]) for name, values in fields.items()}))
    except (Problems, OutOfRange) as error:
        return str(error)


def message(finding: Any) -> str:
    return f"{finding.rule} {finding.at} {finding.item} {finding.message.template}"


def check(place: Place, fields: Mapping[str, NDArray[np.float64]]) -> SolvedCases:
    """Hold every value and finding of every case against the same case solved alone."""
    together = solve_cases(place, fields)
    told: dict[int, Any] = {}
    for unsolved in together.unsolved:
        told |= dict.fromkeys(unsolved.cases.tolist(), unsolved.reason)
    for group in together.alike:
        told |= dict.fromkeys(group.cases.tolist(), group.solution)
    assert sorted(told) == list(range(together.count))
    columns: dict[str, NDArray[np.float64]] = {}
    for case in range(together.count):
        single, group = alone(place, fields, case), told[case]
        if isinstance(single, str):
            assert group == single
            continue
        assert list(map(message, group.findings)) == list(map(message, single.findings))
        weakest = group.weakest and (group.weakest.item, group.weakest.at)
        assert weakest == (single.weakest and (single.weakest.item, single.weakest.at))
        for key, value in single.values.items():
            found = columns.setdefault(key, together.value(key))[case]
            assert np.isnan(found) if value is None else found == value, (key, case)
    return together


@pytest.mark.independent("solve() of each case by itself, in plain floats, digit for digit")
@pytest.mark.parametrize("name", SITES)
@settings(max_examples=8)
@given(st.data(), BOGGED, st.integers(0, 2**32 - 1))
def test_every_case_shows_what_it_shows_alone(
    name: str, data: st.DataObject, bogged: str, seed: int
) -> None:
    site, rig = SITES[name]
    varied = data.draw(st.sets(st.sampled_from(sorted(REACH)), min_size=1, max_size=6))
    chance = np.random.default_rng(seed)
    own = {field: np.full(24, low + 0.3 * (high - low)) for field, (low, high) in REACH.items()}
    drawn = {field: chance.uniform(*REACH[field], 24) for field in sorted(varied)}

    check(place_in(site, rig, bogged), own | drawn)


def test_cases_that_can_not_be_solved_say_why_as_alone() -> None:
    masses = np.array([2000.0, 0.0, 3000.0, -5.0, 2500.0, 0.0, 1.0, 2.0, 3.0, 4.0])

    def place(v: Mapping[str, Any]) -> tuple[Situation, Rig]:
        site = situation()
        return replace(site, stuck=replace(site.stuck, mass=v["mass"])), single_line()

    together = check(place, {"mass": masses})

    reasons = {case: u.reason for u in together.unsolved for case in u.cases.tolist()}
    assert set(reasons) == {1, 3, 5}
    assert reasons[3] == "mass: -5 kg is out of range. Give more than 0 kg."


def test_places_that_move_part_the_cases_by_their_values() -> None:
    def place(v: Mapping[str, Any]) -> tuple[Situation, Rig]:
        moved = replace(recovery(), at=(v["east"], 0.0))
        site = situation(recovery=moved)
        return replace(site, stuck=replace(site.stuck, mass=v["mass"])), single_line()

    east, mass = np.meshgrid([5.0, 12.0, 20.0, 40.0, 55.0], np.linspace(1e3, 9e3, 30))
    together = check(place, {"east": east.ravel(), "mass": mass.ravel()})

    assert together.shows("line-too-short").sum() == 30
    assert not together.unsolved


def test_masks_and_arrays_agree_with_each_other() -> None:
    def place(v: Mapping[str, Any]) -> tuple[Situation, Rig]:
        site = situation()
        return replace(site, stuck=replace(site.stuck, mass=v["mass"])), single_line()

    together = solve_cases(place, {"mass": np.linspace(1e3, 9e4, 400)})

    over = together.shows("over-limit")
    uses = np.max([together.value(f"item.{i}.use") for i in ("winch-line", "bow-1")], axis=0)
    points = together.value("item.stuck_vehicle.front.use")
    assert 0 < over.sum() < 400
    assert (over == ((uses > 1.0) | (points > 1.0))).all()
    assert (together.where(lambda s: s.is_safe) <= ~over).all()
    assert np.isnan(together.value("no.such.key")).all()
