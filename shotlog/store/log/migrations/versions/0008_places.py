"""Entries tell who made them and findings which half they are about; parts have places, and findings pictures."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"


def upgrade() -> None:
    """Add the columns, empty where an earlier release entered, and the two tables."""
    op.add_column("events", sa.Column("half", sa.Text()))
    for table in ("events", "mountings", "removals", "corrections"):
        op.add_column(table, sa.Column("initials", sa.Text()))
    op.create_table(
        "places",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("press_id", sa.Integer(), sa.ForeignKey("presses.id"), nullable=False),
        sa.Column("first", sa.BigInteger(), nullable=False),
        sa.Column("last", sa.BigInteger(), nullable=False),
        sa.Column("cavity", sa.BigInteger()),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("put", sa.Text(), nullable=False),
        sa.Column("due", sa.Text()),
        sa.Column("newest_soak", sa.BigInteger(), nullable=False),
        sa.Column("newest_soak_end", sa.BigInteger(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
    )
    op.create_index("places_by_press", "places", ["press_id", "id"])
    op.create_table(
        "pictures",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("press_id", sa.Integer(), sa.ForeignKey("presses.id"), nullable=False),
        sa.Column("shot", sa.BigInteger()),
        sa.Column("cavity", sa.BigInteger()),
        sa.Column("insert_id", sa.Integer(), sa.ForeignKey("inserts.id")),
        sa.Column("event_id", sa.Integer(), sa.ForeignKey("events.id")),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("media", sa.Text(), nullable=False),
        sa.Column("bytes", sa.BigInteger(), nullable=False),
        sa.Column("remark", sa.Text(), nullable=False),
        sa.Column("taken", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
    )
    op.create_index("pictures_by_press", "pictures", ["press_id", "shot"])
