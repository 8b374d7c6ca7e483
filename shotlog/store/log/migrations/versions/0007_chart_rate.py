"""A baseline tells how many sound lives show a signal by the limits it was frozen with."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Give baselines a column for it, empty where an earlier release froze them."""
    op.add_column("baselines", sa.Column("per_100", sa.Integer()))
