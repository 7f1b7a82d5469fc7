"""What a kinetic pull has whatever its rope: speed, design load, and mistakes of its kind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from coursekit.mechanics.constants import FOOT, MILE_PER_HOUR
from coursekit.rigging.chains.elastic import ElasticLine
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Rule, Slip, Step, Values

DESIGN_SOURCE = (
    "spring models read up to 30 % low in hard events: Weber, Analysis of Impact Force "
    "Equations, ITRS 2002"
)
MASSES_ADDED = "both masses added"
MASSES_ADDED_TEXT = (
    "{given} takes both masses as moving; only one moves when the rope comes taut: {truth}."
)
FIXED_END = "the stuck vehicle taken as fixed"
STRAIN_TEXT = (
    "{given} takes the strain as a length; it is a share of the rope's length, so multiply by "
    "that first: {truth}."
)
_AS_NEW_TEXT = (
    "{given} takes the rope as it was new and dry; worked and wet rope is stiffer, and the "
    "school counts {factors}: {truth}."
)

PeakAt = Callable[[Values, float], Any]
"""The peak of a pull at another speed than its own."""


def speed_step() -> Step:
    """Return the step of the closing speed."""
    return Step(
        "kinetic.speed",
        "closing speed when the rope comes taut",
        "v",
        "m/s",
        "as driven",
        "the rig",
        lambda v: v["speed"],
        ("speed",),
        rounds="nearest",
    )


def design_step(allowance: float) -> Step:
    """Return the step of the load that limits are held against."""
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
        expression=f"{allowance:g} * {{kinetic.peak}}",
    )


def breaks_out_step(source: str) -> Step:
    """Return the step that says whether the vehicle moves."""
    return Step(
        "kinetic.breaks_out",
        "whether the vehicle moves",
        "T > R",
        "-",
        "it moves when the peak passes the resistance",
        source,
        lambda v: bool(v["kinetic.peak"] > v["pull"]),
        ("kinetic.peak", "pull"),
    )


def stated_stretch_slip(elastic: ElasticLine | None) -> Slip:
    """Return the slip of the stretch on the label taken for that at the peak."""
    stated = None if elastic is None else elastic.stated_stretch
    return Slip(
        "stated-stretch",
        "the stretch of the label taken",
        lambda _v: stated,
        "{given} is the stretch at the load of the label; at this peak it is {truth}.",
    )


def strain_slip(situation: Situation, rule: Rule) -> Slip:
    """Return the slip of a strain taken for a stretch in the reader's unit of length."""
    if situation.us_units:
        return Slip("strain-as-feet", "strain taken as feet", rule, STRAIN_TEXT)
    return Slip("strain-as-metres", "strain taken as metres", rule, STRAIN_TEXT)


def as_new_slips(elastic: ElasticLine | None, rule: Rule) -> tuple[Slip, ...]:
    """Return the slip of the stated stiffness taken, where the school takes a higher one."""
    if elastic is None or not elastic.factors:
        return ()
    name, words = "rope taken as new and dry", {"factors": elastic.factors}
    return (Slip("rope-as-new", name, rule, _AS_NEW_TEXT, DANGEROUS, words),)


def weight_slip() -> Slip:
    """Return the slip of a weight taken for the peak."""
    return Slip(
        "weight-for-peak",
        "weight taken for the peak",
        lambda v: v["recovery_mass"] * v["gravity"],
        "{given} is the weight of the moving vehicle; the peak follows from its speed and the "
        "stretch of the rope: {truth}.",
    )


def unit_slips(situation: Situation, peak_at: PeakAt) -> tuple[Slip, ...]:
    """Return the slips that lead to another load in feet and pounds than in SI."""
    if not situation.us_units:
        return _kmh_as_metres(peak_at), _ENERGY_FOR_FORCE
    # So many ft lbf are read as so many lbf.
    return _mph_as_feet(peak_at), in_units(_ENERGY_FOR_FORCE, FOOT)


def in_units(slip: Slip, unit: float) -> Slip:
    """Return a slip that leads to a number of a unit."""
    return replace(slip, rule=lambda v: slip.rule(v) / unit)


