"""When a kind of kit is to retire: by use, by age, and how often it is examined.

No published source gives a retirement count for vehicle snatches.  The defaults
here are common practice, no source; every school sets its own, and inspection
always overrides a count.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from coursekit.mechanics.nomenclature import Newton, Ratio
from coursekit.wear.fatigue import load_weight
from coursekit.wear.ledger import Pull, Size

COMMON_PRACTICE = "common practice, no source"
OWN_RULE = "the school's own rule"
HEAVY_FROM = 0.25


@dataclass(frozen=True)
class Published:
    """The longest time between thorough examinations, as a publication has it, in months."""

    months: int
    text: str
    source: str
    is_severe: bool = False


_LOLER = Published(6, "Accessories for lifting: every 6 months", "LOLER 1998 reg. 9(3)(a)")
# Vehicle recovery has no interval of its own; the nearest are those for lifting.
INTERVALS = (
    _LOLER,
    Published(12, "Shackles in normal service: every year", "ASME B30.26-2010, 26-1.8.3(b)"),
    Published(
        3,
        "Shackles in severe service: monthly to quarterly",
        "ASME B30.26-2010, 26-1.8.3(b)",
        is_severe=True,
    ),
    Published(12, "Web slings in normal service: every year", "WAC 296-155-55820, table 25"),
    Published(
        3,
        "Web slings in severe service: every quarter",
        "WAC 296-155-55820, table 25",
        is_severe=True,
    ),
)
ACCESSORY_EXAMINATION = _LOLER.months


def exceeded(months: int | None) -> tuple[Published, ...]:
    """Return the published intervals for normal service that a school's own goes beyond.

    No interval at all goes beyond every one.

    >>> [each.source for each in exceeded(9)]
    ['LOLER 1998 reg. 9(3)(a)']
    """
    normal = (each for each in INTERVALS if not each.is_severe)
    return tuple(each for each in normal if months is None or months > each.months)


@dataclass(frozen=True)
class InspectionOnly:
    """No use count: inspection and age alone decide."""

    heavy_from: Ratio = HEAVY_FROM

    @property
    def limit(self) -> None:
        """No count ends its life."""
        return None

    @property
    def yardsticks(self) -> tuple[tuple[str, float], ...]:
        """No pull is scarce."""
        return ()

    def weight(self, _pull: Pull) -> float:
        """Return nothing: a pull is told, and adds no count."""
        return 0.0


@dataclass(frozen=True)
class ClassesPolicy:
    """A use count: a light pull counts one, a heavy one more, an overload all of it.

    An unknown load counts as heavy; it also quarantines the item.

    >>> ClassesPolicy(limit=30.0).yardsticks
    (('light', 1.0), ('heavy', 3.0))
    """

    limit: float
    heavy_from: Ratio = HEAVY_FROM
    light: float = 1.0
    heavy: float = 3.0

    @property
    def yardsticks(self) -> tuple[tuple[str, float], ...]:
        """The kinds of pull that what is left is told in, and what each would add."""
        return ((Size.LIGHT.value, self.light), (Size.HEAVY.value, self.heavy))

    def weight(self, pull: Pull) -> float:
        """Return what a pull adds to the use count."""
        size = size_of(pull, self.heavy_from)
        if size is Size.OVERLOAD:
            return self.limit
        return self.light if size is Size.LIGHT else self.heavy


@dataclass(frozen=True)
class PowerPolicy:
    """Cumulative damage: each pull weighs its load to a power.

    `life` is the number of pulls at `reference_load` that would end the item's
    life; it retires when the damage reaches 1 / `safety`.

    >>> PowerPolicy(reference_load=39_000.0, exponent=5.0, life=20_711.0, safety=60.0).limit
    345.1833333333333
    """

    reference_load: Newton
    exponent: Ratio
    life: float
    safety: float
    heavy_from: Ratio = HEAVY_FROM

    @property
    def limit(self) -> float:
        """The weighted count at which the item retires."""
        return self.life / self.safety

    @property
    def yardsticks(self) -> tuple[tuple[str, float], ...]:
        """What is left is told in pulls at the reference load, each of weight one."""
        return (("reference", 1.0),)

    def weight(self, pull: Pull) -> float:
        """Return the weight of a pull; without a load, of the worst it may have been."""
        load = pull.load if pull.load is not None else self._worst(pull)
        if load is None:
            return self.limit
        return load_weight(load, self.reference_load, self.exponent)

    def _worst(self, pull: Pull) -> Newton | None:
        if pull.limit is None:
            return None
        is_light = size_of(pull, self.heavy_from) is Size.LIGHT
        return pull.limit * self.heavy_from if is_light else pull.limit


Counting: TypeAlias = InspectionOnly | ClassesPolicy | PowerPolicy


@dataclass(frozen=True)
class Policy:
    """The school's whole rule for a type of kit; None is a rule that it doesn't have.

    Ages are in whole years, the interval between examinations in months, the
    rest between two pulls in minutes.
    """

    counting: Counting
    years_from_made: int | None = None
    years_from_first_use: int | None = None
    months_between_inspections: int | None = ACCESSORY_EXAMINATION
    look_over_each_day: bool = False
    rest_minutes: int = 0
    source: str = COMMON_PRACTICE


_KINETIC = Policy(
    ClassesPolicy(limit=30.0), years_from_made=5, years_from_first_use=2, rest_minutes=10
)
_SOFT_SHACKLE = Policy(ClassesPolicy(limit=60.0), years_from_made=3)
_WINCH_LINE = Policy(InspectionOnly(), years_from_made=5, look_over_each_day=True)
_BY_KIND = {
    "kinetic-rope": _KINETIC,
    "kinetic-strap": _KINETIC,
    "soft-shackle": _SOFT_SHACKLE,
    "winch-line": _WINCH_LINE,
    "extension-line": _WINCH_LINE,
}
_EXAMINED = Policy(InspectionOnly())


def default_policy(kind: str) -> Policy:
    """Return the default rule for a kind; slings and steel are examined, not counted.

    >>> default_policy("kinetic-rope").counting
    ClassesPolicy(limit=30.0, heavy_from=0.25, light=1.0, heavy=3.0)
    """
    return _BY_KIND.get(kind, _EXAMINED)


def size_of(pull: Pull, heavy_from: Ratio = HEAVY_FROM) -> Size:
    """Return the class of a pull by its share of the limit.

    What bore no load, such as a damper, needs no limit to have been pulled lightly.

    >>> from coursekit.wear.ledger import Ending, Origin
    >>> size_of(Pull("winch", Ending.CAME_FREE, Origin.SOLVED, 5_900.0, 24_000.0))
    <Size.LIGHT: 'light'>
    """
    if pull.load == 0.0:
        return Size.LIGHT
    if pull.share is None:
        return pull.declared or Size.UNKNOWN
    if pull.share > 1.0:
        return Size.OVERLOAD
    return Size.HEAVY if pull.share >= heavy_from else Size.LIGHT
