"""Drafts a migration from what the tables say and the last migration doesn't.

    python -m coursekit.store.migrations.draft "Say what changes"

It compares against a new SQLite database, writes the draft into `versions/` and
prints its path.  Read it before you keep it: a new column needs a value in the
rows that are there, and both directions are tested.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.script import Script, ScriptDirectory

from coursekit.store.engine import migrate, migration_settings, open_engine


def draft(message: str) -> Path:
    """Write a draft and return its path."""
    with tempfile.TemporaryDirectory() as folder:
        engine = open_engine(f"sqlite:///{Path(folder) / 'draft.sqlite3'}")
        migrate(engine)
        with engine.connect() as connection:
            settings = migration_settings(connection)
            script = command.revision(
                settings, message=message, autogenerate=True, rev_id=_next(settings)
            )
        engine.dispose()
    if not isinstance(script, Script):
        raise TypeError("one message makes one draft")
    return Path(script.path)


def _next(settings: Config) -> str:
    """Return the number after the last migration's."""
    head = ScriptDirectory.from_config(settings).get_current_head() or "r0000"
    return f"r{int(head.removeprefix('r')) + 1:04}"


if __name__ == "__main__":
    print(draft(" ".join(sys.argv[1:])))  # noqa: T201  its one output, for the developer
