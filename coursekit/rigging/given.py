"""What the data that a chain starts from is called, and the units that it stands in."""

from __future__ import annotations

from collections.abc import Mapping

from coursekit.rigging.steps import Term

GIVEN: Mapping[str, Term] = {
    "mass": Term("m", "mass of the stuck vehicle", "kg", rounds="given"),
    "gravity": Term("g", "standard gravity", "m/s2"),
    "slope_read": Term("theta", "slope as read", "rad", rounds="given"),
    "exit_off_uphill": Term("phi", "angle of the exit off straight uphill", "rad"),
    "coefficient": Term("c", "rolling resistance over weight", "-", rounds="given"),
    "bogging_factor": Term("b", "weights that the mud holds with", "count"),
    "recovery_mass": Term("m1", "mass of the recovery vehicle", "kg", rounds="given"),
    "recovery_weight": Term("W1", "weight of the recovery vehicle", "N", rounds="up"),
    "speed": Term("v", "closing speed", "m/s", rounds="given"),
    "drive": Term("P", "net drive force kept on", "N", rounds="up"),
}
