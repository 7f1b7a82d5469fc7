"""The kit register, its pulls and its ledger."""

import sqlalchemy as sa
from alembic import op

revision = "r0003"
down_revision = "r0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "kit_types",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("material", sa.Text(), nullable=True),
        sa.Column("size", sa.Text(), nullable=False),
        sa.Column("wll_marked", sa.Text(), nullable=True),
        sa.Column("wll_n", sa.Double(), nullable=True),
        sa.Column("mbs_marked", sa.Text(), nullable=True),
        sa.Column("mbs_n", sa.Double(), nullable=True),
        sa.Column("instructions", sa.Text(), nullable=False),
        sa.Column("policy", sa.JSON(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_kit_types_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit_types")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_kit_types_school_id_id")),
        sa.UniqueConstraint("school_id", "name", name=op.f("uq_kit_types_school_id_name")),
    )
    op.create_table(
        "kit_items",
        sa.Column("type_id", sa.Integer(), nullable=False),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("batch", sa.Text(), nullable=False),
        sa.Column("made", sa.Date(), nullable=True),
        sa.Column("is_labelled", sa.Boolean(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("retired_on", sa.Date(), nullable=True),
        sa.Column("retired_for", sa.Text(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "status IN ('in-store', 'out', 'quarantined', 'retired', 'lost')",
            name=op.f("ck_kit_items_known_status"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "type_id"],
            ["kit_types.school_id", "kit_types.id"],
            name=op.f("fk_kit_items_school_id_type_id"),
        ),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_kit_items_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit_items")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_kit_items_school_id_id")),
        sa.UniqueConstraint("school_id", "mark", name=op.f("uq_kit_items_school_id_mark")),
    )
    op.create_table(
        "kit_counts",
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("light", sa.Integer(), nullable=False),
        sa.Column("heavy", sa.Integer(), nullable=False),
        sa.Column("overload", sa.Integer(), nullable=False),
        sa.Column("unknown", sa.Integer(), nullable=False),
        sa.Column("use", sa.Double(), nullable=False),
        sa.Column("first_used", sa.Date(), nullable=True),
        sa.Column("last_pull", sa.DateTime(timezone=True), nullable=True),
        sa.Column("last_inspected", sa.Date(), nullable=True),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "item_id"],
            ["kit_items.school_id", "kit_items.id"],
            name=op.f("fk_kit_counts_school_id_item_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_kit_counts_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit_counts")),
        sa.UniqueConstraint("item_id", name=op.f("uq_kit_counts_item_id")),
    )
    op.create_table(
        "pulls",
        sa.Column("class_session_id", sa.Integer(), nullable=False),
        sa.Column("scenario_version_id", sa.Integer(), nullable=True),
        sa.Column("rig", sa.JSON(), nullable=False),
        sa.Column("items", sa.JSON(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("ended", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.Column("recorded_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "ended IN ('came-free', 'stuck', 'stalled', 'jerked', 'parted')",
            name=op.f("ck_pulls_known_end"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "class_session_id"],
            ["class_sessions.school_id", "class_sessions.id"],
            name=op.f("fk_pulls_school_id_class_session_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_pulls_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "scenario_version_id"],
            ["scenario_versions.school_id", "scenario_versions.id"],
            name=op.f("fk_pulls_school_id_scenario_version_id"),
        ),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_pulls_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pulls")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_pulls_school_id_id")),
        sa.UniqueConstraint("school_id", "key", name=op.f("uq_pulls_school_id_key")),
    )
    op.create_index(
        op.f("ix_pulls_school_id_class_session_id"), "pulls", ["school_id", "class_session_id"]
    )
    op.create_table(
        "ledger_entries",
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("timezone", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("class_session_id", sa.Integer(), nullable=True),
        sa.Column("pull_id", sa.Integer(), nullable=True),
        sa.Column("method", sa.Text(), nullable=True),
        sa.Column("ended", sa.Text(), nullable=True),
        sa.Column("origin", sa.Text(), nullable=True),
        sa.Column("load_n", sa.Double(), nullable=True),
        sa.Column("limit_n", sa.Double(), nullable=True),
        sa.Column("declared", sa.Text(), nullable=True),
        sa.Column("passed", sa.Boolean(), nullable=True),
        sa.Column("reverses_key", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("detail", sa.JSON(), nullable=False),
        sa.Column("recorded_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("prev_hash", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(kind = 'correction') = (reverses_key IS NOT NULL)",
            name=op.f("ck_ledger_entries_correction_reverses"),
        ),
        sa.CheckConstraint(
            "(kind = 'pull') = (ended IS NOT NULL)", name=op.f("ck_ledger_entries_pull_has_end")
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "class_session_id"],
            ["class_sessions.school_id", "class_sessions.id"],
            name=op.f("fk_ledger_entries_school_id_class_session_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "item_id"],
            ["kit_items.school_id", "kit_items.id"],
            name=op.f("fk_ledger_entries_school_id_item_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_ledger_entries_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "pull_id"],
            ["pulls.school_id", "pulls.id"],
            name=op.f("fk_ledger_entries_school_id_pull_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "reverses_key"],
            ["ledger_entries.school_id", "ledger_entries.key"],
            name=op.f("fk_ledger_entries_school_id_reverses_key"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_ledger_entries_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ledger_entries")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_ledger_entries_school_id_id")),
        sa.UniqueConstraint("school_id", "key", name=op.f("uq_ledger_entries_school_id_key")),
        sa.UniqueConstraint("school_id", "seq", name=op.f("uq_ledger_entries_school_id_seq")),
    )
    op.create_index(
        op.f("ix_ledger_entries_school_id_item_id"), "ledger_entries", ["school_id", "item_id"]
    )


def downgrade() -> None:
    op.drop_table("ledger_entries")
    op.drop_table("pulls")
    op.drop_table("kit_counts")
    op.drop_table("kit_items")
    op.drop_table("kit_types")
