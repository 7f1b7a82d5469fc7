"""What the pages of the account area show."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class FirstPage:
    """The first page: `school` is named where there is only one."""

    school: str | None


@dataclass(frozen=True)
class SignInPage:
    """A page that lets somebody in: why it is shown, and what it keeps meanwhile."""

    ended: bool
    kept: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class JoinPage:
    """The join page: the class is named once the code is right."""

    brief: str | None


@dataclass(frozen=True)
class MePage:
    """One's own page."""

    name: str
    school: str
    roles: tuple[str, ...]
    may_change_password: bool
