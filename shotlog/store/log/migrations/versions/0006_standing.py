"""A verdict tells the changes that stand open beside the one that decides it, and the channels beyond a limit."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Give verdicts a column for either, empty where they were judged before."""
    op.add_column("verdicts", sa.Column("others", sa.Text()))
    op.add_column("verdicts", sa.Column("limits", sa.Text()))
