"""Marks in the yard."""

import sqlalchemy as sa
from alembic import op

revision = "r0019"
down_revision = "r0018"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "yard_marks",
        sa.Column("enrolment_id", sa.Integer(), nullable=False),
        sa.Column("class_scenario_id", sa.Integer(), nullable=False),
        sa.Column("assessor_id", sa.Integer(), nullable=False),
        sa.Column("criterion", sa.Text(), nullable=False),
        sa.Column("level", sa.Integer(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("level BETWEEN 0 AND 2", name=op.f("ck_yard_marks_known_level")),
        sa.ForeignKeyConstraint(
            ["school_id", "assessor_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_yard_marks_school_id_assessor_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "class_scenario_id"],
            ["class_scenarios.school_id", "class_scenarios.id"],
            name=op.f("fk_yard_marks_school_id_class_scenario_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "enrolment_id"],
            ["enrolments.school_id", "enrolments.id"],
            name=op.f("fk_yard_marks_school_id_enrolment_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_yard_marks_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_yard_marks")),
        sa.UniqueConstraint("school_id", "key", name=op.f("uq_yard_marks_school_id_key")),
    )
    with op.batch_alter_table("yard_marks", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_yard_marks_enrolment_id_class_scenario_id"),
            ["enrolment_id", "class_scenario_id"],
            unique=False,
        )

    op.create_table(
        "yard_sheets",
        sa.Column("enrolment_id", sa.Integer(), nullable=False),
        sa.Column("class_scenario_id", sa.Integer(), nullable=False),
        sa.Column("assessor_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("levels", sa.JSON(), nullable=False),
        sa.Column("notes", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("handed_in_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("kind IN ('own', 'agreed')", name=op.f("ck_yard_sheets_known_kind")),
        sa.ForeignKeyConstraint(
            ["school_id", "assessor_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_yard_sheets_school_id_assessor_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "class_scenario_id"],
            ["class_scenarios.school_id", "class_scenarios.id"],
            name=op.f("fk_yard_sheets_school_id_class_scenario_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "enrolment_id"],
            ["enrolments.school_id", "enrolments.id"],
            name=op.f("fk_yard_sheets_school_id_enrolment_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_yard_sheets_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_yard_sheets")),
        sa.UniqueConstraint(
            "enrolment_id",
            "class_scenario_id",
            "assessor_id",
            "kind",
            name=op.f("uq_yard_sheets_enrolment_id_class_scenario_id_assessor_id_kind"),
        ),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_yard_sheets_school_id_id")),
    )


def downgrade() -> None:
    op.drop_table("yard_sheets")
    with op.batch_alter_table("yard_marks", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_yard_marks_enrolment_id_class_scenario_id"))

    op.drop_table("yard_marks")
