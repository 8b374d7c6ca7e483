"""Set-points read with the shots, what people were told, and who has taken note of it at the press."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"


def _text(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def upgrade() -> None:
    """Add the tables; an earlier release read no set-points and told nobody."""
    op.create_table(
        "set_points",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("press_id", sa.Integer(), sa.ForeignKey("presses.id"), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=False),
        *_text("name", "value", "unit"),
        sa.Column("old", sa.Text(), nullable=True),
        *_text("by", "time"),
        sa.Column("newest_start", sa.BigInteger(), nullable=False),
    )
    op.create_index("set_points_by_press", "set_points", ["press_id", "name", "shot"])
    op.create_index("set_points_by_shot", "set_points", ["press_id", "shot"])
    op.create_table(
        "told",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("press_id", sa.Integer(), sa.ForeignKey("presses.id"), nullable=True),
        *_text("about", "spell", "phase", "receiver", "said", "time"),
    )
    op.create_index("told_by_spell", "told", ["spell"])
    op.create_table(
        "acknowledgements",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("press_id", sa.Integer(), sa.ForeignKey("presses.id"), nullable=True),
        *_text("about", "spell", "time"),
        sa.Column("initials", sa.Text(), nullable=True),
    )
    op.create_table(
        "cursors",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("receiver", sa.Text(), nullable=False, unique=True),
        *_text("position", "time"),
    )
