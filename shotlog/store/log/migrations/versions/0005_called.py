"""The verdicts that call a change have an index: what speaks against a few parts is found without reading the rest."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Index the verdicts that are not keep, by press and shot."""
    called = sa.text("verdict != 'keep'")
    columns = ["press_id", "shot", "onset_low", "onset"]
    op.create_index("verdicts_called", "verdicts", columns, sqlite_where=called, postgresql_where=called)
