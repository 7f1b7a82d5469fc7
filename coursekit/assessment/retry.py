"""When a paper may be tried again."""

from __future__ import annotations

from datetime import datetime, timedelta

AGAIN = frozenset({"not-yet", "unsafe"})


def again_from(outcome: str, handed_in_at: datetime, wait_hours: int) -> datetime | None:
    """Return the moment from which another try may begin; None for a paper that is passed.

    The wait runs from handing in.  Source: a military performance test waits at least
    24 hours before a retest (second-hand); how long is the school's own choice.

    >>> again_from("not-yet", datetime(2026, 3, 28, 12, 0), 24)
    datetime.datetime(2026, 3, 29, 12, 0)
    >>> again_from("competent", datetime(2026, 3, 28, 12, 0), 24) is None
    True
    """
    if outcome not in AGAIN:
        return None
    return handed_in_at + timedelta(hours=wait_hours)
