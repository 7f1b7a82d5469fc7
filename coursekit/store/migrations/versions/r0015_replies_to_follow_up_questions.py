"""Replies to follow-up questions."""

import sqlalchemy as sa
from alembic import op

revision = "r0015"
down_revision = "r0014"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "follow_up_replies",
        sa.Column("attempt_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Text(), nullable=False),
        sa.Column("slips", sa.JSON(), nullable=False),
        sa.Column("numbers", sa.JSON(), nullable=False),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("slip", sa.Text(), nullable=True),
        sa.Column("step", sa.Text(), nullable=True),
        sa.Column("said", sa.JSON(), nullable=False),
        sa.Column("replied_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "outcome IN ('confirmed', 'another', 'right-now', 'neither')",
            name=op.f("ck_follow_up_replies_known_outcome"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "attempt_id"],
            ["attempts.school_id", "attempts.id"],
            name=op.f("fk_follow_up_replies_school_id_attempt_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_follow_up_replies_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_follow_up_replies")),
        sa.UniqueConstraint(
            "attempt_id", "task_id", name=op.f("uq_follow_up_replies_attempt_id_task_id")
        ),
    )


def downgrade() -> None:
    op.drop_table("follow_up_replies")
