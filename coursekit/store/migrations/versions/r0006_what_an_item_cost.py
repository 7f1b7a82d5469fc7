"""What an item cost, and indexes that find a year's pulls and the entries of a class."""

import sqlalchemy as sa
from alembic import op

revision = "r0006"
down_revision = "r0005"
branch_labels = None
depends_on = None

OF_KIND = "ix_ledger_entries_school_id_kind_day"
OF_CLASS = "ix_ledger_entries_school_id_class_session_id"


def upgrade() -> None:
    op.add_column("kit_items", sa.Column("cost_cents", sa.Integer(), nullable=True))
    op.create_index(OF_KIND, "ledger_entries", ["school_id", "kind", "day"])
    op.create_index(OF_CLASS, "ledger_entries", ["school_id", "class_session_id"])


def downgrade() -> None:
    op.drop_index(OF_CLASS, "ledger_entries")
    op.drop_index(OF_KIND, "ledger_entries")
    op.drop_column("kit_items", "cost_cents")
