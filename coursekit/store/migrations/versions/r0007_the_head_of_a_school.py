"""The head of a school, and people whose time at it has ended."""

import sqlalchemy as sa
from alembic import op

revision = "r0007"
down_revision = "r0006"
branch_labels = None
depends_on = None

CHECK = "ck_person_roles_known_role"
BEFORE = "role IN ('instructor', 'storekeeper', 'student')"
AFTER = "role IN ('instructor', 'storekeeper', 'head', 'student')"
# Whoever set a school up is its head, so that no school is without one.
FIRST_IS_HEAD = (
    "INSERT INTO person_roles (school_id, person_id, role) "
    "SELECT school_id, min(person_id), 'head' FROM person_roles "
    "WHERE role = 'instructor' GROUP BY school_id"
)


def upgrade() -> None:
    op.add_column("people", sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True))
    _allow(AFTER)
    op.execute(FIRST_IS_HEAD)


def downgrade() -> None:
    op.execute("DELETE FROM person_roles WHERE role = 'head'")
    _allow(BEFORE)
    op.drop_column("people", "ended_at")


def _allow(roles: str) -> None:
    """Put another check in the place of the one that is there."""
    with op.batch_alter_table("person_roles") as batch:
        batch.drop_constraint(op.f(CHECK), type_="check")
        batch.create_check_constraint(op.f(CHECK), roles)
