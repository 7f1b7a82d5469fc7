"""Sheets of a panel of judges, and the pass marks that a school took from them."""

import sqlalchemy as sa
from alembic import op

revision = "r0016"
down_revision = "r0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "standard_sheets",
        sa.Column("scenario_version_id", sa.Integer(), nullable=False),
        sa.Column("round", sa.Integer(), nullable=False),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("opened_by", sa.Integer(), nullable=False),
        sa.Column("closed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("round IN (1, 2)", name=op.f("ck_standard_sheets_known_round")),
        sa.ForeignKeyConstraint(
            ["school_id", "opened_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_standard_sheets_school_id_opened_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "scenario_version_id"],
            ["scenario_versions.school_id", "scenario_versions.id"],
            name=op.f("fk_standard_sheets_school_id_scenario_version_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_standard_sheets_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_standard_sheets")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_standard_sheets_school_id_id")),
    )
    op.create_table(
        "pass_marks",
        sa.Column("scenario_version_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("share", sa.Double(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("sheet_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("method IN ('panel')", name=op.f("ck_pass_marks_known_method")),
        sa.CheckConstraint("share > 0 AND share <= 1", name=op.f("ck_pass_marks_a_share")),
        sa.ForeignKeyConstraint(
            ["school_id", "made_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_pass_marks_school_id_made_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "scenario_version_id"],
            ["scenario_versions.school_id", "scenario_versions.id"],
            name=op.f("fk_pass_marks_school_id_scenario_version_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "sheet_id"],
            ["standard_sheets.school_id", "standard_sheets.id"],
            name=op.f("fk_pass_marks_school_id_sheet_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_pass_marks_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pass_marks")),
        sa.UniqueConstraint(
            "scenario_version_id", "number", name=op.f("uq_pass_marks_scenario_version_id_number")
        ),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_pass_marks_school_id_id")),
    )
    op.create_table(
        "standard_ratings",
        sa.Column("sheet_id", sa.Integer(), nullable=False),
        sa.Column("judge_id", sa.Integer(), nullable=False),
        sa.Column("round", sa.Integer(), nullable=False),
        sa.Column("chances", sa.JSON(), nullable=False),
        sa.Column("given_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("round IN (1, 2)", name=op.f("ck_standard_ratings_known_round")),
        sa.ForeignKeyConstraint(
            ["school_id", "judge_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_standard_ratings_school_id_judge_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "sheet_id"],
            ["standard_sheets.school_id", "standard_sheets.id"],
            name=op.f("fk_standard_ratings_school_id_sheet_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_standard_ratings_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_standard_ratings")),
    )


def downgrade() -> None:
    op.drop_table("standard_ratings")
    op.drop_table("pass_marks")
    op.drop_table("standard_sheets")
