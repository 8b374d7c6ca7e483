"""What is known of insert designs: the tables under `[design]`."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from shotlog.channels import CHANNELS
from shotlog.settings.section import Section, fits_a_cell

__all__ = ["Bound", "DesignSettings", "designs"]


@dataclass(frozen=True, slots=True)
class Bound:
    """Action limits of one channel, in its unit; None where there is none."""

    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class DesignSettings:
    """What is known of an insert design.

    `settling_shots`: shots after a mount or a stop that are shown and not judged. `baseline_shots`: shots the own
    level is taken from. `limits` are the technician's action limits, `least_change` the smallest change that matters,
    both by channel in its unit. `cost` is free of currency. `cavities`: parts a shot makes. `dissolve_h`: hours a part
    stays in the bath until its single-use half is gone; None where the part must not go into one. `tolerance`: of what
    is measured on parts, `part_weight` in g and all else in mm. `switchover`: what ends the fill, ``position``,
    ``pressure`` or ``time``; `pressure_limited`: the fill runs at the pressure limit of the press. `chart_limits`: of
    the charts, ``per-life``, by which few sound lives show any signal, or plain ``3-sigma``.
    """

    name: str = ""
    resin_family: str = ""
    settling_shots: int = 10
    baseline_shots: int = 12
    limits: Mapping[str, Bound] = field(default_factory=dict)
    least_change: Mapping[str, float] = field(default_factory=dict)
    cost: Mapping[str, float] = field(default_factory=dict)
    cavities: int = 1
    dissolve_h: float | None = 24.0
    tolerance: Mapping[str, Bound] = field(default_factory=dict)
    switchover: str = "position"
    pressure_limited: bool = False
    chart_limits: str = "per-life"


def designs(root: Section) -> Iterator[tuple[str, DesignSettings]]:
    for name, section in root.items():
        if not fits_a_cell(name, ";"):
            raise root.wrong(name, "a design named without ; line breaks, or blanks at its ends")
        known = DesignSettings()
        design = DesignSettings(
            name=name,
            resin_family=section.text("resin_family", ""),
            settling_shots=section.integer("settling_shots", 0, 1000, known.settling_shots),
            baseline_shots=section.integer("baseline_shots", 5, 1000, known.baseline_shots),
            limits=dict(_bounds(section.section("limits", optional=True))),
            least_change=dict(_per_channel(section.section("least_change", optional=True), 0.0)),
            cost=dict(_costs(section.section("cost", optional=True))),
            cavities=section.integer("cavities", 1, 512, known.cavities),
            dissolve_h=_dissolve_h(section),
            tolerance=dict(_ends(section.section("tolerance", optional=True))),
            switchover=section.choice("switchover", ("position", "pressure", "time"), known.switchover),
            pressure_limited=section.flag("pressure_limited", known.pressure_limited),
            chart_limits=section.choice("chart_limits", ("per-life", "3-sigma"), known.chart_limits),
        )
        section.finish()
        yield name, design


def _dissolve_h(section: Section) -> float | None:
    """Read how long a part of this design stays in the bath, and whether it may go into one."""
    allowed = section.choice("dissolve", ("allowed", "not allowed"), "allowed") == "allowed"
    hours = section.number("dissolve_h", 0.001, 1000.0, 24.0)
    return hours if allowed else None


def _bounds(root: Section) -> Iterator[tuple[str, Bound]]:
    for name in root.keys():  # noqa: SIM118  (a Section is no dict)
        if name not in CHANNELS:
            raise root.unknown(name, CHANNELS)
    return _ends(root)


def _ends(root: Section) -> Iterator[tuple[str, Bound]]:
    for name, section in root.items():
        ends = {end: section.number(end, -1e9, 1e9) if section.has(end) else None for end in ("low", "high")}
        if ends["low"] is None and ends["high"] is None:
            raise root.wrong(name, "low, high or both")
        if ends["low"] is not None and ends["high"] is not None and ends["low"] >= ends["high"]:
            raise root.wrong(name, "low below high")
        section.finish()
        yield name, Bound(**ends)


def _per_channel(section: Section, low: float) -> Iterator[tuple[str, float]]:
    for name in section.keys():  # noqa: SIM118  (a Section is no dict)
        if name not in CHANNELS:
            raise section.unknown(name, CHANNELS)
        yield name, section.number(name, low, 1e9)


def _costs(section: Section) -> Iterator[tuple[str, float]]:
    for name in ("part", "insert", "changeover", "late_find"):
        if section.has(name):
            yield name, section.number(name, 0.0, 1e9)
    section.finish()
