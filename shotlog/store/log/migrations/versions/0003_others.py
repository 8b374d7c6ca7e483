"""Which shots a weighing could be of as well becomes a fact of its match: it was read from the text."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Add the column; what was matched before does not say."""
    op.add_column("matches", sa.Column("others", sa.Text()))
