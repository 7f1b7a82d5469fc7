"""The pass mark that a list of the yard was decided by."""

import sqlalchemy as sa
from alembic import op

revision = "r0027"
down_revision = "r0026"
branch_labels = None
depends_on = None


def upgrade() -> None:
    # Empty in the rows that are there: the pass mark of today decides them, as it did before.
    op.add_column("yard_sheets", sa.Column("pass_share", sa.Double(), nullable=True))


def downgrade() -> None:
    op.drop_column("yard_sheets", "pass_share")
