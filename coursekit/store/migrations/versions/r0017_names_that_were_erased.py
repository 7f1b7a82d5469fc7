"""Names that were erased."""

import sqlalchemy as sa
from alembic import op

revision = "r0017"
down_revision = "r0016"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("people", sa.Column("erased_at", sa.DateTime(timezone=True), nullable=True))


def downgrade() -> None:
    op.drop_column("people", "erased_at")
