"""Attempts, answers and marks."""

import sqlalchemy as sa
from alembic import op

revision = "r0002"
down_revision = "r0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "attempts",
        sa.Column("enrolment_id", sa.Integer(), nullable=False),
        sa.Column("class_scenario_id", sa.Integer(), nullable=False),
        sa.Column("seed", sa.Integer(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("solver_version", sa.Text(), nullable=False),
        sa.Column("variation", sa.JSON(), nullable=False),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("submitted_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(status = 'submitted') = (submitted_at IS NOT NULL)",
            name=op.f("ck_attempts_sent_when"),
        ),
        sa.CheckConstraint(
            "status IN ('started', 'submitted')", name=op.f("ck_attempts_known_status")
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "class_scenario_id"],
            ["class_scenarios.school_id", "class_scenarios.id"],
            name=op.f("fk_attempts_school_id_class_scenario_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "enrolment_id"],
            ["enrolments.school_id", "enrolments.id"],
            name=op.f("fk_attempts_school_id_enrolment_id"),
        ),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_attempts_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attempts")),
        sa.UniqueConstraint(
            "enrolment_id",
            "class_scenario_id",
            name=op.f("uq_attempts_enrolment_id_class_scenario_id"),
        ),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_attempts_school_id_id")),
    )
    op.create_table(
        "answers",
        sa.Column("attempt_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Text(), nullable=False),
        sa.Column("typed", sa.JSON(), nullable=False),
        sa.Column("client_key", sa.Text(), nullable=False),
        sa.Column("received_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "attempt_id"],
            ["attempts.school_id", "attempts.id"],
            name=op.f("fk_answers_school_id_attempt_id"),
        ),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_answers_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_answers")),
        sa.UniqueConstraint(
            "attempt_id", "client_key", name=op.f("uq_answers_attempt_id_client_key")
        ),
    )
    op.create_table(
        "attempt_results",
        sa.Column("attempt_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("marks", sa.Double(), nullable=False),
        sa.Column("out_of", sa.Double(), nullable=False),
        sa.Column("safe", sa.Boolean(), nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("stops", sa.JSON(), nullable=False),
        sa.Column("findings", sa.JSON(), nullable=False),
        sa.Column("solver_version", sa.Text(), nullable=False),
        sa.Column("marked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "outcome IN ('competent', 'not-yet', 'unsafe')",
            name=op.f("ck_attempt_results_known_outcome"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "attempt_id"],
            ["attempts.school_id", "attempts.id"],
            name=op.f("fk_attempt_results_school_id_attempt_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_attempt_results_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attempt_results")),
        sa.UniqueConstraint(
            "attempt_id", "number", name=op.f("uq_attempt_results_attempt_id_number")
        ),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_attempt_results_school_id_id")),
    )
    op.create_table(
        "task_marks",
        sa.Column("attempt_result_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("marks", sa.Double(), nullable=False),
        sa.Column("out_of", sa.Double(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("slips", sa.JSON(), nullable=False),
        sa.Column("given", sa.JSON(), nullable=False),
        sa.Column("truth", sa.JSON(), nullable=False),
        sa.Column("expected", sa.JSON(), nullable=False),
        sa.Column("feedback", sa.JSON(), nullable=False),
        sa.Column("flagged", sa.Boolean(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "attempt_result_id"],
            ["attempt_results.school_id", "attempt_results.id"],
            name=op.f("fk_task_marks_school_id_attempt_result_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_task_marks_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_task_marks")),
        sa.UniqueConstraint(
            "attempt_result_id", "task_id", name=op.f("uq_task_marks_attempt_result_id_task_id")
        ),
    )


def downgrade() -> None:
    op.drop_table("task_marks")
    op.drop_table("attempt_results")
    op.drop_table("answers")
    op.drop_table("attempts")
