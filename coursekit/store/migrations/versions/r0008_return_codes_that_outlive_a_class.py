"""Return codes that find their card without the join code, so that they outlive a class."""

import sqlalchemy as sa
from alembic import op

revision = "r0008"
down_revision = "r0007"
branch_labels = None
depends_on = None

BY_TAG = "ix_enrolments_return_tag"


def upgrade() -> None:
    op.add_column("enrolments", sa.Column("return_tag", sa.Text(), nullable=True))
    op.create_index(BY_TAG, "enrolments", ["return_tag"])


def downgrade() -> None:
    op.drop_index(BY_TAG, "enrolments")
    op.drop_column("enrolments", "return_tag")
