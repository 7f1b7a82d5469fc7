"""The formulas of vehicle recovery, as pure functions of SI floats.

The layer's rule: a module here reads no file, clock, setting or random number,
knows no vehicle, rig or school, and imports nothing of ours but `problems`.  It
takes numbers in SI units and gives numbers in SI units, unrounded.  A value
that a formula does not hold for is refused with `ranges.OutOfRange`, never
clamped and never extrapolated.

Each docstring is the record of its formula: units, limits, the side on which it
errs, and the source.  The house tests read them, scale every formula by random
units, and require a check against something outside this project for each.

==================  ==========================================================
`constants`         gravity and the exact factors between units
`nomenclature`      unit aliases, and the glossary of parameter names
`ranges`            the refusal of numbers that a formula does not hold for
`many`              one quantity in many cases, where a formula expects a float
`elementary`        sine, root and the like, of a float or of one in many cases
`tables`            published and customary figures, each row with its source
`resistance`        what holds the stuck vehicle: grade, rolling, bogging
`righting`          what sets a vehicle on its wheels
`line`              tension past pulleys, the pull, the load on a turn
`winch`             wraps, layers and the pull that each layer leaves
`sling`             what the hitch of a sling does to its rating; how its legs lie
`shackle`           what a pull off its line leaves of a shackle's rating
`bend`              what a bend over a pin or sheave leaves of wire rope
`item`              limit, use and safety factor of one piece of gear
`anchor`            what an anchor may carry; when a vehicle drags
`holdfast`          what pickets and buried logs hold
`kinetic`           the snatch with a stretching rope: peak, speeds, energy
`snatch`            the same pull as a chain of swings of its tension
`oscillation`       one such swing
`rope`              how ropes stretch that are no straight line, by power or table
`stiff_snatch`      the snatch with such a rope, by the balance of energy
`tow`               the pull off the line of travel, and what the tug needs
`clearance`         how far away people stand
==================  ==========================================================
"""
