"""What a database is asked for while something is done."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine, event


@contextmanager
def counted() -> Iterator[list[str]]:
    """Give the statements that any engine runs."""
    statements: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_rest: object) -> None:
        if statement.lstrip().startswith("SELECT"):
            statements.append(statement)

    event.listen(Engine, "before_cursor_execute", note)
    try:
        yield statements
    finally:
        event.remove(Engine, "before_cursor_execute", note)
