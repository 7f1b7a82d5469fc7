"""Planned pulls of a class."""

import sqlalchemy as sa
from alembic import op

revision = "r0022"
down_revision = "r0019"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "pull_plans",
        sa.Column("class_session_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("pulls", sa.JSON(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("number > 0", name=op.f("ck_pull_plans_counted_from_one")),
        sa.ForeignKeyConstraint(
            ["school_id", "class_session_id"],
            ["class_sessions.school_id", "class_sessions.id"],
            name=op.f("fk_pull_plans_school_id_class_session_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "made_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_pull_plans_school_id_made_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_pull_plans_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pull_plans")),
        sa.UniqueConstraint(
            "class_session_id", "number", name=op.f("uq_pull_plans_class_session_id_number")
        ),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_pull_plans_school_id_id")),
    )


def downgrade() -> None:
    op.drop_table("pull_plans")
