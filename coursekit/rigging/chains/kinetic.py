"""A kinetic pull: stiffness of the line, peak, design load, and the window of speeds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from coursekit.mechanics import kinetic
from coursekit.mechanics.constants import FOOT, MILE_PER_HOUR, POUND_FORCE
from coursekit.mechanics.elementary import sqrt
from coursekit.mechanics.tables import KINETIC_STRAIN
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Line
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Slip, Step, Values

MODEL_SOURCE = (
    "energy balance of two masses on a weightless linear rope; agrees with the "
    "integrated equations of motion"
)
DESIGN_SOURCE = (
    "spring models read up to 30 % low in hard events: Weber, Analysis of Impact Force "
    "Equations, ITRS 2002"
)


def stiffness_of(item: Item) -> float | None:
    """Return the stiffness of one item of a kinetic line, None where it does not stretch.

    Dry breaking strength is taken also for a wet rope: stiffer is the safe side.
    """
    if not item.is_elastic or item.mbs is None or not item.line_length:
        return None
    strain = item.stretch.strain if item.stretch else KINETIC_STRAIN[item.kind]
    share = item.stretch.at if item.stretch else 1.0
    if strain is None:
        return None
    return kinetic.linear_stiffness(share * item.mbs, strain, item.line_length)


def _line_stiffness(situation: Situation, line: Line) -> float | None:
    found = [stiffness_of(situation.gear[item]) for item in line.made_of]
    springs = [k for k in found if k is not None]
    return kinetic.series_stiffness(springs) if springs else None


def _strain_as_length(situation: Situation, line: Line) -> float | None:
    """Return the stiffness if every strain were a stretch of so many metres, or feet."""
    unit = FOOT if situation.us_units else 1.0
    springs = [
        k * situation.gear[i].line_length / unit
        for i in line.made_of
        if (k := stiffness_of(situation.gear[i])) is not None
    ]
    return kinetic.series_stiffness(springs) if springs else None


def _peak(v: Values, speed: float, moving: float | None = None) -> float:
    return kinetic.peak_tension(
        v["recovery_mass"] if moving is None else moving,
        v["mass"],
        speed,
        v["kinetic.stiffness"],
        v["pull"],
        v["drive"],
    )


def _root(mass: Callable[[Values], float]) -> Callable[[Values], float]:
    def peak(v: Values) -> float:
        force: float = v["kinetic.speed"] * sqrt(v["kinetic.stiffness"] * mass(v))
        return force

    return peak


_KMH_AS_METRES = Slip(
    "kmh-as-metres-per-second",
    "km/h taken as m/s",
    lambda v: _peak(v, v["kinetic.speed"] * 3.6),
    "{given} comes out when the speed in km/h is used as m/s; divide by 3.6 first.",
)
_MPH_AS_FEET = Slip(
    "mph-as-feet-per-second",
    "mph taken as ft/s",
    lambda v: _peak(v, v["kinetic.speed"] * FOOT / MILE_PER_HOUR),
    "{given} comes out when the speed in mph is used as ft/s; multiply by 22/15 first.",
    DANGEROUS,
)
_STRAIN_TEXT = "A strain is a share of the length: multiply it by the length of the rope first."
_ENERGY_FOR_FORCE = Slip(
    "energy-for-force",
    "energy taken for force",
    lambda v: 0.5 * v["recovery_mass"] * v["kinetic.speed"] ** 2,
    "{given} is the energy of motion as a number; the force follows from it and the "
    "stretch: {truth}.",
)
_ROOT_LEFT_OUT = Slip(
    "root-left-out",
    "the square root left out",
    lambda v: v["kinetic.speed"] ** 2 * v["kinetic.stiffness"] * v["recovery_mass"],
    "The peak is a square root: {truth}, not {given}.",
)
_MASSES_ADDED = "both masses added"
_PEAK_SLIPS = (
    Slip(
        "weight-for-peak",
        "weight taken for the peak",
        lambda v: v["recovery_mass"] * v["gravity"],
        "{given} is the weight of the moving vehicle; the peak follows from its speed and the "
        "stretch of the rope: {truth}.",
    ),
    Slip(
        "masses-added",
        _MASSES_ADDED,
        _root(lambda v: v["recovery_mass"] + v["mass"]),
        "{given} takes both masses as moving; only one moves when the rope comes taut: {truth}.",
    ),
    Slip(
        "fixed-end",
        "the stuck vehicle taken as fixed",
        _root(lambda v: v["recovery_mass"]),
        "{given} would be the peak against an immovable end; this vehicle comes free on the "
        "way: {truth}.",
    ),
    Slip(
        "free-end",
        "the resistance left out",
        _root(lambda v: v["recovery_mass"] * v["mass"] / (v["recovery_mass"] + v["mass"])),
        "{given} leaves out what holds the stuck vehicle; with it the peak is {truth}.",
        PART_LEFT_OUT,
    ),
)


def kinetic_steps(
    situation: Situation,
    line: Line,
    smallest_limit: float | None,
    smallest_strength: float | None,
) -> tuple[Step, ...]:
    """Return the steps of a kinetic pull; smallest limit and strength are those of its path."""
    stiffness = _line_stiffness(situation, line)
    allowance = situation.policy.kinetic_allowance
    return (
        _stiffness_step(stiffness, _strain_slip(situation, line)),
        Step(
            "kinetic.speed",
            "closing speed when the rope comes taut",
            "v",
            "m/s",
            "as driven",
            "the rig",
            lambda v: v["speed"],
            ("speed",),
        ),
        Step(
            "kinetic.peak",
            "peak force in the rope",
            "T",
            "N",
            "T = T* + sqrt((R - T*)^2 + k m_e u^2), T* = (P m2 + R m1)/M; "
            "stays stuck: T = P + sqrt(P^2 + m1 k v^2)",
            MODEL_SOURCE,
            lambda v: _peak(v, v["kinetic.speed"]),
            ("kinetic.stiffness", "kinetic.speed", "pull"),
            (*_PEAK_SLIPS, *_unit_slips(situation)),
        ),
        _design_step(allowance),
        *_outcome_steps(),
        _highest_step(allowance, smallest_limit, smallest_strength),
    )


def _unit_slips(situation: Situation) -> tuple[Slip, ...]:
    """Return the slips that lead to another load in feet and pounds than in SI."""
    if not situation.us_units:
        return _KMH_AS_METRES, _ENERGY_FOR_FORCE, _ROOT_LEFT_OUT
    # So many ft lbf are read as so many lbf, and so many lbf squared likewise.
    energy, root = _in_units(_ENERGY_FOR_FORCE, FOOT), _in_units(_ROOT_LEFT_OUT, POUND_FORCE)
    return _MPH_AS_FEET, energy, root


def _in_units(slip: Slip, unit: float) -> Slip:
    return replace(slip, rule=lambda v: slip.rule(v) / unit)


def _strain_slip(situation: Situation, line: Line) -> Slip:
    stiffness = _strain_as_length(situation, line)
    if situation.us_units:
        return Slip("strain-as-feet", "strain taken as feet", lambda _v: stiffness, _STRAIN_TEXT)
    return Slip("strain-as-metres", "strain taken as metres", lambda _v: stiffness, _STRAIN_TEXT)


def _stiffness_step(stiffness: float | None, slip: Slip) -> Step:
    return Step(
        "kinetic.stiffness",
        "stiffness of the line",
        "k",
        "N/m",
        "k = share of MBS x MBS / (strain x length); in series 1/k adds up",
        "linear secant of the rope's stated stretch; worked rope is stiffer than new",
        lambda _v: stiffness,
        slips=(slip,),
    )


def _design_step(allowance: float) -> Step:
    return Step(
        "kinetic.design",
        "design load of the kinetic pull",
        "T_d",
        "N",
        "T_d = {allowance} T",
        DESIGN_SOURCE,
        lambda v: v["kinetic.peak"] * allowance,
        ("kinetic.peak",),
        (
            Slip(
                "allowance-left-out",
                "the allowance on the load left out",
                lambda v: v["kinetic.peak"],
                "{given} is the calculated peak; limits are held against the design load, {truth}.",
                PART_LEFT_OUT,
            ),
        ),
        words={"allowance": f"{allowance:g}"},
    )


_ENERGY_SLIPS = (
    Slip(
        "half-left-out",
        "the half left out",
        lambda v: v["kinetic.peak"] ** 2 / v["kinetic.stiffness"],
        "The force grows from nothing to its peak, so half counts: {truth}, not {given}.",
    ),
    Slip(
        "energy-of-motion",
        "the energy of motion taken for what the rope holds",
        lambda v: 0.5 * v["recovery_mass"] * v["kinetic.speed"] ** 2,
        "{given} is the energy of the moving vehicle; what the rope holds at its peak follows "
        "from the peak and the stiffness: {truth}.",
    ),
)
_LOWEST_SLIPS = (
    Slip(
        "masses-added",
        _MASSES_ADDED,
        lambda v: _fixed_end_speed(v["pull"], v, v["recovery_mass"] + v["mass"]),
        "{given} takes both masses as moving; only one moves when the rope comes taut: {truth}.",
    ),
    Slip(
        "stuck-mass",
        "the mass of the stuck vehicle taken for that of the moving one",
        lambda v: _fixed_end_speed(v["pull"], v, v["mass"]),
        "{given} is reckoned with the mass that stands still; the moving one brings the energy: "
        "{truth}.",
    ),
)


def _fixed_end_speed(tension: float, v: Values, mass: float) -> float:
    """Return the speed at which a mass on a rope with a fixed end reaches a tension."""
    speed: float = tension / sqrt(v["kinetic.stiffness"] * mass)
    return speed


def _outcome_steps() -> tuple[Step, ...]:
    return (
        Step(
            "kinetic.energy",
            "energy stored at the peak",
            "U",
            "J",
            "U = T^2 / (2 k)",
            MODEL_SOURCE,
            lambda v: kinetic.stored_energy(v["kinetic.peak"], v["kinetic.stiffness"]),
            ("kinetic.peak", "kinetic.stiffness"),
            _ENERGY_SLIPS,
        ),
        Step(
            "kinetic.breaks_out",
            "whether the vehicle moves",
            "T > R",
            "-",
            "it moves when the peak passes the resistance",
            MODEL_SOURCE,
            lambda v: bool(v["kinetic.peak"] > v["pull"]),
            ("kinetic.peak", "pull"),
        ),
        Step(
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
            _LOWEST_SLIPS,
        ),
    )


def _highest_step(allowance: float, limit: float | None, strength: float | None) -> Step:
    def speed_at(tension: float | None) -> Callable[[Values], Any]:
        return lambda v: (
            None
            if tension is None
            else kinetic.highest_speed(
                tension,
                v["recovery_mass"],
                v["mass"],
                v["kinetic.stiffness"],
                v["pull"],
                v["drive"],
            )
        )

    peak = None if limit is None else limit / allowance
    return Step(
        "kinetic.speed.highest",
        "highest speed within the limits",
        "v_max",
        "m/s",
        "the speed at which the design load meets the smallest limit in the path",
        MODEL_SOURCE,
        speed_at(peak),
        ("kinetic.stiffness", "pull"),
        (
            Slip(
                "mbs-for-limit",
                "breaking strength taken as the limit",
                speed_at(None if strength is None else strength / allowance),
                "At {given} the weakest item may break; what it may carry allows {truth}.",
                DANGEROUS,
            ),
            Slip(
                "allowance-left-out-of-speed",
                "the allowance on the load left out of the speed",
                speed_at(limit),
                "{given} brings the calculated peak up to the limit; with the allowance on it "
                "the limit allows {truth}.",
                DANGEROUS,
            ),
            Slip(
                "fixed-end",
                "the stuck vehicle taken as fixed",
                lambda v: None if peak is None else _fixed_end_speed(peak, v, v["recovery_mass"]),
                "{given} would be the speed against an immovable end; this vehicle comes free on "
                "the way: {truth}.",
            ),
            Slip(
                "masses-added",
                _MASSES_ADDED,
                lambda v: (
                    None
                    if peak is None
                    else _fixed_end_speed(peak, v, v["recovery_mass"] + v["mass"])
                ),
                "{given} takes both masses as moving; only one moves when the rope comes taut: "
                "{truth}.",
            ),
        ),
        "down",
    )
