"""What a press is and how it is set: the constants of the model, group by group, read from TOML.

Defaults are the press of the scenario *latch pawl day* (25 t, 22 mm screw, filled polyamide 66); `presets.toml` holds
the others. All pressures are specific (in the melt). Values without a source are common practice or were chosen to
give magnitudes and spreads of common practice; they are the simulator's, and no limits for a real press.
"""

from collections.abc import Mapping
from dataclasses import Field, dataclass, field, fields, is_dataclass, replace
from math import pi
from typing import Any, ClassVar, Protocol, TypeVar

__all__ = ["Machine", "MachineLevel", "MachineNoise", "Resin", "Response", "ScenarioError", "SetPoints", "fill_in"]


class _Dataclass(Protocol):
    __dataclass_fields__: ClassVar[dict[str, Field[Any]]]


T = TypeVar("T", bound=_Dataclass)


class ScenarioError(Exception):
    """A scenario is wrong: one sentence that says where, what was given and what is allowed."""


@dataclass(frozen=True, slots=True)
class Resin:
    """The melt: densities (g/cm3) at dose and at hold, power-law index, and how viscosity answers to melt temperature
    (1/degC).

    `viscosity_exponent`: share in which a change of viscosity shows in fill pressure; below 1 because a stiffer melt
    is sheared hotter (own choice).
    """

    name: str = "PA66-GF30"
    dose_density: float = 1.226
    hold_density: float = 1.2688
    flow_index: float = 0.35
    per_degc: float = 0.007
    viscosity_exponent: float = 0.9
    compressibility_per_bar: float = 1.0e-4


@dataclass(frozen=True, slots=True)
class SetPoints:
    """What the technician sets. Any number here may be edited while the press runs, save the zones."""

    dose_mm: float = 27.0
    pull_back_mm: float = 2.0
    speed_mm_s: float = 30.0
    switchover: str = "position"
    switchover_mm: float = 9.0
    switchover_bar: float = 520.0
    switchover_s: float = 0.72
    limit_bar: float = 750.0
    hold_bar: float = 380.0
    hold_s: float = 4.0
    cooling_s: float = 45.0
    back_pressure_bar: float = 50.0
    clamp_kn: float = 80.0
    mould_degc: float = 30.0
    barrel_shift_degc: float = 0.0
    zones_degc: tuple[float, ...] = (275.0, 290.0, 290.0, 285.0)


@dataclass(frozen=True, slots=True)
class MachineLevel:
    """Where the settled press stands at its set-points: pressure lost in each part of the flow path, times,
    temperatures.

    `end_slope_bar_mm`: rise of pressure per mm of screw just before switchover. `ramp_s`: time the drive takes to
    reach speed and to stop. `seal_s`: time to gate sealing. `insert_tau`: time constant of the insert's warm-up, in
    shots; `cool_min` of its cooling in a stop, in minutes. `barrel_cold_*`: how much colder the melt is at the first
    shot after the press was off, and over how many shots that goes.
    """

    cushion_mm: float = 4.94
    nozzle_bar: float = 60.0
    runner_bar: float = 88.0
    cavity_bar: float = 190.0
    gate_bar: float = 182.0
    gate_radius_mm: float = 0.60
    overshoot_bar: float = 22.0
    end_slope_bar_mm: float = 60.0
    ramp_s: float = 0.05333
    recovery_s: float = 4.60
    cycle_s: float = 75.0
    open_s: float = 12.0
    seal_s: float = 3.2
    insert_degc: float = 64.0
    cold_degc: float = 28.0
    swap_degc: float = 30.0
    insert_tau: float = 9.0
    cool_min: float = 22.0
    compliance_mm3_bar: float = 0.03
    barrel_cold_degc: float = 0.0
    barrel_cold_shots: float = 6.0


@dataclass(frozen=True, slots=True)
class Response:
    """How the settled press answers to a change of state.

    Cushion terms are in mm: a colder insert or a stiffer melt hands on less hold pressure, so the cavity takes less
    and more is left. Order of magnitude: 9 % more viscosity costs about 41 bar; at 1e-4 per bar a 10.2 g shot then
    takes 0.042 g less, which is 0.087 mm on a 22 mm screw; the demo press has 0.065 mm. `packed_share`: of such a
    change 95 % is missing in the cavity, the rest is melt between screw tip and gate that is packed less.
    `take_back_g_mm`: how much lighter a shot gets per mm of cushion lost behind the check ring. `forced_share`: where
    the switchover point lies below the cushion the screw would leave, this share of the melt pushed on stays in the
    cavity, the rest comes back with the screw when fill pressure falls to hold (seen on a real press in open data).
    `lighter_per_speed`: a fill e times faster is lighter by this share, as it shears the melt hotter (0.15 % at +67 %
    on that press). `relief_bar_mm`: fill pressure saved per mm of screw travel that goes into flash.
    """

    bar_per_degc: float = 1.1
    mm_per_degc: float = 0.006
    mm_per_stiffness: float = 0.72
    mm_per_tired: float = 0.43
    mm_per_melt_degc: float = -0.011
    mm_per_seal_s: float = -0.15
    mm_per_mm_early: float = 0.08
    forced_share: float = 0.05
    bed_mm: float = 0.10
    bed_shots: float = 5.0
    packed_share: float = 0.95
    take_back_g_mm: float = 0.03
    relief_bar_mm: float = 22.0
    recovery_s_per_stiffness: float = -1.2
    tired_share: float = 0.04
    tired_min: float = 15.0
    tired_keep: float = 0.6
    backflow_g_s: float = 0.10
    shrink_per_mould_degc: float = 5.0e-5
    lighter_per_speed: float = 0.002


