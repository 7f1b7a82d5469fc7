"""Slowing guesses down without ever locking the owner out.

Each try is counted before it is checked, so that guesses made at the same time
don't slip by together, and forgotten when it was right.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import delete
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from coursekit.services.errors import TooManyTries
from coursekit.store.tables import FailedTries
from coursekit.store.unit import Unit


@dataclass(frozen=True)
class Patience:
    """How many failures are free, and how the wait grows: it doubles up to a bound."""

    free: int
    first_wait: timedelta
    longest_wait: timedelta
    forgotten_after: timedelta

    def wait(self, failures: int) -> timedelta:
        """Return the wait after so many failures in a row."""
        over = failures - self.free
        if over <= 0:
            return timedelta(0)
        # A bound on the exponent, so that a year of guessing overflows nothing.
        growth = 1 << min(over - 1, 30)
        return min(self.longest_wait, self.first_wait * growth)


# A minute at most: somebody who guesses all day makes 1,440 tries, and the owner
# waits no longer than that minute.
ACCOUNT = Patience(5, timedelta(seconds=1), timedelta(minutes=1), timedelta(hours=1))
# A whole class sits behind one address, and everybody mistypes once.
ADDRESS = Patience(40, timedelta(seconds=5), timedelta(minutes=2), timedelta(minutes=10))


def take(unit: Unit, key: str, patience: Patience, now: datetime) -> None:
    """Count a try under a key, or refuse it while its wait lasts."""
    with unit.write() as session:
        tries = _row(session, key, patience, now)
        if tries.wait_until > now:
            raise TooManyTries(tries.wait_until - now)
        tries.failures += 1
        tries.last_at = now
        tries.wait_until = now + patience.wait(tries.failures)


def forget(session: Session, key: str) -> None:
    """Forget the failures under a key: the last try was right."""
    tries = session.get(FailedTries, key, with_for_update=True)
    if tries is not None:
        session.delete(tries)


def _row(session: Session, key: str, patience: Patience, now: datetime) -> FailedTries:
    tries = session.get(FailedTries, key, with_for_update=True) or _new_row(session, key, now)
    if now - tries.last_at > patience.forgotten_after:
        tries.failures = 0
    return tries


def _new_row(session: Session, key: str, now: datetime) -> FailedTries:
    # Guessed names would fill the table for ever.
    session.execute(delete(FailedTries).where(FailedTries.last_at < now - timedelta(days=1)))
    tries = FailedTries(key=key, failures=0, last_at=now, wait_until=now)
    try:
        with session.begin_nested():
            session.add(tries)
    except IntegrityError:
        # Another worker has just made it.
        return session.get_one(FailedTries, key, with_for_update=True)
    return tries
