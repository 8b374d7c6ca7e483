"""Which shots belong to which trial is answered by an index: without one, every shot of the log was read."""

from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Index the shots by trial."""
    op.create_index("shots_by_trial", "shots", ["trial_id", "press_id", "shot"], unique=False)
