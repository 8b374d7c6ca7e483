"""What a press prints after each shot on its printer port, in several invented dialects."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from simulators.press import PressRun, set_point

__all__ = ["DIALECTS", "Dialect", "Field", "line_pattern", "printed"]


@dataclass(frozen=True, slots=True)
class Field:
    """One printed column. `channel` may also be ``counter`` or ``time``, or empty where it is of `set_point`, a key of
    what the press is set to.
    """

    channel: str
    heading: str
    decimals: int = 0
    unit: str = ""
    width: int = 0
    hydraulic: bool = False
    set_point: str = ""


@dataclass(frozen=True, slots=True)
class Dialect:
    """How lines look; fixed columns where there is no delimiter. `header_every` shots the headings are printed again
    (0: never); `skip` is the expression for lines that are no shot.
    """

    delimiter: str
    decimal: str
    end: str
    header_every: int
    skip: str
    fields: tuple[Field, ...]


DIALECTS: dict[str, Dialect] = {
    "semicolon": Dialect(
        ";",
        ",",
        "\r\n",
        20,
        "^(NR;|$)",
        (
            Field("counter", "NR", width=6),
            Field("time", "TIME"),
            Field("fill_time", "FILL s", 3, "s"),
            Field("switchover_position", "XFER mm", 2, "mm"),
            Field("switchover_pressure", "XFER bar", 0, "bar"),
            Field("peak_pressure", "PMAX bar", 0, "bar"),
            Field("cushion", "CUSH mm", 2, "mm"),
            Field("recovery_time", "DOSE s", 2, "s"),
            Field("cycle_time", "CYC s", 1, "s"),
            Field("clamp_force", "CLAMP kN", 1, "kN"),
            Field("insert_temperature", "MOULD C", 1, "degC"),
            Field("part_weight", "WGT g", 3, "g"),
        ),
    ),
    "bar": Dialect(
        " | ",
        ".",
        "\n",
        0,
        "^$",
        (
            Field("counter", "NR"),
            Field("fill_time", "FILL", 2, "s"),
            Field("switchover_position", "XFER", 1, "mm"),
            Field("switchover_pressure", "PX", 0, "bar", hydraulic=True),
            Field("peak_pressure", "PM", 0, "bar", hydraulic=True),
            Field("cushion", "CU", 1, "mm"),
            Field("recovery_time", "DO", 1, "s"),
            Field("cycle_time", "CY", 1, "s"),
        ),
    ),
    "tab": Dialect(
        "\t",
        ".",
        "\r",
        50,
        "^#",
        (
            Field("counter", "# shot"),
            Field("cushion", "cushion mm", 3, "mm"),
            Field("peak_pressure", "peak bar", 1, "bar"),
            Field("fill_time", "fill s", 3, "s"),
            Field("recovery_time", "recovery s", 2, "s"),
            Field("melt_temperature", "nozzle C", 1, "degC"),
            Field("part_weight", "weight g", 3, "g"),
        ),
    ),
    "columns": Dialect(
        "",
        ".",
        "\r\n",
        10,
        "^(SHOT|-|$)",
        (
            Field("counter", "SHOT", width=8),
            Field("cushion", " CUSHION", 2, "mm", 9),
            Field("peak_pressure", " PEAK", 0, "bar", 9),
            Field("fill_time", " FILL", 3, "s", 9),
            Field("cycle_time", " CYCLE", 1, "s", 9),
        ),
    ),
    "settings": Dialect(
        ";",
        ".",
        "\r\n",
        20,
        "^$",
        (
            Field("counter", "NO"),
            Field("fill_time", "FILL", 3, "s"),
            Field("peak_pressure", "PMAX", 0, "bar"),
            Field("cushion", "CUSH", 2, "mm"),
            Field("", "HOLD SET", 0, "bar", set_point="hold_bar"),
            Field("", "COOL SET", 1, "s", set_point="cooling_s"),
        ),
    ),
}


def line_pattern(dialect: Dialect) -> str:
    """Return a regular expression for a line of fixed columns, with a group for each."""
    groups = {"counter": "shot_counter"}
    cells = (rf"\s*(?P<{groups.get(field.channel, field.channel)}>[-+0-9.]+)" for field in dialect.fields)
    return "^" + r"\s".join(cells) + r"\s*$"


def printed(run: PressRun, index: int, counter: int, dialect: Dialect, clock: datetime) -> bytes:
    """Return what is printed for shot `index` (from 0): its line, after the headings where they are due.

    `clock` is what the press's own clock showed at shot 0; presses print local time without a date.
    """
    lines = []
    if dialect.header_every and index % dialect.header_every == 0:
        lines.append(dialect.delimiter.join(field.heading for field in dialect.fields))
    moment = clock + timedelta(seconds=float(run.seconds[index]))
    lines.append(dialect.delimiter.join(_cell(field, run, index, counter, dialect, moment) for field in dialect.fields))
    return "".join(line + dialect.end for line in lines).encode("latin-1")


def _cell(field: Field, run: PressRun, index: int, counter: int, dialect: Dialect, moment: datetime) -> str:
    if field.channel == "counter":
        return f"{counter:0{field.width}d}" if dialect.decimal == "," else f"{counter:{field.width}d}"
    if field.channel == "time":
        return moment.strftime("%H:%M:%S")
    value = set_point(run, index, field.set_point) if field.set_point else float(run.channels[field.channel][index])
    if field.hydraulic:
        value /= run.press.machine.intensification
    return f"{value:{field.width}.{field.decimals}f}".replace(".", dialect.decimal)
