"""What the register said before, and what a type is rated for besides WLL and MBS."""

import sqlalchemy as sa
from alembic import op

revision = "r0026"
down_revision = "r0025"
branch_labels = None
depends_on = None

BY_ITEM = "ix_kit_changes_school_id_item_id"
BY_TYPE = "ix_kit_changes_school_id_type_id"
# Nobody was asked for them by now, so the types that are there have none.
OF_TYPE = {
    "choker_marked": sa.Text(),
    "choker_n": sa.Double(),
    "basket_marked": sa.Text(),
    "basket_n": sa.Double(),
    "length_marked": sa.Text(),
    "length_m": sa.Double(),
    "coldest": sa.Text(),
    "hottest": sa.Text(),
}


def upgrade() -> None:
    for name, kind in OF_TYPE.items():
        op.add_column("kit_types", sa.Column(name, kind, nullable=True))
    op.create_table(
        "kit_changes",
        sa.Column("item_id", sa.Integer(), nullable=True),
        sa.Column("type_id", sa.Integer(), nullable=True),
        sa.Column("before", sa.JSON(), nullable=False),
        sa.Column("after", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(item_id IS NULL) <> (type_id IS NULL)", name=op.f("ck_kit_changes_of_one_thing")
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "item_id"],
            ["kit_items.school_id", "kit_items.id"],
            name=op.f("fk_kit_changes_school_id_item_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_kit_changes_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "type_id"],
            ["kit_types.school_id", "kit_types.id"],
            name=op.f("fk_kit_changes_school_id_type_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_kit_changes_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit_changes")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_kit_changes_school_id_id")),
        sa.UniqueConstraint("school_id", "key", name=op.f("uq_kit_changes_school_id_key")),
    )
    op.create_index(BY_ITEM, "kit_changes", ["school_id", "item_id"])
    op.create_index(BY_TYPE, "kit_changes", ["school_id", "type_id"])


def downgrade() -> None:
    op.drop_index(BY_TYPE, "kit_changes")
    op.drop_index(BY_ITEM, "kit_changes")
    op.drop_table("kit_changes")
    with op.batch_alter_table("kit_types") as batch:
        for name in reversed(OF_TYPE):
            batch.drop_column(name)
