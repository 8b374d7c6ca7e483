"""What is looked for in a long log and seldom there has indexes: links of entries, verdicts on a shot far out alone.

A log of a million shots has two million links and a million verdicts, and all were gone through before anything was
said of held parts.
"""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"


def upgrade() -> None:
    """Index the links that neither are of a shot alone nor begin with a verdict, and the verdicts that tell of one."""
    entered = sa.text("(rows NOT LIKE 'verdicts:%' AND (rows NOT LIKE 'shots:%' OR rows LIKE '% %'))")
    op.create_index("ledger_of_entries", "ledger", ["id"], sqlite_where=entered, postgresql_where=entered)
    odd = sa.text("facts LIKE '%\"odd_shot\"%'")
    op.create_index("verdicts_odd", "verdicts", ["press_id", "shot"], sqlite_where=odd, postgresql_where=odd)
