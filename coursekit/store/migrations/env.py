"""How Alembic runs our migrations: on the connection that `engine.migrate` gives."""

from typing import Any, Literal

from alembic import context

from coursekit.store.columns import UtcDateTime
from coursekit.store.tables import Base
from coursekit.store.triggers import restore_triggers


def _render(kind: str, item: Any, _context: Any) -> str | Literal[False]:
    """Write an instant as the database's own type: a migration must outlive our classes."""
    if kind == "type" and isinstance(item, UtcDateTime):
        return "sa.DateTime(timezone=True)"
    return False


connection = context.config.attributes["connection"]
context.configure(
    connection=connection,
    target_metadata=Base.metadata,
    render_as_batch=True,
    render_item=_render,
)
context.run_migrations()
restore_triggers(connection)
