"""Checks of what a form brings: all problems at once, each beside its field."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from decimal import Decimal
from zoneinfo import available_timezones

from coursekit.problems import Problem, Problems, Where

LONGEST_LINE = 120
# A device's clock may run ahead of the server's by this much.
CLOCK_SKEW = timedelta(minutes=2)
LONGEST_TEXT = 4_000
SHORTEST_PASSWORD = 12
LONGEST_PASSWORD = 1_000
_LOCALE = re.compile(r"[a-z]{2,3}(_[A-Z]{2})?")
_MONEY = re.compile(r"[0-9]{1,7}(\.[0-9]{1,2})?")
_KEY = re.compile(r"[A-Za-z0-9_-]{8,80}")
# A line break is a control character too, and belongs in a longer text.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")


class Checks:
    """Collects the problems of one form; `done` raises them all."""

    def __init__(self) -> None:
        self._problems: list[Problem] = []

    def add(self, field: str, what: str, mend: str) -> None:
        """Note a problem of a field."""
        self._problems.append(Problem(Where(field), what, mend))

    def line(self, field: str, text: str, *, needed: bool = True) -> str:
        """Return a line of text without its outer and repeated blanks."""
        return self._bounded(field, " ".join(text.split()), LONGEST_LINE, needed=needed)

    def text(self, field: str, text: str, *, needed: bool = True) -> str:
        """Return a longer text without its outer blanks."""
        return self._bounded(field, text.strip(), LONGEST_TEXT, needed=needed)

    def password(self, field: str, password: str, *, unlike: str = "") -> str:
        """Return a password as it was typed, blanks included."""
        if not SHORTEST_PASSWORD <= len(password) <= LONGEST_PASSWORD:
            self.add(
                field,
                f"It has {len(password)} characters",
                f"Take at least {SHORTEST_PASSWORD}; a few words in a row are easy to keep",
            )
        elif len(set(password)) < SHORTEST_PASSWORD // 2 or _contains(password, unlike):
            self.add(field, "It is easy to guess", "Take a few words that don't belong together")
        return password

    def timezone(self, field: str, name: str) -> str:
        """Return the name of a time zone."""
        if name not in available_timezones():
            self.add(field, f"{name[:40]!r} is no time zone", "Write for example Europe/Berlin")
        return name

    def locale(self, field: str, name: str) -> str:
        """Return the name of a locale."""
        if not _LOCALE.fullmatch(name):
            self.add(field, f"{name[:40]!r} is no locale", "Write for example en or en_GB")
        return name

    def money(self, field: str, text: str) -> int | None:
        """Return a sum in hundredths, None where none is typed."""
        typed = text.strip().replace(",", ".")
        if not typed:
            return None
        if not _MONEY.fullmatch(typed):
            self.add(field, f"{text.strip()[:40]!r} is no sum", "Write for example 129.50")
            return None
        return round(Decimal(typed) * 100)

    def choice(self, field: str, value: str, known: tuple[str, ...]) -> str:
        """Return a word that must be one of those known."""
        if value not in known:
            self.add(field, f"{value[:40]!r} is not known", f"Give one of: {', '.join(known)}")
        return value

    def key(self, field: str, key: str) -> str:
        """Return the key that a device made for what it sends."""
        if not _KEY.fullmatch(key):
            self.add(field, "The form's key is missing", "Open the form again")
        return key

    def past(self, field: str, day: date | None, today: date) -> date | None:
        """Return a date that can't lie in the future."""
        if day is not None and day > today:
            self.add(field, "It lies in the future", "Look at the label again")
        return day

    def happened(self, field: str, at: datetime | None, now: datetime) -> None:
        """Note a moment that lies in the future; None is now."""
        if at is not None and at > now + CLOCK_SKEW:
            self.add(field, "It lies in the future", "Look at the time again")

    def done(self) -> None:
        """Raise all problems that were found."""
        if self._problems:
            raise Problems(self._problems)

    def _bounded(self, field: str, text: str, longest: int, *, needed: bool) -> str:
        if needed and not text:
            self.add(field, "It is empty", "Fill it in")
        if len(text) > longest:
            self.add(field, f"It has {len(text)} characters", f"Keep it to {longest}")
        if _CONTROL.search(text):
            self.add(field, "It holds a character that can't be shown", "Type it by hand")
        return text


def _contains(password: str, name: str) -> bool:
    return bool(name) and name.casefold() in password.casefold()
