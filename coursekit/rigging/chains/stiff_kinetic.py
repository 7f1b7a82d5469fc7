"""A kinetic pull on a rope that stiffens: the steps of a linear one, by the balance of energy.

Its stiffness is no figure of the label but follows from the peak, so it stands behind it.
"""

from __future__ import annotations

import operator
from collections.abc import Callable
from typing import Any

from coursekit.mechanics.elementary import sqrt
from coursekit.mechanics.kinetic import peak_tension
from coursekit.mechanics.rope import Law
from coursekit.mechanics.stiff_snatch import StiffSnatch
from coursekit.rigging.chains.elastic import ElasticLine
from coursekit.rigging.chains.snatch import (
    ENERGY_OF_MOTION,
    as_new_slips,
    breaks_out_step,
    design_step,
    end_slips,
    highest_slips,
    lowest_slips,
    speed_step,
    stated_stretch_slip,
    strain_slip,
    unit_slips,
    weight_slip,
)
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, Rule, Slip, Step, Values

CURVE_SOURCE = (
    "energy balance of two masses on a weightless rope of the stated curve, T = a e^n or a "
    "table; agrees with the integrated equations of motion"
)
_STRAIGHT_TEXT = (
    "{given} takes the rope as a straight line to the point of its label; it stiffens as it "
    "stretches, and the peak is {truth}."
)


def stiff_steps(
    situation: Situation, elastic: ElasticLine, limits: tuple[float | None, float | None]
) -> tuple[Step, ...]:
    """Return the steps of a kinetic pull; smallest limit and strength are those of its path."""
    allowance, law = situation.policy.kinetic_allowance, elastic.law
    return (
        speed_step(),
        _peak_step(situation, elastic),
        design_step(allowance),
        _stretch_step(elastic),
        _stiffness_step(elastic),
        _energy_step(law),
        breaks_out_step(CURVE_SOURCE),
        _lowest_step(law),
        _highest_step(law, allowance, limits),
    )


def _snatch(law: Law, v: Values, speed: float) -> StiffSnatch:
    return StiffSnatch(v["recovery_mass"], v["mass"], speed, law, v["pull"], v["drive"])


def _peak_step(situation: Situation, elastic: ElasticLine) -> Step:
    law, as_new, by_strain = elastic.law, elastic.law_as_new, elastic.law_by_strain

    def peak_of(other: Law) -> Rule:
        return lambda v: _snatch(other, v, v["kinetic.speed"]).peak

    def peak_at(v: Values, speed: float) -> float:
        return _snatch(law, v, speed).peak

    def fixed_end(mass: Callable[[Values], float]) -> Rule:
        """Return the rule of the peak of a mass that coasts on the rope with a fixed end."""
        return lambda v: StiffSnatch(mass(v), v["mass"], v["kinetic.speed"], law, 0.0, 0.0).held

    return Step(
        "kinetic.peak",
        "peak force in the rope",
        "T",
        "N",
        "U(T) - T* e(T) = U(R) - T* e(R) + m_e u^2 / 2, T* = (P m2 + R m1)/M; "
        "stays stuck: U(T) - P e(T) = m1 v^2 / 2",
        CURVE_SOURCE,
        peak_of(law),
        ("kinetic.speed", "pull"),
        (
            weight_slip(),
            *end_slips(fixed_end),
            *unit_slips(situation, peak_at),
            strain_slip(situation, peak_of(by_strain)),
            *as_new_slips(elastic, peak_of(as_new)),
            *_straight_slips(elastic.secant),
        ),
    )


