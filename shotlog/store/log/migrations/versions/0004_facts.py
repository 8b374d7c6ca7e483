"""A verdict keeps the facts its sentence was made from; earlier ones keep their sentence alone."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Give verdicts a column for their facts, empty where they were judged before."""
    op.add_column("verdicts", sa.Column("facts", sa.Text()))
