"""What happened to the kit of the demo school in a year, day by day; all of it is invented."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from coursekit.wear.inspection import Looked, Seen


@dataclass(frozen=True)
class Cell:
    """A load cell beside an item of a rig: its peak in kN, and how long it pulled in seconds."""

    place: str
    peak_kn: float
    lasted: float


@dataclass(frozen=True)
class OfRig:
    """A pull of a scenario's given rig; `uses` names items that had to be in it."""

    scenario: str
    ended: str = "came-free"
    uses: Mapping[str, str] = field(default_factory=dict)
    cell: Cell | None = None


@dataclass(frozen=True)
class OfItem:
    """Pulls of one item, declared by who saw them, with the rest between them."""

    mark: str
    sizes: tuple[str, ...]
    ended: str = "came-free"


Pulls = tuple[OfRig | OfItem, ...]


@dataclass(frozen=True)
class YardDay:
    """A day of pulls in the school's yard."""

    days_ago: int
    title: str
    pulls: Pulls


@dataclass(frozen=True)
class Round:
    """A round of thorough examinations: who was left out, what failed at which line and why.

    `measured` are the lines of which somebody took the size.
    """

    days_ago: int
    left_out: tuple[str, ...] = ()
    failed: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    measured: Mapping[str, tuple[str, Looked]] = field(default_factory=dict)


@dataclass(frozen=True)
class Released:
    """The storekeeper examines and clears all in quarantine, but for what is named.

    `after` is what put it there.
    """

    days_ago: int
    after: str
    finding: str
    kept_back: tuple[str, ...] = ()


@dataclass(frozen=True)
class Retired:
    """The storekeeper retires one item, or records how one was destroyed."""

    days_ago: int
    mark: str
    reason: str
    destroyed: str
    witness: str = "Wren Halloran"


@dataclass(frozen=True)
class Held:
    """Somebody takes an item out of use."""

    days_ago: int
    mark: str
    reason: str


HEAVY, LIGHT = "heavy", "light"
CUT_UP = "cut into three, both eyes off"

# What the class that is over pulled on its day.
FIRST_DAY: Pulls = (OfRig("meadow-gate"), OfRig("snow-lane"), OfItem("Rope 2", (LIGHT,)))

EVENTS: tuple[YardDay | Round | Released | Retired | Held, ...] = (
    Round(385),
    YardDay(
        364,
        "Yard day: one line",
        (OfRig("meadow-gate"), OfRig("wash-road"), OfItem("Rope 1", (LIGHT, HEAVY))),
    ),
    YardDay(
        336,
        "Yard day: two lines",
        (OfRig("snow-lane"), OfRig("ford-exit", "stuck"), OfItem("Rope 1", (HEAVY, HEAVY))),
    ),
    YardDay(
        308,
        "Yard day: sand",
        (OfRig("dune-mouth"), OfItem("Rope 1", (HEAVY, LIGHT)), OfItem("Strap 2", (LIGHT,))),
    ),
    YardDay(
        280,
        "Yard day: turns",
        (OfRig("spur-track"), OfRig("canal-verge"), OfItem("Rope 1", (HEAVY, HEAVY))),
    ),
    YardDay(
        252,
        "Yard day: wet grass",
        (OfRig("meadow-gate"), OfRig("snow-lane", "stuck"), OfItem("Rope 1", (HEAVY, HEAVY))),
    ),
    YardDay(
        224,
        "Yard day: a stump and a stop",
        (
            OfRig("canal-verge"),
            OfRig("spur-track", "stalled", {"sling-1": "Sling 4"}),
            OfItem("Rope 1", (HEAVY,)),
        ),
    ),
    Released(221, "the winch stalled", "stripped and looked over, nothing bent or cut"),
    Retired(220, "Sling 4", "overloaded when the winch stalled", CUT_UP),
    Round(205, failed={"Tow strap 2": ("stitches", "two rows of stitches worn through")}),
    Retired(204, "Tow strap 2", "worn stitches", CUT_UP),
    YardDay(
        196,
        "Yard day: towing",
        (OfRig("landing-ramp"), OfItem("Rope 1", (LIGHT,)), OfItem("Rope 2", (HEAVY, HEAVY))),
    ),
    Retired(195, "Rope 1", "use count spent", CUT_UP, "Juno Tarrant"),
    YardDay(
        168,
        "Yard day: gravel",
        (OfRig("wash-road"), OfRig("ford-exit"), OfItem("Rope 2", (HEAVY, HEAVY, LIGHT))),
    ),
    YardDay(
        140,
        "Yard day: snow",
        (OfRig("snow-lane"), OfItem("Rope 3", (HEAVY, LIGHT)), OfItem("Rope 2", (HEAVY, HEAVY))),
    ),
    YardDay(
        112,
        "Yard day: beach",
        (
            OfRig("dune-mouth", cell=Cell("strap-2", 11.8, 0.8)),
            OfItem("Strap 2", (HEAVY,), "jerked"),
            OfItem("Rope 2", (HEAVY,)),
        ),
    ),
    YardDay(
        84,
        "Yard day: slopes",
        (
            OfRig("hill-road"),
            OfRig("meadow-gate"),
            OfItem("Rope 3", (HEAVY, HEAVY)),
            OfItem("Strap 3", (HEAVY,) * 4),
            OfItem("Strap 4", (HEAVY,) * 3),
        ),
    ),
    YardDay(
        56,
        "Yard day: mud",
        (
            OfRig("ford-exit"),
            OfItem("Chain 1", ("unknown",), "jerked"),
            OfItem("Rope 2", (HEAVY, HEAVY)),
            OfItem("Strap 3", (HEAVY,) * 3),
            OfItem("Strap 4", (HEAVY,) * 4),
        ),
    ),
    Retired(40, "Soft 5", "three years from the date of make", "cut through, both loops"),
    Round(
        22,
        left_out=("Sling 3", "Block 3", "Soft 4", "Sling 5", "Rope 4"),
        failed={"Hook 2": ("latch", "the latch doesn't close")},
        measured={
            "Bow 1": ("worn", Looked(Seen.FINE, (0.016, 0.0152), ("16 mm", "15.2 mm"))),
            "Hook 1": ("throat", Looked(Seen.FINE, (0.022, 0.0224), ("22 mm", "22.4 mm"))),
        },
    ),
    Held(6, "Strap 1", "a nick near one eye, seen while it was washed"),
)

# What the class that is open today means to pull; the rest is as usual.
PLANNED_TODAY = {"wash-road": 3, "spur-track": 2, "ford-exit": 3, "dune-mouth": 4}
# What the storekeeper has not handed out yet.
NOT_YET_OUT = ("Strap 3", "Strap 4", "Damper 2")
