"""What pickets and deadmen hold, as steps with the usual mistakes."""

from __future__ import annotations

from collections.abc import Iterator

from coursekit.mechanics.constants import FOOT, POUND_FORCE
from coursekit.mechanics.holdfast import HOLDING_POWER, PICKETS, SOILS, TRENCH, deadman_holds
from coursekit.rigging.holdfast import Deadman, Holdfast, Pickets
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Term

HOLDFAST = "holdfast"
PICKET_SOURCE = "picket holdfasts in undisturbed loam: US Navy 14251, chapter 6"
DEADMAN_SOURCE = "TM 5-5420-278-10, pp. 0035-22 and -23, table 9; between its rows the shallower"


def holdfast_step(place: str, holdfast: Holdfast) -> Step:
    """Return what a made anchor holds by its table."""
    if isinstance(holdfast, Pickets):
        return _picket_step(place, holdfast)
    return _deadman_step(place, holdfast)


def _picket_step(place: str, pickets: Pickets) -> Step:
    return Step(
        f"place.{place}.{HOLDFAST}",
        "what the pickets of {place} hold",
        f"H_{place}",
        "N",
        "by the table, {rows} in loam: {pounds} lbf",
        PICKET_SOURCE,
        lambda _v: pickets.holds,
        slips=tuple(_picket_slips(pickets)),
        rounds="down",
        words={
            "place": place,
            "rows": pickets.rows,
            "pounds": f"{pickets.holds / POUND_FORCE:,.0f}",
        },
        limits="pickets of 3 in by 5 ft, driven 3 to 4 ft and lashed together; wet soil holds less",
    )


def _picket_slips(pickets: Pickets) -> Iterator[Slip]:
    single = PICKETS["1"]
    if pickets.count > 1:
        yield Slip(
            "pickets-counted-each",
            "each picket counted as one that stands alone",
            lambda _v: pickets.count * single,
            "Pickets behind one another do not share evenly: the table gives {truth}, not {given}.",
            DANGEROUS,
        )
        yield Slip(
            "first-row-alone",
            "the rows behind the first left out",
            lambda _v: int(pickets.rows[0]) * single,
            "{given} is the first row alone; lashed to those behind it, it holds {truth}.",
        )


def _deadman_step(place: str, log: Deadman) -> Step:
    return Step(
        f"place.{place}.{HOLDFAST}",
        "what the deadman of {place} holds",
        f"H_{place}",
        "N",
        "p D (L - 1 ft); the soil bears p = {power} lbf/ft2 at {row} ft and {lead}",
        DEADMAN_SOURCE,
        lambda _v: log.holds,
        slips=tuple(_deadman_slips(log)),
        rounds="down",
        words={
            "place": place,
            "power": f"{log.power(log.row) * FOOT**2 / POUND_FORCE:,.0f}",
            "row": f"{log.row / FOOT:.0f}",
            "lead": log.lead,
        },
        limits="firm soil before a log up to 5 times its diameter, a timber 9 times its thickness",
        terms=(
            Term("D", "height of its face", "m", log.face, "down"),
            Term("L", "its length", "m", log.length, "down"),
        ),
    )


def _deadman_slips(log: Deadman) -> Iterator[Slip]:
    power = log.power(log.row)
    yield Slip(
        "trench-left-in",
        "the trench of the cable counted as soil",
        lambda _v: deadman_holds(power, log.face, log.length, 0.0),
        "{given} is for the whole log; a foot of it lies in the cable's trench and bears on "
        "nothing: {truth} is left.",
        DANGEROUS,
    )
    deeper = min((row for row in HOLDING_POWER if row > log.depth), default=log.row)
    if deeper > log.row and log.depth > log.row * (1.0 + 1e-9):
        yield Slip(
            "depth-rounded-up",
            "the depth rounded up to the next row of the table",
            lambda _v: deadman_holds(log.power(deeper), log.face, log.length, TRENCH),
            "Between two rows the shallower counts: {truth}, not {given}.",
            DANGEROUS,
        )
    if SOILS[log.soil] < 1.0:
        yield Slip(
            "soil-left-out",
            "the soil taken for loam",
            lambda _v: log.holds / SOILS[log.soil],
            "{given} is what loam would hold; in this soil it is {truth}.",
            DANGEROUS,
        )
