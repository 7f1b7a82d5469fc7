"""Runs that mark the papers of a corrected scenario again."""

import sqlalchemy as sa
from alembic import op

revision = "r0014"
down_revision = "r0013"
branch_labels = None
depends_on = None


def _of_school(table: str, column: str, pointed: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["school_id", column],
        [f"{pointed}.school_id", f"{pointed}.id"],
        name=op.f(f"fk_{table}_school_id_{column}"),
    )


def upgrade() -> None:
    op.create_table(
        "marking_runs",
        sa.Column("class_session_id", sa.Integer(), nullable=True),
        sa.Column("scenario_version_id", sa.Integer(), nullable=False),
        sa.Column("may_fall", sa.Boolean(), nullable=False),
        sa.Column("papers", sa.Integer(), nullable=False),
        sa.Column("started_by", sa.Integer(), nullable=False),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("confirmed_by", sa.Integer(), nullable=True),
        sa.Column("confirmed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("code", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(confirmed_at IS NULL) = (confirmed_by IS NULL)",
            name=op.f("ck_marking_runs_confirmed_by_somebody"),
        ),
        _of_school("marking_runs", "class_session_id", "class_sessions"),
        _of_school("marking_runs", "scenario_version_id", "scenario_versions"),
        _of_school("marking_runs", "started_by", "people"),
        _of_school("marking_runs", "confirmed_by", "people"),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_marking_runs_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_marking_runs")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_marking_runs_school_id_id")),
    )
    op.create_table(
        "marking_run_papers",
        sa.Column("marking_run_id", sa.Integer(), nullable=False),
        sa.Column("attempt_id", sa.Integer(), nullable=False),
        sa.Column("attempt_result_id", sa.Integer(), nullable=False),
        sa.Column("refusal", sa.JSON(), nullable=False),
        sa.Column("sheet", sa.JSON(), nullable=False),
        sa.Column("moves", sa.JSON(), nullable=False),
        sa.Column("outcome_before", sa.Text(), nullable=False),
        sa.Column("outcome_after", sa.Text(), nullable=False),
        sa.Column("marks_before", sa.Double(), nullable=False),
        sa.Column("marks_after", sa.Double(), nullable=False),
        sa.Column("is_moved", sa.Boolean(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        _of_school("marking_run_papers", "marking_run_id", "marking_runs"),
        _of_school("marking_run_papers", "attempt_id", "attempts"),
        _of_school("marking_run_papers", "attempt_result_id", "attempt_results"),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_marking_run_papers_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_marking_run_papers")),
        sa.UniqueConstraint(
            "marking_run_id",
            "attempt_id",
            name=op.f("uq_marking_run_papers_marking_run_id_attempt_id"),
        ),
    )


def downgrade() -> None:
    op.drop_table("marking_run_papers")
    op.drop_table("marking_runs")
