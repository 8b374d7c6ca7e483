"""The first release's tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the tables of an empty log."""
    op.create_table(
        "corrections",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry", sa.Text(), nullable=False),
        sa.Column("entry_id", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("entry", "entry_id"),
    )
    op.create_table(
        "designs",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("resin_family", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("name"),
    )
    op.create_table(
        "ledger",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("rows", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("origin", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("origin"),
    )
    op.create_table(
        "presence",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("role"),
    )
    op.create_table(
        "presses",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("name"),
    )
    op.create_table(
        "trials",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("part", sa.Text(), nullable=False),
        sa.Column("resin", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_table(
        "events",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("at_shot", sa.BigInteger(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("events_by_press", "events", ["press_id", "at_shot"], unique=False)
    op.create_table(
        "faults",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Column("raw", sa.LargeBinary(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("faults_by_press", "faults", ["press_id", "id"], unique=False)
    op.create_table(
        "gaps",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("first", sa.BigInteger(), nullable=False),
        sa.Column("last", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("gaps_by_press", "gaps", ["press_id", "first"], unique=False)
    op.create_table(
        "inserts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("design_id", sa.Integer(), nullable=True),
        sa.Column("print_batch", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["design_id"],
            ["designs.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("serial"),
    )
    op.create_table(
        "judgings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("from_shot", sa.BigInteger(), nullable=False),
        sa.Column("basis", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("judgings_by_press", "judgings", ["press_id", "id"], unique=False)
    op.create_table(
        "links",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("links_by_press", "links", ["press_id", "id"], unique=False)
    op.create_table(
        "shots",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=False),
        sa.Column("counter", sa.BigInteger(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.Column("trial_id", sa.Integer(), nullable=True),
        sa.Column("cushion", sa.Double(), nullable=True),
        sa.Column("peak_pressure", sa.Double(), nullable=True),
        sa.Column("fill_time", sa.Double(), nullable=True),
        sa.Column("switchover_pressure", sa.Double(), nullable=True),
        sa.Column("switchover_position", sa.Double(), nullable=True),
        sa.Column("recovery_time", sa.Double(), nullable=True),
        sa.Column("cycle_time", sa.Double(), nullable=True),
        sa.Column("back_pressure", sa.Double(), nullable=True),
        sa.Column("melt_temperature", sa.Double(), nullable=True),
        sa.Column("insert_temperature", sa.Double(), nullable=True),
        sa.Column("clamp_force", sa.Double(), nullable=True),
        sa.Column("part_weight", sa.Double(), nullable=True),
        sa.Column("mass_balance", sa.Double(), nullable=True),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.ForeignKeyConstraint(
            ["trial_id"],
            ["trials.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("press_id", "shot"),
    )
    op.create_table(
        "baselines",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("judging_id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("insert", sa.Text(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("first", sa.BigInteger(), nullable=False),
        sa.Column("last", sa.BigInteger(), nullable=False),
        sa.Column("n_shots", sa.BigInteger(), nullable=False),
        sa.Column("centre", sa.Double(), nullable=True),
        sa.Column("spread", sa.Double(), nullable=True),
        sa.Column("lower", sa.Double(), nullable=True),
        sa.Column("upper", sa.Double(), nullable=True),
        sa.ForeignKeyConstraint(
            ["judging_id"],
            ["judgings.id"],
        ),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("baselines_by_press", "baselines", ["press_id", "last"], unique=False)
    op.create_table(
        "checkpoints",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("judging_id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=False),
        sa.Column("basis", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["judging_id"],
            ["judgings.id"],
        ),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("checkpoints_by_press", "checkpoints", ["press_id", "shot"], unique=False)
    op.create_table(
        "mountings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("insert_id", sa.Integer(), nullable=False),
        sa.Column("half", sa.Text(), nullable=False),
        sa.Column("at_shot", sa.BigInteger(), nullable=False),
        sa.Column("single_use", sa.Boolean(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["insert_id"],
            ["inserts.id"],
        ),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("mountings_by_press", "mountings", ["press_id", "at_shot"], unique=False)
    op.create_table(
        "removals",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("insert_id", sa.Integer(), nullable=False),
        sa.Column("at_shot", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["insert_id"],
            ["inserts.id"],
        ),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("removals_by_press", "removals", ["press_id", "at_shot"], unique=False)
    op.create_table(
        "signals",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("judging_id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=False),
        sa.Column("chart", sa.Text(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("centre", sa.Double(), nullable=True),
        sa.Column("lower", sa.Double(), nullable=True),
        sa.Column("upper", sa.Double(), nullable=True),
        sa.ForeignKeyConstraint(
            ["judging_id"],
            ["judgings.id"],
        ),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("signals_by_press", "signals", ["press_id", "shot"], unique=False)
    op.create_table(
        "verdicts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("judging_id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=False),
        sa.Column("insert", sa.Text(), nullable=False),
        sa.Column("shots_on_insert", sa.BigInteger(), nullable=False),
        sa.Column("settling", sa.Boolean(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("sentence", sa.Text(), nullable=False),
        sa.Column("signals", sa.Text(), nullable=False),
        sa.Column("cause", sa.Text(), nullable=False),
        sa.Column("group", sa.Text(), nullable=False),
        sa.Column("weight", sa.Double(), nullable=True),
        sa.Column("onset", sa.BigInteger(), nullable=True),
        sa.Column("onset_low", sa.BigInteger(), nullable=True),
        sa.Column("onset_high", sa.BigInteger(), nullable=True),
        sa.Column("left_median", sa.Double(), nullable=True),
        sa.Column("left_low", sa.Double(), nullable=True),
        sa.Column("left_high", sa.Double(), nullable=True),
        sa.Column("statistic", sa.Double(), nullable=True),
        sa.Column("threshold", sa.Double(), nullable=True),
        sa.ForeignKeyConstraint(
            ["judging_id"],
            ["judgings.id"],
        ),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("press_id", "shot", "judging_id"),
    )
    op.create_table(
        "baths",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("concentration_low", sa.Double(), nullable=True),
        sa.Column("concentration_high", sa.Double(), nullable=True),
        sa.Column("temperature_low", sa.Double(), nullable=True),
        sa.Column("temperature_high", sa.Double(), nullable=True),
        sa.Column("made_up", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("baths_by_name", "baths", ["name", "id"], unique=False)
    op.create_table(
        "bath_checks",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("bath_id", sa.Integer(), nullable=False),
        sa.Column("concentration", sa.Double(), nullable=True),
        sa.Column("temperature", sa.Double(), nullable=True),
        sa.Column("checked", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["bath_id"],
            ["baths.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("bath_checks_by_bath", "bath_checks", ["bath_id", "id"], unique=False)
    op.create_table(
        "dispositions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("first", sa.BigInteger(), nullable=False),
        sa.Column("last", sa.BigInteger(), nullable=False),
        sa.Column("cavity", sa.BigInteger(), nullable=True),
        sa.Column("decision", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("dispositions_by_press", "dispositions", ["press_id", "id"], unique=False)
    op.create_table(
        "inspections",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=False),
        sa.Column("cavity", sa.BigInteger(), nullable=False),
        sa.Column("quantity", sa.Text(), nullable=False),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("low", sa.Double(), nullable=True),
        sa.Column("high", sa.Double(), nullable=True),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("given", sa.Text(), nullable=False),
        sa.Column("finding", sa.Text(), nullable=False),
        sa.Column("half", sa.Text(), nullable=False),
        sa.Column("instrument", sa.Text(), nullable=False),
        sa.Column("inspected", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("inspections_by_part", "inspections", ["press_id", "shot"], unique=False)
    op.create_table(
        "soaks",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("bath_id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=False),
        sa.Column("cavity", sa.BigInteger(), nullable=False),
        sa.Column("went_in", sa.Text(), nullable=False),
        sa.Column("due", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["bath_id"],
            ["baths.id"],
        ),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("soaks_by_part", "soaks", ["press_id", "shot"], unique=False)
    op.create_table(
        "weighings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("press_id", sa.Integer(), nullable=False),
        sa.Column("balance", sa.Text(), nullable=False),
        sa.Column("grams", sa.Double(), nullable=False),
        sa.Column("g_per_mm", sa.Double(), nullable=True),
        sa.Column("dose_mm", sa.Double(), nullable=True),
        sa.Column("after_s", sa.Double(), nullable=True),
        sa.Column("raw", sa.LargeBinary(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["press_id"],
            ["presses.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("weighings_by_press", "weighings", ["press_id", "id"], unique=False)
    op.create_table(
        "dimensions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("insert_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("value_mm", sa.Double(), nullable=False),
        sa.Column("instrument", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["insert_id"],
            ["inserts.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("dimensions_by_insert", "dimensions", ["insert_id", "id"], unique=False)
    op.create_table(
        "makings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("insert_id", sa.Integer(), nullable=False),
        sa.Column("design", sa.Text(), nullable=True),
        sa.Column("print_batch", sa.Text(), nullable=True),
        sa.Column("resin", sa.Text(), nullable=True),
        sa.Column("plate", sa.Text(), nullable=True),
        sa.Column("plate_position", sa.Text(), nullable=True),
        sa.Column("orientation", sa.Text(), nullable=True),
        sa.Column("wash", sa.Text(), nullable=True),
        sa.Column("post_cure", sa.Text(), nullable=True),
        sa.Column("cured", sa.Text(), nullable=True),
        sa.Column("storage", sa.Text(), nullable=True),
        sa.Column("remark", sa.Text(), nullable=True),
        sa.Column("layer_um", sa.Double(), nullable=True),
        sa.Column("mass_g", sa.Double(), nullable=True),
        sa.Column("cost", sa.Double(), nullable=True),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["insert_id"],
            ["inserts.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("makings_by_insert", "makings", ["insert_id", "id"], unique=False)
    op.create_table(
        "matches",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("weighing_id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.BigInteger(), nullable=True),
        sa.Column("basis", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["weighing_id"],
            ["weighings.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("matches_by_shot", "matches", ["shot"], unique=False)
    op.create_index("matches_by_weighing", "matches", ["weighing_id", "id"], unique=False)
    op.create_table(
        "soak_ends",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("soak_id", sa.Integer(), nullable=False),
        sa.Column("came_out", sa.Text(), nullable=False),
        sa.Column("cleared", sa.Boolean(), nullable=False),
        sa.Column("remark", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["soak_id"],
            ["soaks.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("soak_ends_by_soak", "soak_ends", ["soak_id", "id"], unique=False)
    op.create_table(
        "queued",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("series_id", sa.Integer(), nullable=False),
        sa.Column("insert_id", sa.Integer(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["insert_id"],
            ["inserts.id"],
        ),
        sa.ForeignKeyConstraint(
            ["series_id"],
            ["inserts.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("queued_by_series", "queued", ["series_id", "id"], unique=False)
