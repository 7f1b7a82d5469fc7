"""Files as a load cell would write them; all of it is invented."""

from collections.abc import Iterable
from math import sin


def swing(peak: float, rate: float = 100.0, lasts: float = 0.7, rest: float = 0.0) -> list[float]:
    """Return readings of a pull that rises and falls like half a swing, quiet before and after."""
    quiet = [rest] * 20
    steps = round(lasts * rate)
    return [
        *quiet,
        *(rest + peak * sin(3.141592653589793 * n / steps) for n in range(steps)),
        *quiet,
    ]


def written(
    forces: Iterable[float], rate: float = 100.0, head: str = "time [s],force [kN]"
) -> bytes:
    """Return readings as a CSV file, each with its time."""
    rows = (f"{number / rate:.4f},{force:.4f}" for number, force in enumerate(forces))
    return "\n".join((head, *rows, "")).encode()
