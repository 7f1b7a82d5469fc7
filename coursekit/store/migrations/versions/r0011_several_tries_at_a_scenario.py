"""Several tries of one student at one scenario."""

import sqlalchemy as sa
from alembic import op

revision = "r0011"
down_revision = "r0010"
branch_labels = None
depends_on = None

ONCE = "uq_attempts_enrolment_id_class_scenario_id"
BY_TRY = "uq_attempts_enrolment_id_class_scenario_id_try_number"
# Answers and marks point at attempts, and may not be deleted: there is no way back from
# a second try but to say so.
HAS_SECOND_TRIES = sa.text("SELECT count(*) FROM attempts WHERE try_number > 1")


def upgrade() -> None:
    with op.batch_alter_table("attempts") as batch:
        batch.add_column(sa.Column("try_number", sa.Integer(), nullable=False, server_default="1"))
        batch.drop_constraint(op.f(ONCE), type_="unique")
        batch.create_unique_constraint(
            op.f(BY_TRY), ["enrolment_id", "class_scenario_id", "try_number"]
        )
    with op.batch_alter_table("attempts") as batch:
        batch.alter_column("try_number", server_default=None, existing_type=sa.Integer())


def downgrade() -> None:
    if op.get_bind().scalar(HAS_SECOND_TRIES):
        raise RuntimeError("there are second tries, which the older tables have no place for")
    with op.batch_alter_table("attempts") as batch:
        batch.drop_constraint(op.f(BY_TRY), type_="unique")
        batch.create_unique_constraint(op.f(ONCE), ["enrolment_id", "class_scenario_id"])
        batch.drop_column("try_number")
