"""Unit aliases for signatures, and the glossary of the names that formulas use.

A type checker sees `float`; the house tests read the unit.  Every parameter of
a public formula stands in `GLOSSARY` with one meaning and one unit.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

Ratio = Annotated[float, "-"]
Count = Annotated[int, "count"]
Word = Annotated[str, ""]
YesNo = Annotated[bool, ""]
Second = Annotated[float, "s"]
Kilogram = Annotated[float, "kg"]
Metre = Annotated[float, "m"]
Radian = Annotated[float, "rad"]
Newton = Annotated[float, "N"]
NewtonPerMetre = Annotated[float, "N/m"]
NewtonPerSquareMetre = Annotated[float, "N/m^2"]
Joule = Annotated[float, "J"]
MetrePerSecond = Annotated[float, "m/s"]
MetrePerSecondSquared = Annotated[float, "m/s^2"]
RadianPerSecond = Annotated[float, "rad/s"]
NewtonPerSecond = Annotated[float, "N/s"]
NewtonSecond = Annotated[float, "N s"]
Seconds = Annotated[NDArray[np.float64], "s"]
Newtons = Annotated[NDArray[np.float64], "N"]

WITHOUT_UNIT: Final = ("-", "count", "")
"""Units of pure numbers, of counts, and of words and yes-or-no answers."""


@dataclass(frozen=True)
class Term:
    """What a parameter's name means, in every formula that uses it."""

    unit: str
    meaning: str

    @property
    def unit_text(self) -> str:
        """The unit as a suffix of a number; nothing for a pure number."""
        return "" if self.unit in WITHOUT_UNIT else f" {self.unit}"


GLOSSARY: Final[Mapping[str, Term]] = MappingProxyType(
    {
        "advantage": Term("-", "Force on the stuck vehicle along its exit for each unit of pull"),
        "angle_between": Term("rad", "Angle between two parts of a line that meet; 0 is parallel"),
        "angle_off": Term("rad", "Angle of the load off the line of a shackle, from pin to bow"),
        "bend": Term("m", "Diameter of the pin or sheave that a rope bends over"),
        "bogging": Term("N", "Resistance of a vehicle that has sunk in"),
        "choke": Term("rad", "Angle between the leg of a sling and the part that it chokes"),
        "coefficient": Term("-", "Rolling resistance for each unit of weight on the ground"),
        "dead_wraps": Term("count", "Wraps that stay on the drum"),
        "design_factor": Term("-", "What an item's MBS is divided by when it has no WLL"),
        "diameter": Term("m", "Diameter of a rope"),
        "downhill_bearing": Term("rad", "Bearing of steepest descent, clockwise from north"),
        "drive": Term("N", "Net drive force that the moving vehicle keeps on"),
        "drum": Term("m", "Diameter of the bare winch drum"),
        "drum_width": Term("m", "Width of the drum between its flanges"),
        "efficiency": Term("-", "Tension past a pulley over the tension before it"),
        "exit_off_uphill": Term("rad", "Angle from straight uphill to the way out"),
        "exponent": Term("-", "Steepness of a fatigue curve"),
        "face": Term("m", "Height of the face of a buried log"),
        "factor": Term("-", "Figure of the formula's own table"),
        "farthest_points": Term("m", "Distance between the two farthest points of the rig"),
        "first_layer_pull": Term("N", "Rated pull of the winch on its first layer"),
        "force_east": Term("N", "Eastward part of the rig's force on the vehicle"),
        "force_north": Term("N", "Northward part of the rig's force on the vehicle"),
        "girth": Term("m", "Distance once round what a sling goes round"),
        "grade": Term("N", "Grade resistance; negative where the way out leads downhill"),
        "gravity": Term("m/s^2", "Acceleration of free fall"),
        "grip": Term("-", "Tyre-ground friction that can be counted on"),
        "hitch": Term("", "How a sling holds: straight, choker or basket"),
        "hitch_factor": Term("-", "What the hitch multiplies an item's rating by"),
        "holding_power": Term("N/m^2", "What the soil in front of a buried log bears"),
        "holds": Term("N", "The assessor's figure for what an anchor holds"),
        "included_angle": Term("rad", "Angle between the two legs of a basket or bridle"),
        "is_wire": Term("", "Whether the line is of wire"),
        "kind": Term("", "Kind of an item, such as winch-line"),
        "layer": Term("count", "Layer of line on the drum; 1 lies on the drum itself"),
        "lead": Term("m", "Line from the drum to where it is first led"),
        "length": Term("m", "Unstretched length between bearing points"),
        "life_at_mbs": Term("-", "Pulls to the end of life at a load equal to the MBS"),
        "limit": Term("N", "The most that something may carry"),
        "line_in_use": Term("m", "Length of line between winch and end"),
        "load": Term("N", "What something carries"),
        "load_at_strain": Term("N", "Tension at which the strain was measured"),
        "loads": Term("N", "Tensions of the points of a rope's curve, rising from above 0"),
        "log": Term("m", "Length of a buried log"),
        "mass": Term("kg", "Mass as it stands: load, people and water included"),
        "mbs": Term("N", "Minimum breaking strength"),
        "moving_mass": Term("kg", "Mass of the vehicle that runs up"),
        "off_line_angle": Term("rad", "Angle between the line and the way out"),
        "own_grade": Term("N", "Grade resistance of the recovery vehicle itself"),
        "own_rolling": Term("N", "Rolling resistance of the recovery vehicle itself"),
        "parts": Term("count", "Line parts that bear on the stuck vehicle"),
        "pull": Term("N", "Tension in the line where it is pulled"),
        "pulleys": Term("count", "Pulleys that the line passes"),
        "pulls": Term("-", "Numbers of pulls, each with its life"),
        "reference_load": Term("N", "Load of the pull that counts as one"),
        "resistance": Term("N", "Total that holds the stuck vehicle, along the line of the pull"),
        "rigged_length": Term("m", "Unstretched length of the rigged kinetic line"),
        "rolling": Term("N", "Rolling resistance"),
        "rope": Term("m", "Diameter of the line on the drum"),
        "rule": Term("", "Which published rule is taken"),
        "slope": Term("rad", "Angle of the ground above the level"),
        "speed": Term("m/s", "Closing speed when the rope comes taut"),
        "stiffening": Term(
            "-", "Exponent of a rope's stretch in its tension; 1 is a straight line"
        ),
        "stiffness": Term("N/m", "Tension for each metre of stretch"),
        "stiffnesses": Term("N/m", "Stiffness of each part of a kinetic line"),
        "stored_length": Term("m", "Line left on the drum; 0 or below when none is left"),
        "strain": Term("-", "Stretch over unstretched length"),
        "strains": Term("-", "Strain at each point of a rope's curve, rising from above 0"),
        "stuck_mass": Term("kg", "Mass of the stuck vehicle"),
        "tension": Term("N", "Pull in a line"),
        "tension_in": Term("N", "Tension of the line part on the winch's side of a turn"),
        "tension_out": Term("N", "Tension of the line part on the far side of a turn"),
        "trench": Term("m", "Length of a buried log that has no soil before it"),
        "vehicle_weight": Term("N", "Weight of the vehicle that must stay where it is"),
        "weight": Term("N", "Force of gravity on the vehicle"),
        "wll": Term("N", "Working load limit"),
        "wraps_per_layer": Term("count", "Wraps that lie side by side on the drum"),
    }
)
