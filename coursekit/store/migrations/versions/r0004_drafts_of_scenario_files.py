"""Drafts of scenario files."""

import sqlalchemy as sa
from alembic import op

revision = "r0004"
down_revision = "r0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "scenario_drafts",
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("base_id", sa.Integer(), nullable=True),
        sa.Column("slug", sa.Text(), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("begun_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "base_id"],
            ["scenario_versions.school_id", "scenario_versions.id"],
            name=op.f("fk_scenario_drafts_school_id_base_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_scenario_drafts_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_scenario_drafts_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_scenario_drafts")),
        sa.UniqueConstraint("person_id", "slug", name=op.f("uq_scenario_drafts_person_id_slug")),
    )


def downgrade() -> None:
    op.drop_table("scenario_drafts")
