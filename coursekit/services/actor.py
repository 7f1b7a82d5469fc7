"""Who acts: a person of one school, with roles."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from coursekit.services.errors import RoleNeeded


class Role(StrEnum):
    """What somebody may do; a person may have several."""

    INSTRUCTOR = "instructor"
    STOREKEEPER = "storekeeper"
    HEAD = "head"
    STUDENT = "student"


# Who may judge what becomes of kit.
COMPETENT = (Role.STOREKEEPER, Role.INSTRUCTOR)


@dataclass(frozen=True)
class Actor:
    """Who a service acts for; only the school's own rows are in reach.

    >>> Actor(1, 1, frozenset({Role.STUDENT})).has(Role.INSTRUCTOR)
    False
    """

    person_id: int
    school_id: int
    roles: frozenset[Role]

    def has(self, *roles: Role) -> bool:
        """Whether the actor has any of the roles."""
        return not self.roles.isdisjoint(roles)

    def require(self, *roles: Role) -> None:
        """Refuse an actor who has none of the roles."""
        if not self.has(*roles):
            raise RoleNeeded(roles)
