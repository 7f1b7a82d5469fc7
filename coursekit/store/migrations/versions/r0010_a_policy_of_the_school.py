"""The school's policy in versions, and the rule that each outcome was decided by."""

import sqlalchemy as sa
from alembic import op

revision = "r0010"
down_revision = "r0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "school_policies",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("policy", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("number > 0", name=op.f("ck_school_policies_counted_from_one")),
        sa.ForeignKeyConstraint(
            ["school_id", "made_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_school_policies_school_id_made_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_school_policies_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_school_policies")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_school_policies_school_id_id")),
        sa.UniqueConstraint(
            "school_id", "number", name=op.f("uq_school_policies_school_id_number")
        ),
    )
    # Both stay empty in the rows that are there: no policy decided them.
    op.add_column("attempt_results", sa.Column("policy_number", sa.Integer(), nullable=True))
    op.add_column("attempt_results", sa.Column("pass_share", sa.Double(), nullable=True))


def downgrade() -> None:
    op.drop_column("attempt_results", "pass_share")
    op.drop_column("attempt_results", "policy_number")
    op.drop_table("school_policies")
