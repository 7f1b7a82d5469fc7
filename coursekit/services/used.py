"""Gear that was in use before it was registered: how it is typed, and kept with its receipt.

What was done with it elsewhere is told in pulls, `10 light, 4 heavy`, or as the use count
that was kept there, `22`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date
from math import isfinite
from typing import Any

from coursekit.mechanics.nomenclature import Newton
from coursekit.services.checks import Checks
from coursekit.services.kit_rules import number_text
from coursekit.wear.counting import Counts
from coursekit.wear.ledger import UsedBefore
from coursekit.wear.policy import ClassesPolicy, Counting, PowerPolicy

MOST_PULLS = 100_000
MOST_USE = 1e9
_PULLS = re.compile(r"(?:(\d{1,9})\s*light)?[\s,;]*(?:(\d{1,9})\s*heavy)?", re.IGNORECASE)


@dataclass(frozen=True)
class Used:
    """What is typed of an item's use before: since when, and how much."""

    first_used: date | None = None
    used_before: str = ""

    @staticmethod
    def of(before: UsedBefore | None) -> Used:
        """Return what is known of an item's use before as it would be typed.

        >>> Used.of(UsedBefore(date(2024, 5, 1), light=10, heavy=4)).used_before
        '10 light 4 heavy'
        """
        if before is None:
            return Used()
        pulls = f"{before.light} light {before.heavy} heavy"
        known = pulls if before.light or before.heavy else ""
        return Used(before.first_used, known or (number_text(before.count) if before.count else ""))

    def read(self) -> UsedBefore | None:
        """Return it as it counts, None where it was never used or can't be read.

        >>> Used(date(2024, 5, 1), "10 light, 4 heavy").read().heavy
        4
        """
        text = " ".join(self.used_before.split())
        pulls = _PULLS.fullmatch(text)
        if pulls is not None:
            light, heavy = (int(number or 0) for number in pulls.groups())
            used = UsedBefore(self.first_used, light, heavy)
            return used if self.first_used or light or heavy else None
        try:
            count = float(text)
        except ValueError:
            return None
        return UsedBefore(self.first_used, count=count)

    def check(self, checks: Checks, made: date | None, today: date) -> None:
        """Note what can't be about it."""
        used = self.read()
        checks.past("first_used", self.first_used, today)
        if self.first_used and made and self.first_used < made:
            checks.add("first_used", "It lies before the date of make", "Look at both again")
        if used is None and self.used_before.strip():
            mend = "Write for example 10 light 4 heavy, or the use count alone"
            checks.add("used_before", f"{self.used_before.strip()[:40]!r} can't be read", mend)
        elif used is not None:
            _check_amount(checks, used)
            if self.first_used is None and (used.light or used.heavy or used.count):
                mend = "Give the day, the earliest that may be: the date of make if nobody knows"
                checks.add("first_used", "It was used, and nobody says since when", mend)

    def detail(self, limit: Newton | None) -> Mapping[str, Any]:
        """Return what an entry keeps of it."""
        used = self.read() or UsedBefore(None)
        told = asdict(replace(used, limit=limit))
        told["limit_n"] = told.pop("limit")
        told["first_used"] = used.first_used.isoformat() if used.first_used else None
        return {"used_before": told}


def used_text(counts: Counts, counting: Counting) -> str:
    """Return the use of an item so that another register counts the same by the same rule.

    >>> used_text(Counts(light=2, heavy=1, use=5.0), ClassesPolicy(limit=30.0))
    '2 light 1 heavy'
    >>> used_text(Counts(light=2, heavy=1, use=9.0), ClassesPolicy(limit=30.0))
    '9'
    """
    if not counts.pulls and not counts.use:
        return ""
    if not isinstance(counting, PowerPolicy) and _by_classes(counts, counting) == counts.use:
        return f"{counts.light} light {counts.heavy + counts.unknown} heavy"
    return number_text(counts.use)


def _by_classes(counts: Counts, counting: Counting) -> float:
    """Return what light, heavy and unknown pulls alone would make of the count."""
    if not isinstance(counting, ClassesPolicy):
        return 0.0
    return counts.light * counting.light + (counts.heavy + counts.unknown) * counting.heavy


def _check_amount(checks: Checks, used: UsedBefore) -> None:
    is_count = isfinite(used.count) and 0.0 <= used.count <= MOST_USE
    if not is_count or max(used.light, used.heavy) > MOST_PULLS:
        checks.add("used_before", "So much can't be", "Look at the book of its pulls again")
