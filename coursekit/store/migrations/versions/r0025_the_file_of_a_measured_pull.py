"""The file of a measured pull, beside the pull."""

import sqlalchemy as sa
from alembic import op

revision = "r0025"
down_revision = "r0024"
branch_labels = None
depends_on = None

BY_FILE = "ix_pulls_school_id_cell_sha256"
PULLS = sa.table("pulls", sa.column("id", sa.Integer()), sa.column("cell_sha256", sa.Text()))
ENTRIES = sa.table(
    "ledger_entries",
    sa.column("pull_id", sa.Integer()),
    sa.column("kind", sa.Text()),
    sa.column("origin", sa.Text()),
    sa.column("detail", sa.JSON()),
)


def upgrade() -> None:
    op.add_column("pulls", sa.Column("cell_sha256", sa.Text(), nullable=True))
    op.create_index(BY_FILE, "pulls", ["school_id", "cell_sha256"])
    _open()
    connection = op.get_bind()
    measured = sa.select(ENTRIES.c.pull_id, ENTRIES.c.detail).where(
        ENTRIES.c.kind == "pull", ENTRIES.c.origin == "measured"
    )
    files = {
        pull_id: detail["cell"]["reading"]["sha256"]
        for pull_id, detail in connection.execute(measured)
    }
    for pull_id, sha256 in files.items():
        connection.execute(sa.update(PULLS).where(PULLS.c.id == pull_id).values(cell_sha256=sha256))


def downgrade() -> None:
    op.drop_index(BY_FILE, "pulls")
    with op.batch_alter_table("pulls") as batch_op:
        batch_op.drop_column("cell_sha256")


def _open() -> None:
    """Open the append-only table for the new column; its triggers come back at the end."""
    if op.get_bind().dialect.name == "sqlite":
        op.execute(sa.text("DROP TRIGGER IF EXISTS pulls_no_UPDATE"))
    else:
        op.execute(sa.text("DROP TRIGGER IF EXISTS pulls_no_change ON pulls"))
