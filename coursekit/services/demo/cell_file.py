"""The file that the demo school's load cell wrote; like all of the school it is invented."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, sin

from coursekit.services.demo.days import Cell

RATE = 200
QUIET = 1.0
# What the cell reads when nothing pulls, in kN: a cell is never quite at zero.
REST = 0.04


def cell_file(cell: Cell) -> bytes:
    """Return times and forces of one pull as CSV: quiet, one hump, quiet again."""
    rows = "".join(f"{at:.3f},{force:.3f}\n" for at, force in _readings(cell))
    return f"time [s],force [kN]\n{rows}".encode()


def _readings(cell: Cell) -> Iterator[tuple[float, float]]:
    for number in range(round((2 * QUIET + cell.lasted) * RATE)):
        at = number / RATE
        pulls = 0.0 <= at - QUIET <= cell.lasted
        hump = sin(pi * (at - QUIET) / cell.lasted) if pulls else 0.0
        yield at, REST + (cell.peak_kn - REST) * hump