def _straight_slips(stiffness: float) -> tuple[Slip, ...]:
    """Return the slip of a linear rope: the dangerous one where it reads low."""

    def peak(v: Values) -> float:
        moving, stuck, speed = v["recovery_mass"], v["mass"], v["kinetic.speed"]
        return peak_tension(moving, stuck, speed, stiffness, v["pull"], v["drive"])

    def only(is_such: Callable[[float, float], bool]) -> Rule:
        return lambda v: straight if is_such(straight := peak(v), v["kinetic.peak"]) else None

    name = "the rope taken as linear"
    return (
        Slip("linear-reads-low", name, only(operator.lt), _STRAIGHT_TEXT, DANGEROUS),
        Slip("linear-reads-high", name, only(operator.ge), _STRAIGHT_TEXT),
    )


def _stretch_step(elastic: ElasticLine) -> Step:
    law = elastic.law
    return Step(
        "kinetic.stretch",
        "stretch of the line at the peak",
        "e",
        "m",
        "e(T) by the stated curve; parts in a row add up",
        CURVE_SOURCE,
        lambda v: law.stretch(v["kinetic.peak"]),
        ("kinetic.peak",),
        (stated_stretch_slip(elastic),),
    )


def _stiffness_step(elastic: ElasticLine) -> Step:
    stated = elastic.secant
    return Step(
        "kinetic.stiffness",
        "stiffness of the line",
        "k",
        "N/m",
        "k = T / e, from rest to the peak",
        CURVE_SOURCE,
        lambda v: v["kinetic.peak"] / v["kinetic.stretch"] if v["kinetic.stretch"] else None,
        ("kinetic.peak", "kinetic.stretch"),
        (
            Slip(
                "stiffness-of-the-label",
                "the stiffness up to the point of the label taken",
                lambda _v: stated,
                "{given} holds up to the point of the label; up to this peak it is {truth}.",
            ),
        ),
    )


def _energy_step(law: Law) -> Step:
    return Step(
        "kinetic.energy",
        "energy stored at the peak",
        "U",
        "J",
        "U = area under the curve up to the peak; T e / (n + 1) for T = a e^n",
        CURVE_SOURCE,
        lambda v: law.energy(v["kinetic.peak"]),
        ("kinetic.peak", "kinetic.stretch"),
        (
            Slip(
                "half-for-area",
                "half of force times stretch, as on a linear rope",
                lambda v: v["kinetic.peak"] * v["kinetic.stretch"] / 2,
                "{given} is the area under a straight line; under this rope's curve it is {truth}.",
            ),
            ENERGY_OF_MOTION,
        ),
    )


def _fixed_end_speed(law: Law, tension: float, mass: float) -> float:
    """Return the speed at which a mass on a rope with a fixed end reaches a tension."""
    return sqrt(2 * law.energy(tension) / mass)


def _lowest_step(law: Law) -> Step:
    def of_mass(mass: Callable[[Values], float]) -> Rule:
        return lambda v: _fixed_end_speed(law, v["pull"], mass(v))

    return Step(
        "kinetic.speed.lowest",
        "lowest speed that breaks out",
        "v_min",
        "m/s",
        "m1 v_min^2 / 2 = max(0, U(R) - P e(R))",
        CURVE_SOURCE,
        lambda v: _snatch(law, v, 0.0).lowest_speed,
        ("pull",),
        lowest_slips(of_mass),
    )


def _highest_step(law: Law, allowance: float, limits: tuple[float | None, float | None]) -> Step:
    peak = None if limits[0] is None else limits[0] / allowance

    def highest(v: Values, tension: float) -> Any:
        return _snatch(law, v, 0.0).highest_speed(tension)

    def at(tension: float | None) -> Rule:
        return lambda v: None if tension is None else highest(v, tension)

    def of_mass(mass: Callable[[Values], float]) -> Rule:
        return lambda v: None if peak is None else _fixed_end_speed(law, peak, mass(v))

    return Step(
        "kinetic.speed.highest",
        "highest speed within the limits",
        "v_max",
        "m/s",
        "the speed at which the design load meets the smallest limit in the path",
        CURVE_SOURCE,
        at(peak),
        ("pull",),
        highest_slips(at, of_mass, limits, allowance),
        "down",
    )
