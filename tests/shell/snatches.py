"""Kinetic pulls as a load cell measures them, their peaks by the equations of motion."""

from __future__ import annotations

from datetime import datetime
from math import cos, radians, sin
from typing import Any

from coursekit.services import measuring
from coursekit.services.measuring import MeasuredPull
from coursekit.store.unit import Unit
from coursekit.wear.measured import CellReading
from tests.cast import Cast
from tests.reference.integration import Pull, integrate

SNATCH: dict[str, Any] = {
    "method": "kinetic",
    "speed": "2 m/s",
    "lines": [
        {
            "from": "recovery_vehicle.front",
            "with": ["bow-1"],
            "made_of": ["rope-k"],
            "to": {"at": "stuck_vehicle.rear", "with": ["soft-1"]},
        }
    ],
}
# The rope of the scenario: 30 % of 9 m at its breaking strength, which the kit marks as 125 kN.
STATED = 125_000.0 / (0.30 * 9.0)
# Statics by hand, from the scenario's own numbers.
RESISTANCE = 2650 * 9.80665 * (sin(radians(8)) + 0.14 * cos(radians(8)))


def snatched(cast: Cast, speed: float, factor: float, number: int) -> MeasuredPull:
    """Return a pull as a cell measures it whose rope is stiffer by a factor than stated."""
    motion = Pull(2900.0, 2650.0, speed, factor * STATED, RESISTANCE, 0.0)
    peak = integrate(motion).peak
    marks = {"rope-k": "Rope 1", "bow-1": "Bow 1", "soft-1": "Soft 1"}
    return MeasuredPull(
        class_id=cast.class_id,
        version_id=cast.version_id,
        rig=SNATCH,
        items={gear: cast.items[mark] for gear, mark in marks.items()},
        ended="came-free",
        key=f"snatch-{number:03}",
        reading=CellReading(f"{number:064x}", peak, 1.0, 0.001, 900, 1000.0, "kN"),
        place="bow-1",
        speed=speed,
    )


def recorded(unit: Unit, cast: Cast, now: datetime, factor: float, *speeds: float) -> None:
    for number, speed in enumerate(speeds):
        pull = snatched(cast, speed, factor, number)
        measuring.record_measured_pull(unit, cast.instructor.actor, pull, now)
