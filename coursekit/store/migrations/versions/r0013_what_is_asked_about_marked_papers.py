"""What is asked about marked papers, and what was answered."""

import sqlalchemy as sa
from alembic import op

revision = "r0013"
down_revision = "r0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "review_requests",
        sa.Column("attempt_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("stop", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("seen_number", sa.Integer(), nullable=False),
        sa.Column("asked_by", sa.Integer(), nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('appeal', 'excuse')", name=op.f("ck_review_requests_known_kind")
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "asked_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_review_requests_school_id_asked_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "attempt_id"],
            ["attempts.school_id", "attempts.id"],
            name=op.f("fk_review_requests_school_id_attempt_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_review_requests_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_review_requests")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_review_requests_school_id_id")),
    )
    op.create_table(
        "review_answers",
        sa.Column("review_request_id", sa.Integer(), nullable=False),
        sa.Column("granted", sa.Boolean(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("answered_by", sa.Integer(), nullable=False),
        sa.Column("answered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "answered_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_review_answers_school_id_answered_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "review_request_id"],
            ["review_requests.school_id", "review_requests.id"],
            name=op.f("fk_review_answers_school_id_review_request_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_review_answers_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_review_answers")),
        sa.UniqueConstraint("review_request_id", name=op.f("uq_review_answers_review_request_id")),
    )


def downgrade() -> None:
    op.drop_table("review_answers")
    op.drop_table("review_requests")
