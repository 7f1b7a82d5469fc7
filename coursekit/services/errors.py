"""Why a service would not do what was asked; each text says how to mend it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from coursekit.problems import CoursekitError


class Refused(CoursekitError):
    """A rule forbids it.

    >>> str(Refused("The class is closed", "Ask your instructor"))
    'The class is closed. Ask your instructor.'
    """

    def __init__(self, what: str, mend: str) -> None:
        self.what = what
        self.mend = mend
        super().__init__(what, mend)

    def __str__(self) -> str:
        return f"{self.what}. {self.mend}."


class NotFound(CoursekitError):
    """It is not there, or it is another school's: the two are never told apart."""

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(what)

    def __str__(self) -> str:
        return f"There is no such {self.what}. Go back and choose it from its list."


class RoleNeeded(CoursekitError):
    """It takes a role that the actor doesn't have."""

    def __init__(self, roles: Iterable[str]) -> None:
        self.roles = tuple(sorted(roles))
        super().__init__(self.roles)

    def __str__(self) -> str:
        return f"This takes the role {' or '.join(self.roles)}. Ask somebody who has it."


class Conflict(CoursekitError):
    """What the form was made from has changed since, or a key came with other content."""

    def __init__(self, what: str, mend: str = "Look at it again, then decide") -> None:
        self.what = what
        self.mend = mend
        super().__init__(what, mend)

    def __str__(self) -> str:
        return f"{self.what}. {self.mend}."


class SignInFailed(Refused):
    """Wrong name or password; it never says which."""

    def __init__(
        self,
        what: str = "Name and password don't go together",
        mend: str = "Check both and try again",
    ) -> None:
        super().__init__(what, mend)


class ReturnFailed(SignInFailed):
    """Wrong name or return code; it never says which."""

    def __init__(self) -> None:
        super().__init__(
            "Name and return code don't go together",
            "Read both from your class card and try again",
        )


class TooManyTries(Refused):
    """Too many failures in a row; `wait` is how long until the next try."""

    def __init__(self, wait: timedelta) -> None:
        self.wait = wait
        seconds = max(1, round(wait.total_seconds()))
        super().__init__("There were too many tries", f"Try again in {seconds} seconds")
