"""The kit of the demo school: types and items, all invented, of no maker."""

from __future__ import annotations

from dataclasses import dataclass

from coursekit.services.register import NewType

TYPES = (
    NewType("Kinetic rope 22 mm", "kinetic-rope", "nylon", "22 mm", mbs="125 kN", length="9 m"),
    NewType("Kinetic strap 75 mm", "kinetic-strap", "nylon", "75 mm", mbs="80 kN", length="9 m"),
    NewType("Kinetic strap 50 mm", "kinetic-strap", "nylon", "50 mm", mbs="53 kN", length="9 m"),
    NewType("Winch line 10 mm", "winch-line", "synthetic", "10 mm", mbs="88 kN", length="38 m"),
    NewType(
        "Extension line 10 mm", "extension-line", "synthetic", "10 mm", mbs="88 kN", length="12 m"
    ),
    NewType("Round sling 2 t", "roundsling", "polyester", "", wll="2 t", length="3 m"),
    NewType("Tree strap 75 mm", "tree-strap", "polyester", "75 mm", wll="3 t", length="3 m"),
    NewType("Tow strap 60 mm", "tow-strap", "polyester", "60 mm", mbs="75 kN", length="5 m"),
    NewType("Bow shackle 16 mm", "bow-shackle", "steel", "16 mm", "3.25 t", "19.5 t"),
    NewType("Bow shackle 19 mm", "bow-shackle", "steel", "19 mm", "4.75 t", "28.5 t"),
    NewType("Soft shackle 11 mm", "soft-shackle", "HMPE", "11 mm", mbs="160 kN"),
    NewType("Pulley block", "pulley-block", "steel", "10 mm line", mbs="160 kN"),
    NewType("Pulley ring", "pulley-ring", "aluminium", "soft shackle", mbs="160 kN"),
    NewType("Latched hook 8 mm", "hook", "steel", "8 mm", wll="2 t"),
    NewType("Chain 8 mm, grade 8", "chain", "steel", "8 mm", wll="2 t", mbs="8 t", length="3 m"),
    NewType("Receiver mount 50 mm", "receiver-mount", "steel", "50 mm", wll="5 t"),
    NewType("Line damper", "line-damper", "canvas", "0.6 m"),
)


@dataclass(frozen=True)
class Stocked:
    """Items of one type that came in together, so many days ago; `age` is their days then.

    `age` None is for items whose date of make nobody knows.
    """

    type_name: str
    marks: tuple[str, ...]
    days_ago: int = 390
    age: int | None = 60
    batch: str = ""
    is_labelled: bool = True


YEAR = 365
# What each type cost when it was bought; nobody kept the bills of the others.
COSTS = {
    "Kinetic rope 22 mm": "189.50",
    "Kinetic strap 75 mm": "96.00",
    "Kinetic strap 50 mm": "72.00",
    "Winch line 10 mm": "142.00",
    "Extension line 10 mm": "74.00",
    "Round sling 2 t": "18.40",
    "Tree strap 75 mm": "31.00",
    "Tow strap 60 mm": "29.00",
    "Bow shackle 16 mm": "14.20",
    "Bow shackle 19 mm": "19.80",
    "Soft shackle 11 mm": "36.00",
    "Pulley block": "88.00",
    "Pulley ring": "54.00",
}
STOCK = (
    Stocked("Kinetic rope 22 mm", ("Rope 1", "Rope 2"), batch="KR-A"),
    Stocked("Kinetic rope 22 mm", ("Rope 3",), days_ago=240, batch="KR-B"),
    Stocked("Kinetic rope 22 mm", ("Rope 4",), days_ago=150, age=None),
    Stocked("Kinetic strap 75 mm", ("Strap 1", "Strap 2"), batch="KS-A"),
    Stocked("Kinetic strap 50 mm", ("Strap 3", "Strap 4"), days_ago=98, batch="KS-B"),
    Stocked("Winch line 10 mm", ("Line 1", "Line 2"), batch="WL-A"),
    Stocked("Winch line 10 mm", ("Line 3",), age=4 * YEAR - 45),
    Stocked("Extension line 10 mm", ("Extension 1", "Extension 2")),
    Stocked("Round sling 2 t", ("Sling 1", "Sling 2", "Sling 3", "Sling 4"), batch="RS-A"),
    Stocked("Round sling 2 t", ("Sling 5",), is_labelled=False),
    Stocked("Tree strap 75 mm", ("Tree strap 1", "Tree strap 2")),
    Stocked("Tow strap 60 mm", ("Tow strap 1", "Tow strap 2")),
    Stocked("Bow shackle 16 mm", ("Bow 1", "Bow 2", "Bow 3"), age=900),
    Stocked("Bow shackle 19 mm", ("Bow 4", "Bow 5"), age=900),
    Stocked("Bow shackle 16 mm", ("Bow 6",), age=None),
    Stocked("Soft shackle 11 mm", ("Soft 1", "Soft 2", "Soft 3"), batch="SS-B"),
    Stocked("Soft shackle 11 mm", ("Soft 4", "Soft 5"), age=2 * YEAR, batch="SS-A"),
    Stocked("Pulley block", ("Block 1", "Block 2", "Block 3"), age=1_100),
    Stocked("Pulley ring", ("Ring 1",)),
    Stocked("Latched hook 8 mm", ("Hook 1", "Hook 2"), age=700),
    Stocked("Chain 8 mm, grade 8", ("Chain 1",), age=700),
    Stocked("Receiver mount 50 mm", ("Mount 1",), age=500),
    Stocked("Line damper", ("Damper 1", "Damper 2", "Damper 3"), age=200),
)
