"""The last day on which an item was looked over before it went out."""

import sqlalchemy as sa
from alembic import op

revision = "r0024"
down_revision = "r0023"
branch_labels = None
depends_on = None


def upgrade() -> None:
    # No entry of before kept the ticks of its look, so there is nothing to fill in.
    with op.batch_alter_table("kit_counts") as batch:
        batch.add_column(sa.Column("last_looked", sa.Date(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("kit_counts") as batch:
        batch.drop_column("last_looked")