@dataclass(frozen=True, slots=True)
class MachineNoise:
    """Shot-to-shot spread (standard deviations), and its structure.

    `pressure_*`: first-order autoregression of switchover pressure. `melt_*`: slow wander of melt temperature.
    `cushion_mm` is shared with the weight: `take_share` of it is a cavity that takes more, the rest is a dose that
    holds more. `reading_*`: sensor and balance. `piece_*`: each single-use piece differs. `sister_*`: inserts (or
    print batches) of one design differ; in g both are of the weighing, as a piece is weighed with its part.
    `cycle_s`: half-normal excess of a press's own cycle, `cycle_hand_s`: skewed spread of a hand that loads pieces.
    `alternating_*`: every second shot is higher by this much (seen on a real press in open data). `rounded`: least
    digit of channels.
    """

    fill_s: float = 0.004
    position_mm: float = 0.02
    pressure_phi: float = 0.35
    pressure_bar: float = 3.6
    overshoot_bar: float = 2.0
    alternating_bar: float = 0.0
    alternating_mm: float = 0.0
    cushion_phi: float = 0.0
    cushion_mm: float = 0.045
    take_share: float = 0.55
    reading_mm: float = 0.03
    reading_g: float = 0.009
    weight_phi: float = 0.0
    weight_g: float = 0.0
    hold_bar: float = 1.0
    recovery_s: float = 0.09
    recovery_phi: float = 0.0
    recovery_slow_s: float = 0.0
    cycle_s: float = 1.2
    cycle_hand_s: float = 0.0
    open_s: float = 3.0
    clamp_kn: float = 0.25
    zone_phi: float = 0.9
    zone_degc: float = 0.22
    insert_degc: float = 0.8
    melt_phi: float = 0.9
    melt_degc: float = 0.25
    back_pressure_bar: float = 0.5
    piece_bar: float = 0.0
    piece_mm: float = 0.0
    piece_g: float = 0.0
    sister_bar: float = 0.0
    sister_mm: float = 0.0
    sister_g: float = 0.0
    flyer_share: float = 0.0
    flyer_mm: float = 0.0
    rounded: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Machine:
    """One press with its mould frame and resin."""

    screw_mm: float = 22.0
    intensification: float = 11.2
    resin: Resin = field(default_factory=Resin)
    set: SetPoints = field(default_factory=SetPoints)
    level: MachineLevel = field(default_factory=MachineLevel)
    response: Response = field(default_factory=Response)
    noise: MachineNoise = field(default_factory=MachineNoise)

    @property
    def screw_area_mm2(self) -> float:
        """Screw cross-section, mm2."""
        return pi / 4.0 * self.screw_mm**2

    @property
    def g_per_mm(self) -> float:
        """Mass of one mm of cushion, g."""
        return self.screw_area_mm2 * self.resin.hold_density * 1e-3

    @property
    def shot_g(self) -> float:
        """Mass of a settled shot, from the mass balance, g."""
        dosed = self.screw_area_mm2 * self.resin.dose_density * 1e-3 * self.set.dose_mm
        return dosed - self.g_per_mm * self.level.cushion_mm


def fill_in(base: T, table: Mapping[str, Any], where: str) -> T:
    """Return the dataclass `base` with the keys of `table` in place of its own, tables within it likewise.

    Raises
    ------
    ScenarioError
        A key is unknown or a value has another type than the one it replaces.
    """
    known = {entry.name: getattr(base, entry.name) for entry in fields(base)}
    changes: dict[str, Any] = {}
    for key, value in table.items():
        if key not in known:
            raise ScenarioError(f"{where}: given {key!r}, allowed: {', '.join(known)}")
        changes[key] = _like(known[key], value, f"{where}.{key}")
    return replace(base, **changes)


def _like(old: Any, value: Any, where: str) -> Any:
    if is_dataclass(old) and not isinstance(old, type) and isinstance(value, dict):
        return fill_in(old, value, where)
    if isinstance(old, tuple) and isinstance(value, list):
        return tuple(float(item) for item in value)
    if isinstance(old, Mapping) and isinstance(value, dict):
        return dict(value)
    if isinstance(old, float) and isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value)
    if old is None or type(old) is type(value):
        return value
    raise ScenarioError(f"{where}: given {value!r}, allowed: the same kind as {old!r}")
