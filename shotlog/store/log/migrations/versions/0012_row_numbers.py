"""Row numbers of 64 bits on a server, where an integer ends at 2,147,483,647 (PostgreSQL manual, "Numeric Types").

Fifty presses at a shot every 5 s number their shots beyond it in under seven years. SQLite's have 64 bits as they are.
"""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"

_NUMBERED = (
    "account_changes", "acknowledgements", "anchors", "archives", "baselines", "bath_checks", "baths", "checkpoints",
    "clock_steps", "corrections", "cursors", "designs", "dimensions", "dispositions", "events", "faults", "gaps",
    "inserts", "inspections", "judgings", "ledger", "links", "logs", "makings", "matches", "mountings", "pictures",
    "places", "presence", "presses", "queued", "removals", "set_points", "shots", "signals", "signed", "soak_ends",
    "soaks", "starts", "told", "trials", "verdicts", "weighings",
)  # fmt: skip


def upgrade() -> None:
    """Widen the number of each table, what refers to one, and the sequence it is drawn from; one pass over a table."""
    connection = op.get_bind()
    if connection.dialect.name == "sqlite":
        return
    inspector = sa.inspect(connection)
    for table in _NUMBERED:
        refers = [name for key in inspector.get_foreign_keys(table) for name in key["constrained_columns"]]
        wider = ", ".join(f"ALTER COLUMN {name} TYPE BIGINT" for name in ("id", *refers))
        op.execute(f"ALTER TABLE {table} {wider}")
        sequence = connection.execute(sa.text("SELECT pg_get_serial_sequence(:table, 'id')"), {"table": table}).scalar()
        op.execute(f"ALTER SEQUENCE {sequence} AS BIGINT")
