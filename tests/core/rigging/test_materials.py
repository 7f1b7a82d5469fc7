"""Free words for a material: what they say, and the safe side where they say nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from coursekit.rigging.gear import ITEM_KINDS, MATERIALS, Item, is_unclear
from coursekit.rigging.material import UNKNOWN, Stuff, said_of
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Policy, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.world import (
    CHOKED,
    KN,
    kinetic,
    near,
    redirect,
    rules,
    single_line,
    situation,
    turn,
    winch_line,
)

WIRE = (
    "wire",
    "Wire",
    "steel wire",
    "Galvanised wire rope",
    "wirerope",
    "steel cable",
    "coated wire",
)
NYLON = (
    "nylon",
    "Nylon",
    "polyamide",
    "Polyamid 6",
    "PA",
    "nylon, double braid",
    "nylon/polyester",
)


def of(material: str | None, **more: Any) -> Situation:
    gear = dict(situation().gear)
    gear["winch-line"] = replace(gear["winch-line"], material=material, **more)
    return situation(gear=gear)


def on_a_ring() -> Rig:
    return Rig("winch", (winch_line(turn("oak", "ring-1", CHOKED, "soft-1")),))


def wet_rope(material: str | None, policy: Policy | None = None) -> Solution:
    gear = dict(near().gear)
    gear["rope-k"] = replace(gear["rope-k"], material=material, wet=True)
    return solve(replace(near(), gear=gear, policy=policy or Policy()), kinetic())


@pytest.mark.parametrize("words", WIRE)
def test_whatever_says_wire_is_wire_in_every_rule(words: str) -> None:
    plain, said = solve(of("wire"), redirect()), solve(of(words), redirect())

    assert said.values == plain.values
    assert "ring-misrigged" in rules(solve(of(words), on_a_ring()).findings)
    # Twice the line in use on wire, second-hand (`WIRE_LENGTHS`); 5 wraps on wire is printed
    # in US Army TM 9-2320-279-10-2, p. 2-660; the default of 10 on synthetic is common practice.
    assert said.values["stand_off"] > solve(of("synthetic"), redirect()).values["stand_off"]
    assert said.values["line.available"] > solve(of("HMPE"), redirect()).values["line.available"]


@pytest.mark.parametrize("words", NYLON)
def test_whatever_says_nylon_loses_strength_to_water(words: str) -> None:
    # Wet nylon keeps 0.85 of its strength: UFC 4-159-03.
    assert wet_rope(words).values["item.rope-k.limit"] == pytest.approx(0.85 * 130 * KN / 3)


@pytest.mark.parametrize("words", [None, "", "blue braid", "synthetic", "textile", UNKNOWN])
def test_a_wet_kinetic_rope_is_nylon_unless_it_says_another_fibre(words: str | None) -> None:
    assert (
        wet_rope(words).values["item.rope-k.limit"] == wet_rope("nylon").values["item.rope-k.limit"]
    )
    assert wet_rope("Polyester").values["item.rope-k.limit"] == pytest.approx(130 * KN / 3)


def test_water_makes_no_rope_softer_that_may_be_no_nylon() -> None:
    softer, stiffer = Policy(wet_stiffness=0.8), Policy(wet_stiffness=1.2)
    peaks = {
        words: [wet_rope(words, policy).values["kinetic.peak"] for policy in (softer, stiffer)]
        for words in ("polyester", "nylon", UNKNOWN)
    }

    dry = peaks["polyester"][0]
    assert peaks["nylon"][0] < dry < peaks["nylon"][1]
    assert peaks[UNKNOWN] == [dry, peaks["nylon"][1]]


def test_of_a_line_that_nobody_knows_each_rule_takes_its_safe_side() -> None:
    unknown, wire, synthetic = (
        solve(of(words), redirect()) for words in (UNKNOWN, "wire", "synthetic")
    )

    assert unknown.values["stand_off"] == wire.values["stand_off"]
    assert unknown.values["line.available"] == synthetic.values["line.available"]
    ring = [f for f in solve(of(UNKNOWN), on_a_ring()).findings if f.rule == "ring-misrigged"]
    assert [str(f.message) for f in ring] == [
        "ring-1 is a ring for synthetic line; nobody knows what this line is made of."
    ]
    bare = Rig("winch", (replace(single_line().pull_line, dampers=()),))
    assert "damper-required" in rules(solve(of(UNKNOWN), bare).findings)
    assert Item("line", "extension-line", material=UNKNOWN).is_cut_by("sharp")
    assert not Item("line", "extension-line", material="wire").is_cut_by("sharp")


def test_of_a_line_that_nobody_knows_the_worse_bend_counts() -> None:
    gear = dict(of(UNKNOWN, diameter=0.010).gear)
    gear["block-1"] = replace(gear["block-1"], sheave=0.040)
    shares = {
        kept: solve(situation(gear=gear, policy=Policy(bent_synthetic=kept)), redirect()).values[
            "item.winch-line.bend_share"
        ]
        for kept in (0.6, 0.9)
    }

    # Wire over a sheave of four diameters keeps 0.75: IMCA M 179.
    assert shares == pytest.approx({0.6: 0.6, 0.9: 0.75})


@pytest.mark.parametrize("words", [None, "", "synthetic", "HMPE", "something else", "blue"])
def test_a_line_of_a_scenario_is_synthetic_unless_it_says_wire_or_unknown(
    words: str | None,
) -> None:
    assert solve(of(words), redirect()).values == solve(of("synthetic"), redirect()).values
    assert "ring-misrigged" not in rules(solve(of(words), on_a_ring()).findings)


@pytest.mark.parametrize("kind", ITEM_KINDS)
def test_every_word_that_is_offered_for_a_kind_says_what_it_is(kind: str) -> None:
    assert MATERIALS[kind]
    assert all(said_of(words) is not None for words in MATERIALS[kind])
    assert not any(is_unclear(kind, words) for words in MATERIALS[kind])


def test_the_bearing_part_of_several_words_decides() -> None:
    assert said_of("polyester with a steel thimble") is Stuff.FIBRE
    assert said_of("wire rope, fibre core") is Stuff.WIRE
