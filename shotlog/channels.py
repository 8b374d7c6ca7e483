"""The channels: every quantity of a shot that the tool knows, in one table.

To add a channel, add an entry to `CHANNELS`; the log gains its column when it is next opened, and screens,
recordings and tests follow the table.
"""

from dataclasses import dataclass

__all__ = ["ALWAYS_CHARTED", "CHANNELS", "Channel"]


@dataclass(frozen=True, slots=True)
class Channel:
    """One measured quantity of a shot.

    `low` and `high` bound what is physically believable on presses of 6 to 50 t (common practice, no source): a value
    outside them is a fault, not a measurement. `least_change` is the smallest change that matters in practice, in
    the channel's unit (common practice, no source; a design may give its own): smaller ones are never signalled,
    which also keeps limits from closing to zero width where a press rounds its values coarsely. `transducer`: what it
    is read from: whatever ails that moves all channels read from it by the same amount. Empty for what cannot drift: a
    time, which a clock tells, and what is worked out from others. `relative`: what moves it moves it by a share of its
    level.
    """

    name: str
    label: str
    unit: str
    decimals: int
    low: float
    high: float
    least_change: float
    upstream: bool
    definition: str
    transducer: str = ""
    relative: bool = False


_TABLE = (
    Channel(
        "cushion",
        "Cushion",
        "mm",
        2,
        -5.0,
        500.0,
        0.05,
        False,
        "melt left ahead of the screw at the end of hold, as screw position",
        transducer="screw position",
    ),
    Channel(
        "peak_pressure",
        "Peak pressure",
        "bar",
        0,
        -100.0,
        4000.0,
        3.0,
        False,
        "highest injection pressure of the shot (specific, unless the press gives hydraulic)",
        transducer="injection pressure",
        relative=True,
    ),
    Channel(
        "fill_time",
        "Fill time",
        "s",
        3,
        0.0,
        120.0,
        0.008,
        False,
        "from the start of injection to switchover",
        relative=True,
    ),
    Channel(
        "switchover_pressure",
        "Switchover pressure",
        "bar",
        0,
        -100.0,
        4000.0,
        3.0,
        False,
        "injection pressure at the change from speed control to hold",
        transducer="injection pressure",
        relative=True,
    ),
    Channel(
        "switchover_position",
        "Switchover position",
        "mm",
        2,
        -5.0,
        500.0,
        0.05,
        False,
        "screw position at the change from speed control to hold",
        transducer="screw position",
    ),
    Channel(
        "recovery_time",
        "Recovery time",
        "s",
        2,
        0.0,
        600.0,
        0.1,
        True,
        "screw rotation from start to dose position",
        relative=True,
    ),
    Channel(
        "cycle_time",
        "Cycle time",
        "s",
        1,
        0.0,
        7200.0,
        2.0,
        True,
        "from mould close to mould close",
        relative=True,
    ),
    Channel(
        "back_pressure",
        "Back pressure",
        "bar",
        0,
        -100.0,
        1000.0,
        2.0,
        True,
        "melt pressure held while the screw recovers",
        relative=True,
        transducer="back pressure",
    ),
    Channel(
        "melt_temperature",
        "Melt temperature",
        "degC",
        1,
        -50.0,
        500.0,
        1.0,
        True,
        "as the press reports it: usually the control thermocouple of the last barrel zone",
        transducer="melt thermocouple",
    ),
    Channel(
        "insert_temperature",
        "Insert temperature",
        "degC",
        1,
        -50.0,
        400.0,
        2.0,
        False,
        "under the surface of the printed insert, or its face by infrared, just before close",
        transducer="insert thermocouple",
    ),
    Channel(
        "clamp_force",
        "Clamp force",
        "kN",
        1,
        0.0,
        20000.0,
        1.0,
        True,
        "as read from the tie bars or the clamp cylinder while closed",
        relative=True,
        transducer="clamp force",
    ),
    Channel(
        "part_weight",
        "Part weight",
        "g",
        3,
        0.0,
        10000.0,
        0.02,
        False,
        "weighed at the bench; whole shot unless said otherwise",
        transducer="balance",
    ),
    Channel(
        "mass_balance",
        "Mass balance",
        "g",
        3,
        -10000.0,
        10000.0,
        0.03,
        True,
        "melt the screw pushed forward, by dose and cushion, less the shot weight; derived, only its changes count",
    ),
)

CHANNELS: dict[str, Channel] = {channel.name: channel for channel in _TABLE}
"""Every channel by name, in the order in which tables and screens show them."""

ALWAYS_CHARTED: tuple[str, ...] = ("cushion", "peak_pressure", "fill_time")
"""The three channels every trial is charted on."""
