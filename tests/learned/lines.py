"""Presses that print a line a shot, each in a way of its own; every form is invented."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tests.learned.shots import made

__all__ = ["PRINTERS", "LinePress"]

Values = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class LinePress:
    """One printer. `line` gives what it prints for shot `n` (the count is `first` + n), `places` the last
    digit of each channel, in its own unit. `right`: the keys of the right configuration; `units`: those
    of the screen, where they are not the channel's own.
    """

    name: str
    wire: str
    line: Callable[[int, Values], str]
    places: Mapping[str, float]
    first: int = 117
    cycle_s: float = 0.4
    keys: Mapping[str, int | str] = field(default_factory=dict)
    scenario: tuple[str, str] = ("demo", "P25")
    screen: Mapping[str, int] = field(default_factory=lambda: {"cushion": 2, "peak_pressure": 0, "fill_time": 2})
    hydraulic: float = 1.0
    unreadable: tuple[str, ...] = ()
    free: tuple[str, ...] = ()
    countable: bool = True
    right: str = ""
    units: Mapping[str, str] = field(default_factory=dict)
    seen: tuple[int, int] = (5, 9)
    stand_s: float = 6.0
    encoding: str = "latin-1"

    def shots(self) -> tuple[Values, ...]:
        """Return the values of its shots, in the units of the channels."""
        plain = made(*self.scenario, seed=sum(self.name.encode()))
        pressures = ("peak_pressure", "switchover_pressure")
        return tuple({**one, **{name: one[name] / self.hydraulic for name in pressures}} for one in plain)

    def printed(self, n: int, values: Values) -> bytes:
        """Return the bytes of one shot."""
        return self.line(self.first + n, values).encode(self.encoding)


def _semicolon(shot: int, v: Values) -> str:
    head = "NR;TIME;FILL s;XFER mm;XFER bar;PMAX bar;CUSH mm;DOSE s;CYC s\r\n" if shot % 20 == 0 or shot == 118 else ""
    clock = f"{8 + shot // 3600:02d}:{shot // 60 % 60:02d}:{shot % 60:02d}"
    numbers = (
        f"{v['fill_time']:.3f};{v['switchover_position']:.2f};{v['switchover_pressure']:.0f};{v['peak_pressure']:.0f};"
        f"{v['cushion']:.2f};{v['recovery_time']:.2f};{v['cycle_time']:.1f}"
    )
    return f"{head}{shot:06d};{clock};{numbers.replace('.', ',')}\r\n"


def _bars(shot: int, v: Values) -> str:
    return (
        f"{shot:4d} | {v['fill_time']:.2f} | {v['switchover_position']:.1f} | {v['switchover_pressure']:.0f} | "
        f"{v['peak_pressure']:.0f} | {v['cushion']:.1f} | {v['recovery_time']:.1f} | {v['cycle_time']:.1f}\n"
    )


def _tabs(shot: int, v: Values) -> str:
    head = "# shot\tcushion in\tpeak psi\tfill ms\tnozzle F\tweight g\r" if shot % 50 == 0 or shot == 118 else ""
    line = (
        f"{shot}\t{v['cushion'] / 25.4:.4f}\t{v['peak_pressure'] / 0.0689475729:.0f}\t{v['fill_time'] * 1000:.0f}\t"
        f"{v['melt_temperature'] * 1.8 + 32:.1f}\t{v['part_weight']:.3f}\r"
    )
    mean = "MEAN\t0.1952\t7860\t720\t545.1\t10.201\r" if shot % 5 == 0 else ""
    alarm = "ALARM 17 low hopper\r" if shot % 7 == 0 else ""
    return head + line + mean + alarm


def _columns(shot: int, v: Values) -> str:
    head = "    SHOT  CUSHION     PEAK   ACTFILL SETFILL  ZONE1\r\n" if shot % 10 == 0 or shot == 118 else ""
    zone = "****" if shot % 6 == 0 else f"{v['zone_1']:.0f}"
    numbers = f"{v['cushion']:8.2f} {v['peak_pressure'] / 10:8.1f} {v['fill_time']:9.3f} {0.72:7.2f} {zone:>6}"
    return f"{head}\x02{shot:8d} {numbers}\x03\r\n"


PRINTERS: tuple[LinePress, ...] = (
    LinePress(
        "semicolon and comma",
        "pty",
        _semicolon,
        {
            "fill_time": 0.001,
            "switchover_position": 0.01,
            "switchover_pressure": 1.0,
            "peak_pressure": 1.0,
            "cushion": 0.01,
            "recovery_time": 0.01,
            "cycle_time": 0.1,
        },
        keys={"baudrate": 9600},
        right="""decimal = ","
shot_counter = { field = 1 }
skip = "^NR"
[press.collector.channels]
fill_time = { field = 3, unit = "s" }
switchover_position = { field = 4, unit = "mm" }
switchover_pressure = { field = 5, unit = "bar" }
peak_pressure = { field = 6, unit = "bar" }
cushion = { field = 7, unit = "mm" }
recovery_time = { field = 8, unit = "s" }
cycle_time = { field = 9, unit = "s" }
""",
    ),
    LinePress(
        "bars without a heading, hydraulic",
        "tcp",
        _bars,
        {
            "fill_time": 0.01,
            "switchover_position": 0.1,
            "switchover_pressure": 1.0,
            "peak_pressure": 1.0,
            "cushion": 0.1,
            "recovery_time": 0.1,
            "cycle_time": 0.1,
        },
        hydraulic=11.2,
        right="""delimiter = "|"
shot_counter = { field = 1 }
[press.collector.channels]
fill_time = { field = 2, unit = "s" }
switchover_position = { field = 3, unit = "mm" }
switchover_pressure = { field = 4, unit = "bar" }
peak_pressure = { field = 5, unit = "bar" }
cushion = { field = 6, unit = "mm" }
recovery_time = { field = 7, unit = "s" }
cycle_time = { field = 8, unit = "s" }
""",
    ),
    LinePress(
        "tabs, inch and psi, means and alarms between",
        "tcp",
        _tabs,
        {
            "cushion": 0.0001 * 25.4,
            "peak_pressure": 0.069,
            "fill_time": 0.001,
            "melt_temperature": 0.1 / 1.8,
            "part_weight": 0.001,
        },
        units={"cushion": "inch", "peak_pressure": "psi", "fill_time": "ms", "melt_temperature": "degF"},
        right="""delimiter = "\t"
skip = "^(#|MEAN|ALARM)"
shot_counter = { field = 1 }
[press.collector.channels]
cushion = { field = 2, unit = "inch" }
peak_pressure = { field = 3, unit = "psi" }
fill_time = { field = 4, unit = "ms" }
melt_temperature = { field = 5, unit = "degF" }
part_weight = { field = 6, unit = "g" }
""",
    ),
    LinePress(
        "fixed columns in MPa, framed",
        "pty",
        _columns,
        {"cushion": 0.01, "peak_pressure": 1.0, "fill_time": 0.001},
        units={"peak_pressure": "MPa"},
        keys={"baudrate": 4800},
        right=r"""pattern = '\s*(?P<shot_counter>\d+) +(?P<cushion>\S+) +(?P<peak_pressure>\S+) +(?P<fill_time>\S+) .*'
skip = "SHOT"
[press.collector.channels]
cushion = { unit = "mm" }
peak_pressure = { unit = "MPa" }
fill_time = { unit = "s" }
""",
    ),
)
