"""What a class of the actor's school is."""

from __future__ import annotations

from sqlalchemy.orm import Session

from coursekit.services.errors import NotFound
from coursekit.store import queries
from coursekit.store.queries.classes import ClassHead


def head_of(session: Session, school_id: int, class_id: int) -> ClassHead:
    """Return what a class of the school is: 1 query.

    Raises
    ------
    NotFound
        If the school has no such class.
    """
    head = queries.classes.head(session, school_id, class_id)
    if head is None:
        raise NotFound("class")
    return head
