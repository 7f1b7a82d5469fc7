"""Photos and certificates of kit."""

import sqlalchemy as sa
from alembic import op

revision = "r0023"
down_revision = "r0022"
branch_labels = None
depends_on = None

BY_ITEM = "ix_kit_files_school_id_item_id"
BY_CONTENT = "ix_kit_files_school_id_sha256"


def upgrade() -> None:
    op.create_table(
        "kit_files",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("small_sha256", sa.Text(), nullable=True),
        sa.Column("width", sa.Integer(), nullable=True),
        sa.Column("height", sa.Integer(), nullable=True),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("added_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(media_type = 'image/jpeg') = (small_sha256 IS NOT NULL AND "
            "width IS NOT NULL AND height IS NOT NULL)",
            name=op.f("ck_kit_files_picture_has_size"),
        ),
        sa.CheckConstraint(
            "kind IN ('photo', 'certificate')", name=op.f("ck_kit_files_known_kind")
        ),
        sa.CheckConstraint(
            "media_type IN ('image/jpeg', 'application/pdf')", name=op.f("ck_kit_files_known_type")
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "item_id"],
            ["kit_items.school_id", "kit_items.id"],
            name=op.f("fk_kit_files_school_id_item_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_kit_files_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_kit_files_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit_files")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_kit_files_school_id_id")),
    )
    op.create_index(BY_ITEM, "kit_files", ["school_id", "item_id"])
    op.create_index(BY_CONTENT, "kit_files", ["school_id", "sha256"])
    op.create_table(
        "kit_file_removals",
        sa.Column("file_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("removed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "file_id"],
            ["kit_files.school_id", "kit_files.id"],
            name=op.f("fk_kit_file_removals_school_id_file_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_kit_file_removals_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_kit_file_removals_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit_file_removals")),
        sa.UniqueConstraint("file_id", name=op.f("uq_kit_file_removals_file_id")),
    )


def downgrade() -> None:
    op.drop_table("kit_file_removals")
    op.drop_index(BY_CONTENT, "kit_files")
    op.drop_index(BY_ITEM, "kit_files")
    op.drop_table("kit_files")
