"""A kinetic pull on a linear line: stiffness, peak, design load, and the window of speeds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from coursekit.mechanics import kinetic
from coursekit.mechanics.constants import POUND_FORCE
from coursekit.mechanics.elementary import sqrt
from coursekit.rigging.chains.elastic import ElasticLine
from coursekit.rigging.chains.snatch import (
    ENERGY_OF_MOTION,
    as_new_slips,
    breaks_out_step,
    design_step,
    end_slips,
    highest_slips,
    in_units,
    lowest_slips,
    speed_step,
    stated_stretch_slip,
    strain_slip,
    unit_slips,
    weight_slip,
)
from coursekit.rigging.chains.snatch_terms import (
    LOWEST_SPEED,
    PEAK_TERMS,
    highest_terms,
    peak_expression,
)
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import Rule, Slip, Step, Values

MODEL_SOURCE = (
    "energy balance of two masses on a weightless linear rope; agrees with the "
    "integrated equations of motion"
)
MODEL_LIMITS = (
    "one line of motion, a weightless rope without damping, a resistance that stays the same, "
    "mounts that give nothing; worked rope is stiffer than new"
)
STIFFNESS_SOURCE = "linear secant of the rope's stated stretch; worked rope is stiffer than new"


def kinetic_steps(
    situation: Situation, elastic: ElasticLine | None, limits: tuple[float | None, float | None]
) -> tuple[Step, ...]:
    """Return the steps of a kinetic pull; smallest limit and strength are those of its path."""
    allowance = situation.policy.kinetic_allowance
    return (
        _stiffness_step(situation, elastic),
        speed_step(),
        _peak_step(situation),
        design_step(allowance),
        _stretch_step(elastic),
        _energy_step(),
        breaks_out_step(MODEL_SOURCE),
        _lowest_step(),
        _highest_step(allowance, limits),
    )


def _stiffness_step(situation: Situation, elastic: ElasticLine | None) -> Step:
    stated = None if elastic is None else elastic.secant
    by_strain = None if elastic is None else elastic.secant_by_strain
    as_new = None if elastic is None else elastic.secant_as_new
    factors = "" if elastic is None else elastic.factors
    formula = "k = share of MBS x MBS / (strain x length); in series 1/k adds up"
    if factors:
        formula = (
            "k = share of MBS x MBS / (strain x length), with the school's factor on it: "
            "{factors}; in series 1/k adds up"
        )
    return Step(
        "kinetic.stiffness",
        "stiffness of the line",
        "k",
        "N/m",
        formula,
        STIFFNESS_SOURCE,
        lambda _v: stated,
        slips=(
            strain_slip(situation, lambda _v: by_strain),
            *as_new_slips(elastic, lambda _v: as_new),
        ),
        words={"factors": factors},
    )


def _peak(v: Values, speed: float) -> float:
    return kinetic.peak_tension(
        v["recovery_mass"], v["mass"], speed, v["kinetic.stiffness"], v["pull"], v["drive"]
    )


def _fixed_end_peak(mass: Callable[[Values], float]) -> Rule:
    """Return the rule of the peak of a mass on a rope with a fixed end."""
    return lambda v: v["kinetic.speed"] * sqrt(v["kinetic.stiffness"] * mass(v))


_ROOT_LEFT_OUT = Slip(
    "root-left-out",
    "the square root left out",
    lambda v: v["kinetic.speed"] ** 2 * v["kinetic.stiffness"] * v["recovery_mass"],
    "The peak is a square root: {truth}, not {given}.",
)


def _peak_step(situation: Situation) -> Step:
    # So many lbf squared are read as so many lbf.
    root = in_units(_ROOT_LEFT_OUT, POUND_FORCE) if situation.us_units else _ROOT_LEFT_OUT
    return Step(
        "kinetic.peak",
        "peak force in the rope",
        "T",
        "N",
        "T = T* + sqrt((R - T*)^2 + k m_e u^2), T* = (P m2 + R m1)/M; "
        "stays stuck: T = P + sqrt(P^2 + m1 k v^2)",
        MODEL_SOURCE,
        lambda v: _peak(v, v["kinetic.speed"]),
        ("kinetic.stiffness", "kinetic.speed", "pull"),
        (weight_slip(), *end_slips(_fixed_end_peak), *unit_slips(situation, _peak), root),
        limits=MODEL_LIMITS,
        expression=peak_expression,
        terms=PEAK_TERMS,
    )


def _stretch_step(elastic: ElasticLine | None) -> Step:
    return Step(
        "kinetic.stretch",
        "stretch of the line at the peak",
        "e",
        "m",
        "e = T / k",
        MODEL_SOURCE,
        lambda v: v["kinetic.peak"] / v["kinetic.stiffness"],
        ("kinetic.peak", "kinetic.stiffness"),
        (stated_stretch_slip(elastic),),
        expression="{kinetic.peak} / {kinetic.stiffness}",
    )


def _energy_step() -> Step:
    return Step(
        "kinetic.energy",
        "energy stored at the peak",
        "U",
        "J",
        "U = T^2 / (2 k)",
        MODEL_SOURCE,
        lambda v: kinetic.stored_energy(v["kinetic.peak"], v["kinetic.stiffness"]),
        ("kinetic.peak", "kinetic.stiffness"),
        (
            Slip(
                "half-left-out",
                "the half left out",
                lambda v: v["kinetic.peak"] ** 2 / v["kinetic.stiffness"],
                "The force grows from nothing to its peak, so half counts: {truth}, not {given}.",
            ),
            ENERGY_OF_MOTION,
        ),
        expression="{kinetic.peak}^2 / (2 * {kinetic.stiffness})",
    )


def _fixed_end_speed(tension: float, v: Values, mass: float) -> float:
    """Return the speed at which a mass on a rope with a fixed end reaches a tension."""
    speed: float = tension / sqrt(v["kinetic.stiffness"] * mass)
    return speed


def _lowest_step() -> Step:
    def of_mass(mass: Callable[[Values], float]) -> Rule:
        return lambda v: _fixed_end_speed(v["pull"], v, mass(v))

    return Step(
        "kinetic.speed.lowest",
        "lowest speed that breaks out",
        "v_min",
        "m/s",
        "v_min = sqrt(max(0, R^2 - 2 P R) / (m1 k))",
        MODEL_SOURCE,
        lambda v: kinetic.lowest_speed(
            v["recovery_mass"], v["kinetic.stiffness"], v["pull"], v["drive"]
        ),
        ("kinetic.stiffness", "pull"),
        lowest_slips(of_mass),
        limits=MODEL_LIMITS,
        expression=LOWEST_SPEED,
    )


def _highest(tension: float, v: Values) -> Any:
    return kinetic.highest_speed(
        tension, v["recovery_mass"], v["mass"], v["kinetic.stiffness"], v["pull"], v["drive"]
    )


def _highest_step(allowance: float, limits: tuple[float | None, float | None]) -> Step:
    peak = None if limits[0] is None else limits[0] / allowance

    def at(tension: float | None) -> Rule:
        return lambda v: None if tension is None else _highest(tension, v)

    def of_mass(mass: Callable[[Values], float]) -> Rule:
        return lambda v: None if peak is None else _fixed_end_speed(peak, v, mass(v))

    return Step(
        "kinetic.speed.highest",
        "highest speed within the limits",
        "v_max",
        "m/s",
        "the speed at which the design load meets the smallest limit in the path",
        MODEL_SOURCE,
        at(peak),
        ("kinetic.stiffness", "pull"),
        highest_slips(at, of_mass, limits, allowance),
        "down",
        limits=MODEL_LIMITS,
        terms=highest_terms(limits[0], allowance),
    )
