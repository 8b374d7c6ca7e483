"""Every entry of a person is signed, and it is on record whose accounts there were."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"


def upgrade() -> None:
    """Add the tables; what an earlier release took is signed by nobody."""
    op.create_table(
        "signed",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("entry", sa.Text(), nullable=False),
        sa.Column("entry_id", sa.BigInteger(), nullable=False),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("account", "role", "via", "address", "initials")),
        sa.UniqueConstraint("entry", "entry_id"),
    )
    op.create_table(
        "account_changes",
        sa.Column("id", sa.Integer(), primary_key=True),
        *(
            sa.Column(name, sa.Text(), nullable=False)
            for name in ("account", "initials", "role", "change", "by", "time")
        ),
    )
