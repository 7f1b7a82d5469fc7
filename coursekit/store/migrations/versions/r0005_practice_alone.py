"""Practice alone."""

import sqlalchemy as sa
from alembic import op

revision = "r0005"
down_revision = "r0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "practice_skills",
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("skill", sa.Text(), nullable=False),
        sa.Column("state", sa.JSON(), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("hits", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_practice_skills_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_practice_skills_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_practice_skills")),
        sa.UniqueConstraint("person_id", "skill", name=op.f("uq_practice_skills_person_id_skill")),
    )
    op.create_table(
        "practice_questions",
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("scenario_version_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Text(), nullable=False),
        sa.Column("skill", sa.Text(), nullable=False),
        sa.Column("variation", sa.JSON(), nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("typed", sa.JSON(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=True),
        sa.Column("slips", sa.JSON(), nullable=False),
        sa.Column("feedback", sa.JSON(), nullable=False),
        sa.Column("answered_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(verdict IS NULL) = (answered_at IS NULL)",
            name=op.f("ck_practice_questions_marked_when"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_practice_questions_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "scenario_version_id"],
            ["scenario_versions.school_id", "scenario_versions.id"],
            name=op.f("fk_practice_questions_school_id_scenario_version_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_practice_questions_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_practice_questions")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_practice_questions_school_id_id")),
    )
    op.create_index(
        op.f("ix_practice_questions_person_id_asked_at"),
        "practice_questions",
        ["person_id", "asked_at"],
    )


def downgrade() -> None:
    op.drop_table("practice_questions")
    op.drop_table("practice_skills")
