"""What a press that speaks EUROMAP 63 knows: its tokens with unit and digits, as GETID lists them, and their values.

Tokens `Act...` of the table were seen in public programs that use the standard; those marked below, and every
set-point, are spelled after their pattern and not verified on a real press.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from math import pi

from simulators.press import PressRun

__all__ = ["CHANNEL_TOKENS", "TOKENS", "Token", "getid", "getinfo", "in_other_units", "text_of"]

Source = Callable[[PressRun, int], float | str]


@dataclass(frozen=True, slots=True)
class Token:
    """One thing the press knows. `digits` and `decimals` as GETID gives them; `factor` and `offset` turn the
    simulator's unit into `unit`. `setting`: the set-point of the story it shows. A `source` of None is the press's
    own business: its counters and its clock.
    """

    name: str
    unit: str
    decimals: int
    label: str
    source: Source | None = None
    setting: str = ""
    text: bool = False
    digits: int = 8
    factor: float = 1.0
    offset: float = 0.0

    def value(self, run: PressRun, index: int) -> float | str:
        """Return its value at shot `index` (from 0) in its unit; a text as it is."""
        if self.source is None:
            raise LookupError(self.name)
        value = self.source(run, index)
        return value if isinstance(value, str) else value * self.factor + self.offset


def _channel(name: str) -> Source:
    return lambda run, index: float(run.channels[name][index])


def _more(name: str) -> Source:
    return lambda run, index: float(run.more[name][index])


def _set(key: str) -> Source:
    return lambda run, index: float(run.line.set[key][index])


def _cushion_cm3(run: PressRun, index: int) -> float:
    return float(run.channels["cushion"][index]) * pi * run.press.machine.screw_mm**2 / 4000.0


_TABLE = (
    Token("ActCntCyc", "", 0, "Cycle counter"),
    Token("ActCntMachAdd", "", 0, "Cycles over the life of the machine"),
    Token("ActCntCycRej", "", 0, "Rejected cycles", lambda run, index: 0.0),
    Token("ActTimCyc", "s", 1, "Actual Cycle Time", _channel("cycle_time")),
    Token("ActTimFill[1]", "s", 3, "Fill time", _channel("fill_time")),
    Token("ActStrCsh[1]", "mm", 2, "Cushion", _channel("cushion")),
    Token("ActVolCsh[1,1]", "cm3", 3, "Cushion volume", _cushion_cm3),
    Token("ActPrsMachSpecMax", "bar", 1, "Highest specific pressure", _channel("peak_pressure")),
    Token("ActPrsXfrSpec[1]", "bar", 1, "Specific pressure at transfer", _channel("switchover_pressure")),
    Token("ActStrXfr[1]", "mm", 2, "Stroke at transfer", _channel("switchover_position")),
    Token("ActTimPlst[1]", "s", 2, "Plasticising time", _channel("recovery_time")),
    Token("ActPrsHldSpecMax[1]", "bar", 1, "Highest hold pressure", _more("hold_pressure")),
    Token("ActStrPlst[1]", "mm", 2, "Plasticising stroke", _more("dose_position")),
    *(
        Token(f"ActTmpBrlZn[1,{zone}]", "°C", 1, f"Barrel zone {zone}, heißer Bereich", _more(f"zone_{zone}"))
        for zone in (1, 2, 3)
    ),
    Token("ActTmpBrlZn[1,4]", "°C", 1, "Barrel zone 4, Düse", _channel("melt_temperature")),
    # from here on spelled after the pattern of the others
    Token("ActStsMach", "", 0, "Machine status", lambda run, index: "AUTO", text=True),
    Token("SetDescJob", "", 0, "Name of the job", lambda run, index: f"{run.press.name}, Größe 2", text=True),
    Token("SetPrsHldSpec[1]", "bar", 1, "Hold pressure, set", _set("hold_bar"), "hold_bar"),
    Token("SetTimHld[1]", "s", 2, "Hold time, set", _set("hold_s"), "hold_s"),
    Token("SetTimCool", "s", 1, "Cooling time, set", _set("cooling_s"), "cooling_s"),
    Token("SetStrXfr[1]", "mm", 2, "Transfer stroke, set", _set("switchover_mm"), "switchover_mm"),
    Token("SetStrPlst[1]", "mm", 2, "Plasticising stroke, set", _set("dose_mm"), "dose_mm"),
    Token("SetSpdInj[1]", "mm/s", 1, "Injection speed, set", _set("speed_mm_s"), "speed_mm_s"),
    Token("SetPrsBck[1]", "bar", 1, "Back pressure, set", _set("back_pressure_bar"), "back_pressure_bar"),
    Token("SetFceClp", "kN", 1, "Clamp force, set", _set("clamp_kn"), "clamp_kn"),
)

TOKENS: dict[str, Token] = {token.name: token for token in _TABLE}
"""Every token by name."""

CHANNEL_TOKENS = {
    "cushion": "ActStrCsh[1]",
    "peak_pressure": "ActPrsMachSpecMax",
    "fill_time": "ActTimFill[1]",
    "switchover_pressure": "ActPrsXfrSpec[1]",
    "switchover_position": "ActStrXfr[1]",
    "recovery_time": "ActTimPlst[1]",
    "cycle_time": "ActTimCyc",
    "melt_temperature": "ActTmpBrlZn[1,4]",
}
"""The token each channel of the logger is read from."""

_OTHER = {
    "mm": ("inch", 1 / 25.4, 0.0, 2),
    "mm/s": ("inch/s", 1 / 25.4, 0.0, 2),
    "bar": ("psi", 14.503773773, 0.0, 0),
    "s": ("ms", 1000.0, 0.0, -3),
    "°C": ("°F", 1.8, 32.0, 0),
}


def in_other_units() -> dict[str, Token]:
    """Return the tokens as a press gives them that was built for inches and psi, and counts times in ms."""
    changed = {}
    for token in _TABLE:
        unit, factor, offset, more = _OTHER.get(token.unit, (token.unit, 1.0, 0.0, 0))
        decimals = max(0, token.decimals + more)
        changed[token.name] = replace(token, unit=unit, factor=factor, offset=offset, decimals=decimals)
    return changed


def text_of(token: Token, value: float | str) -> str:
    """Return a value as the press writes it: a text in quotes, a number with its decimals."""
    return f'"{value}"' if isinstance(value, str) else f"{value:.{token.decimals}f}"


def getid(tokens: Mapping[str, Token], dates: bool) -> list[str]:
    """Return the lines of GETID: token, numeric or text, digits, decimals, writable, unit, text."""
    lines = [
        f"{token.name},{'A' if token.text else 'N'},{token.digits},{token.decimals},"
        f'{int(token.name.startswith("Set"))},"{token.unit}","{token.label}";'
        for token in tokens.values()
    ]
    if dates:
        lines[:0] = ['DATE,A,8,0,0,"","Date";', 'TIME,A,8,0,0,"","Time";', 'COUNT,N,8,0,0,"","Count";']
    return lines


def getinfo(known: Mapping[str, object], between: str) -> list[str]:
    """Return the lines of GETINFO, a name and its value each; how they are told apart is not known."""
    sign = {"comma": ",", "space": " ", "equals": "="}[between]
    quoted = {name: value if isinstance(value, int) else f'"{value}"' for name, value in known.items()}
    return [f"{name}{sign}{value};" for name, value in quoted.items()]
