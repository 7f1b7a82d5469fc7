"""How each marking came about, who made it and why, and whether it counts."""

import sqlalchemy as sa
from alembic import op

revision = "r0009"
down_revision = "r0008"
branch_labels = None
depends_on = None

KINDS = "kind IN ('first', 'changed', 'excused', 'second', 'agreed', 'again')"
COLUMNS = ("scenario_version_id", "reason", "code", "marked_by", "counts", "kind")


def upgrade() -> None:
    with op.batch_alter_table("attempt_results") as batch:
        # What is there was marked once, by the solver, and counts.
        batch.add_column(sa.Column("kind", sa.Text(), nullable=False, server_default="first"))
        batch.add_column(
            sa.Column("counts", sa.Boolean(), nullable=False, server_default=sa.true())
        )
        batch.add_column(sa.Column("marked_by", sa.Integer(), nullable=True))
        batch.add_column(sa.Column("code", sa.Text(), nullable=True))
        batch.add_column(sa.Column("reason", sa.Text(), nullable=True))
        batch.add_column(sa.Column("scenario_version_id", sa.Integer(), nullable=True))
        batch.create_foreign_key(
            op.f("fk_attempt_results_school_id_marked_by"),
            "people",
            ["school_id", "marked_by"],
            ["school_id", "id"],
        )
        batch.create_foreign_key(
            op.f("fk_attempt_results_school_id_scenario_version_id"),
            "scenario_versions",
            ["school_id", "scenario_version_id"],
            ["school_id", "id"],
        )
        batch.create_check_constraint(op.f("ck_attempt_results_known_kind"), KINDS)
        batch.create_check_constraint(
            op.f("ck_attempt_results_blind_marks_never_count"), "counts = (kind <> 'second')"
        )
    with op.batch_alter_table("attempt_results") as batch:
        batch.alter_column("kind", server_default=None, existing_type=sa.Text())
        batch.alter_column("counts", server_default=None, existing_type=sa.Boolean())


def downgrade() -> None:
    with op.batch_alter_table("attempt_results") as batch:
        batch.drop_constraint(op.f("ck_attempt_results_blind_marks_never_count"), type_="check")
        batch.drop_constraint(op.f("ck_attempt_results_known_kind"), type_="check")
        batch.drop_constraint(
            op.f("fk_attempt_results_school_id_scenario_version_id"), type_="foreignkey"
        )
        batch.drop_constraint(op.f("fk_attempt_results_school_id_marked_by"), type_="foreignkey")
        for column in COLUMNS:
            batch.drop_column(column)