def _kmh_as_metres(peak_at: PeakAt) -> Slip:
    return Slip(
        "kmh-as-metres-per-second",
        "km/h taken as m/s",
        lambda v: peak_at(v, v["kinetic.speed"] * 3.6),
        "{given} comes out when the speed in km/h is used as m/s; divide by 3.6 first.",
    )


def _mph_as_feet(peak_at: PeakAt) -> Slip:
    return Slip(
        "mph-as-feet-per-second",
        "mph taken as ft/s",
        lambda v: peak_at(v, v["kinetic.speed"] * FOOT / MILE_PER_HOUR),
        "{given} comes out when the speed in mph is used as ft/s; multiply by 22/15 first.",
        DANGEROUS,
    )


_ENERGY_FOR_FORCE = Slip(
    "energy-for-force",
    "energy taken for force",
    lambda v: 0.5 * v["recovery_mass"] * v["kinetic.speed"] ** 2,
    "{given} is the energy of motion as a number; the force follows from it and the "
    "stretch: {truth}.",
)
ENERGY_OF_MOTION = Slip(
    "energy-of-motion",
    "the energy of motion taken for what the rope holds",
    lambda v: 0.5 * v["recovery_mass"] * v["kinetic.speed"] ** 2,
    "{given} is the energy of the moving vehicle; what the rope holds at its peak follows "
    "from the peak and the stiffness: {truth}.",
)


def _masses_added(of_mass: Callable[[Callable[[Values], float]], Rule]) -> Slip:
    return Slip(
        "masses-added",
        MASSES_ADDED,
        of_mass(lambda v: v["recovery_mass"] + v["mass"]),
        MASSES_ADDED_TEXT,
    )


def highest_slips(
    at: Callable[[float | None], Rule],
    of_mass: Callable[[Callable[[Values], float]], Rule],
    limits: tuple[float | None, float | None],
    allowance: float,
) -> tuple[Slip, ...]:
    """Return the slips of the highest speed.

    `at` gives the rule of the speed for a peak, `of_mass` that against an immovable end.
    """
    limit, strength = limits
    return (
        Slip(
            "mbs-for-limit",
            "breaking strength taken as the limit",
            at(None if strength is None else strength / allowance),
            "At {given} the weakest item may break; what it may carry allows {truth}.",
            DANGEROUS,
        ),
        Slip(
            "allowance-left-out-of-speed",
            "the allowance on the load left out of the speed",
            at(limit),
            "{given} brings the calculated peak up to the limit; with the allowance on it "
            "the limit allows {truth}.",
            DANGEROUS,
        ),
        Slip(
            "fixed-end",
            FIXED_END,
            of_mass(lambda v: v["recovery_mass"]),
            "{given} would be the speed against an immovable end; this vehicle comes free on "
            "the way: {truth}.",
        ),
        _masses_added(of_mass),
    )


def lowest_slips(of_mass: Callable[[Callable[[Values], float]], Rule]) -> tuple[Slip, ...]:
    """Return the slips of the lowest speed; `of_mass` gives that against an immovable end."""
    return (
        _masses_added(of_mass),
        Slip(
            "stuck-mass",
            "the mass of the stuck vehicle taken for that of the moving one",
            of_mass(lambda v: v["mass"]),
            "{given} is reckoned with the mass that stands still; the moving one brings the "
            "energy: {truth}.",
        ),
    )


def end_slips(of_mass: Callable[[Callable[[Values], float]], Rule]) -> tuple[Slip, ...]:
    """Return the slips of the peak about the masses, each against an immovable end."""
    return (
        _masses_added(of_mass),
        Slip(
            "fixed-end",
            FIXED_END,
            of_mass(lambda v: v["recovery_mass"]),
            "{given} would be the peak against an immovable end; this vehicle comes free on the "
            "way: {truth}.",
        ),
        Slip(
            "free-end",
            "the resistance left out",
            of_mass(lambda v: v["recovery_mass"] * v["mass"] / (v["recovery_mass"] + v["mass"])),
            "{given} leaves out what holds the stuck vehicle; with it the peak is {truth}.",
            PART_LEFT_OUT,
        ),
    )
