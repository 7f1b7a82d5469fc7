"""Unit aliases for signatures, and the glossary of the names that formulas use.

A type checker sees `float`; the house tests read the unit.  Every parameter of
a public formula stands in `GLOSSARY` with one meaning and one unit.
"""

from __future__ import annotations

from typing import Annotated

Ratio = Annotated[float, "-"]
Kilogram = Annotated[float, "kg"]
Metre = Annotated[float, "m"]
Radian = Annotated[float, "rad"]
Newton = Annotated[float, "N"]
NewtonPerMetre = Annotated[float, "N/m"]
Joule = Annotated[float, "J"]
MetrePerSecond = Annotated[float, "m/s"]
MetrePerSecondSquared = Annotated[float, "m/s^2"]
