"""A log knows which it is, how it was set up, when clocks stepped, and where its head is kept outside."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"


def upgrade() -> None:
    """Add the tables; the columns are empty where an earlier release was certain of its gaps and kept every fault."""
    op.add_column("faults", sa.Column("more", sa.BigInteger()))
    op.add_column("removals", sa.Column("newest_mounting", sa.BigInteger()))
    for name in ("least", "most"):
        op.add_column("gaps", sa.Column(name, sa.BigInteger()))
    op.create_table(
        "logs",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("uid", sa.Text(), nullable=False, unique=True),
        sa.Column("follows", sa.Text()),
        sa.Column("follows_digest", sa.Text()),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
    )
    op.create_table(
        "starts",
        sa.Column("id", sa.Integer(), primary_key=True),
        *(
            sa.Column(name, sa.Text(), nullable=False)
            for name in ("release", "basis", "config", "digest", "maps", "host", "process", "time")
        ),
        sa.Column("newest_shot", sa.BigInteger(), nullable=False),
    )
    op.create_table(
        "clock_steps",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("step_s", sa.Double(), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.Column("at_least", sa.Boolean(), nullable=False),
        *(sa.Column(f"newest_{name}", sa.BigInteger(), nullable=False) for name in ("shot", "weighing", "link")),
    )
    op.create_table(
        "anchors",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("links", sa.BigInteger(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
    )
    op.create_table(
        "archives",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("trial_id", sa.Integer(), sa.ForeignKey("trials.id"), nullable=False),
        sa.Column("file", sa.Text(), nullable=False),
        sa.Column("file_digest", sa.Text(), nullable=False),
        *(sa.Column(name, sa.BigInteger(), nullable=False) for name in ("first_link", "last_link", "links", "rows")),
        sa.Column("time", sa.Text(), nullable=False),
    )
