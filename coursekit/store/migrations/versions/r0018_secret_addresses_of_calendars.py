"""Secret addresses of calendars."""

import sqlalchemy as sa
from alembic import op

revision = "r0018"
down_revision = "r0017"
branch_labels = None
depends_on = None

BY_KIND = "ix_calendar_addresses_school_id_kind"


def upgrade() -> None:
    op.create_table(
        "calendar_addresses",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("secret_hash", sa.Text(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_by", sa.Integer(), nullable=True),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(ended_at IS NULL) = (ended_by IS NULL)",
            name=op.f("ck_calendar_addresses_ended_by_whom"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "ended_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_calendar_addresses_school_id_ended_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "made_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_calendar_addresses_school_id_made_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_calendar_addresses_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_calendar_addresses")),
        sa.UniqueConstraint("secret_hash", name=op.f("uq_calendar_addresses_secret_hash")),
    )
    op.create_index(BY_KIND, "calendar_addresses", ["school_id", "kind"])


def downgrade() -> None:
    op.drop_index(BY_KIND, "calendar_addresses")
    op.drop_table("calendar_addresses")
