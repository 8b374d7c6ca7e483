"""The odd presses in registers. Every map is invented; what makes each odd stands in its name."""

from tests.learned.odd_press import Moment, OddPress, Place, constant, count, noise, wander

__all__ = ["PRESSES"]


def _screw(m: Moment) -> float:
    """Screw position while the cycle runs: forward, held at the cushion, back to the dose."""
    cushion, dose = m.coming["cushion"], 27.0
    part = m.since % 1.0
    return dose - (dose - cushion) * min(part * 4, 1.0) if part < 0.5 else cushion + (dose - cushion) * (part - 0.5) * 2


def _pressure(m: Moment) -> float:
    """Injection pressure while the cycle runs."""
    part = m.since % 1.0
    return m.coming["peak_pressure"] * min(part * 4, 1.0) if part < 0.25 else max(0.0, 380.0 * (1 - part))


def _phase(m: Moment) -> float:
    return float(int(m.since * 12) % 6)


def _clock(m: Moment) -> tuple[int, int, int]:
    at = int(8 * 3600 + 41 * 60 + 52 + m.at)
    return at // 3600, at // 60 % 60, at % 60


def _zones(first: int, type: str = "int16", scale: float = 0.1) -> tuple[Place, ...]:
    """Four barrel zones that wander all the time, set-points after them."""
    levels = (275.0, 290.0, 290.0, 285.0)
    actual = (Place(first + n, wander(level, 0.15, n), type, scale, moves="live") for n, level in enumerate(levels))
    return (*actual, *(Place(first + 4 + n, constant(level), type, scale) for n, level in enumerate(levels)))


PLAIN = OddPress(
    "a plain one",
    "pyModbusTCP",
    (
        Place(0, count(1041), moves="count"),
        Place(1, "cushion", "int16", 0.01),
        Place(2, "peak_pressure", "uint16", 0.1),
        Place(3, "fill_time", "uint16", 0.001),
        Place(4, "recovery_time", "uint16", 0.01),
        Place(5, "switchover_pressure", "uint16", 0.1),
        Place(6, "switchover_position", "uint16", 0.01),
        Place(7, "cycle_time", "uint16", 0.1),
    ),
    legal="0-39",
    seen=(0, 6),
)

PRESSES: tuple[OddPress, ...] = (
    PLAIN,
    OddPress(
        "floats, low word first, set-points beside",
        "libmodbus",
        (
            Place(100, count(70_311), "uint32", moves="count"),
            Place(102, "cushion", "float32"),
            Place(104, constant(5.0), "float32"),
            Place(106, "peak_pressure", "float32"),
            Place(108, constant(560.0), "float32"),
            Place(110, "fill_time", "float32"),
            Place(112, constant(0.72), "float32"),
            Place(114, "recovery_time", "float32"),
            Place(116, constant(4.6), "float32"),
            Place(118, "melt_temperature", "float32"),
            Place(120, constant(285.0), "float32"),
            Place(122, "cycle_time", "float32"),
        ),
        legal="100-139",
        table="input",
        word_order="little",
        first=70_311,
    ),
    OddPress(
        "bytes swapped",
        "pyModbusTCP",
        (
            Place(20, count(517), moves="count"),
            Place(22, "fill_time", "float32"),
            Place(24, "cushion", "float32"),
            Place(26, "peak_pressure", "uint16", 0.1),
            Place(27, "switchover_pressure", "uint16", 0.1),
            Place(28, "clamp_force", "uint16", 0.1),
            Place(29, constant(80.0), "uint16", 0.1),
            *_zones(30),
        ),
        legal="20-49",
        byte_order="little",
        first=517,
    ),
    OddPress(
        "psi, inch and degF, a total beside the job",
        "libmodbus",
        (
            Place(2, count(2_318_407), "uint32", moves="count"),
            Place(4, count(88), "uint32", moves="count"),
            Place(10, "peak_pressure", "uint16", 1.0, "psi"),
            Place(11, "switchover_pressure", "uint16", 1.0, "psi"),
            Place(12, "cushion", "uint16", 0.0001, "inch"),
            Place(13, "switchover_position", "uint16", 0.0001, "inch"),
            Place(14, "fill_time", "uint16", 1.0, "ms"),
            Place(15, "melt_temperature", "uint16", 0.1, "degF"),
            Place(16, constant(545.0), "uint16", 0.1),
        ),
        legal="0-63",
        first=88,
    ),
    OddPress(
        "16 registers a request, holes, MPa, values first",
        "pyModbusTCP",
        (
            Place(40, count(9_204), "uint32", moves="count"),
            Place(10, "peak_pressure", "uint16", 0.1, "MPa"),
            Place(11, "switchover_pressure", "uint16", 0.1, "MPa"),
            Place(12, "hold_pressure", "uint16", 0.1, "MPa"),
            Place(44, "cushion", "int32", 0.001),
            Place(46, "switchover_position", "int32", 0.001),
            Place(80, "fill_time", "uint16", 0.01),
            Place(81, "recovery_time", "uint16", 0.01),
            Place(82, "hold_time", "uint16", 0.01),
            *_zones(90),
        ),
        legal="10-25,40-55,80-103",
        policy={"most": 16},
        values_s=-0.15,
        first=9_204,
    ),
    OddPress(
        "values 0.4 s late, a copy, a clock and seconds since power-on",
        "libmodbus",
        (
            Place(0, lambda m: _clock(m)[0], moves="live"),
            Place(1, lambda m: _clock(m)[1], moves="live"),
            Place(2, lambda m: _clock(m)[2], moves="live"),
            Place(3, lambda m: 51_772 + m.at, "uint32", moves="live"),
            Place(8, count(3_306), moves="count"),
            Place(10, "cushion", "uint16", 0.01),
            Place(11, "peak_pressure", "uint16", 1.0),
            Place(12, "fill_time", "uint16", 0.01),
            Place(13, "recovery_time", "uint16", 0.1),
            Place(50, "cushion", "uint16", 0.01),
            Place(51, "peak_pressure", "uint16", 1.0),
            Place(52, "fill_time", "uint16", 0.01),
            Place(53, "recovery_time", "uint16", 0.1),
        ),
        legal="0-99",
        cycle_s=1.0,
        values_s=0.4,
        first=3_306,
    ),
    OddPress(
        "cavities, dry cycles and pieces to go are counted too",
        "pyModbusTCP",
        (
            Place(0, count(4 * 1041, 4), "uint32", moves="count"),
            Place(2, count(1_977, dry=True), moves="count"),
            Place(8, count(1041), moves="count"),
            Place(9, count(500, -1), moves="count"),
            Place(20, "cushion", "int16", 0.01),
            Place(21, constant(5.0), "int16", 0.01),
            Place(22, "peak_pressure", "uint16", 0.1),
            Place(23, "switchover_pressure", "uint16", 0.1),
            Place(24, constant(560.0), "uint16", 0.1),
            Place(25, "fill_time", "uint16", 0.001),
        ),
        legal="0-63",
        dry_after=(3, 8, 14, 18, 23, 28, 33, 38),
    ),
    OddPress(
        "a count that rolls over, 32-bit thousandths",
        "libmodbus",
        (
            Place(60, count(65_531, last=65_535), moves="count"),
            Place(62, "cushion", "int32", 0.001),
            Place(64, "peak_pressure", "int32", 0.01),
            Place(66, "fill_time", "int32", 0.0001),
            Place(68, "switchover_position", "int32", 0.001),
            Place(70, "part_weight", "int32", 0.001),
        ),
        legal="60-79",
        word_order="little",
        first=65_531,
    ),
    OddPress(
        "running values beside the last shot, bits and noise",
        "pyModbusTCP",
        (
            Place(0, lambda m: 1 << int(_phase(m)) | 0x0100, moves="live"),
            Place(1, _phase, moves="live"),
            Place(2, _screw, "int16", 0.01, moves="live"),
            Place(3, _pressure, "uint16", 0.1, moves="live"),
            Place(4, lambda m: m.since, "uint16", 0.001, moves="live"),
            Place(5, noise(0, 65_535), moves="live"),
            Place(6, noise(4_000, 5_000, 2), moves="live"),
            *_zones(8),
            Place(30, count(212), moves="count"),
            Place(31, count(0, 1, last=255), moves="count"),
            Place(32, "cushion", "int16", 0.01),
            Place(33, "peak_pressure", "uint16", 0.1),
            Place(34, "fill_time", "uint16", 0.001),
            Place(35, "insert_temperature", "int16", 0.1),
            Place(36, "clamp_force", "uint16", 0.1),
            Place(37, "recovery_time", "uint16", 0.001),
        ),
        legal="0-63",
        first=212,
        cycle_s=0.6,
    ),
    OddPress(
        "a slow gateway",
        "libmodbus",
        (
            Place(1, count(40_020), moves="count"),
            Place(2, "peak_pressure", "uint16", 1.0),
            Place(3, "fill_time", "uint16", 0.01),
            Place(4, "cushion", "uint16", 0.1),
            Place(5, "recovery_time", "uint16", 0.1),
        ),
        legal="0-124",
        policy={"slow_ms": 200},
        cycle_s=1.5,
        stand_s=40.0,
        first=40_020,
    ),
    OddPress(
        "busy at times, hangs up once, holes",
        "pyModbusTCP",
        (
            Place(30, count(630), "uint16", moves="count"),
            Place(31, "fill_time", "uint16", 0.001),
            Place(32, "peak_pressure", "uint16", 0.1),
            Place(64, "cushion", "int16", 0.01),
            Place(65, "switchover_position", "int16", 0.01),
        ),
        legal="30-33,64-79",
        policy={"refuse_every": 41, "refuse_code": 6, "drop_at": 40},
        first=630,
        cycle_s=2.5,
    ),
    OddPress(
        "digits in BCD",
        "pyModbusTCP",
        (
            Place(0, count(1_095), "bcd16", moves="count"),
            Place(2, "fill_time", "bcd16", 0.001),
            Place(3, "cushion", "uint16", 0.01),
            Place(4, "peak_pressure", "uint16", 0.1),
            Place(5, "recovery_time", "bcd16", 0.01),
        ),
        legal="0-31",
        first=1_095,
    ),
    OddPress(
        "count low word first, floats high word first",
        "libmodbus",
        (
            Place(10, count(131_905), "uint32", order="little", moves="count"),
            Place(12, "peak_pressure", "float32"),
            Place(14, "switchover_pressure", "float32"),
            Place(16, "cushion", "float32"),
            Place(18, "fill_time", "float32"),
            Place(20, "dose_position", "float32"),
        ),
        legal="10-29",
        first=131_905,
    ),
    OddPress(
        "nothing but a count of cavities",
        "libmodbus",
        (
            Place(0, count(2_082, 2), moves="count"),
            Place(1, "cushion", "int16", 0.01),
            Place(2, "peak_pressure", "uint16", 0.1),
            Place(3, "fill_time", "uint16", 0.001),
        ),
        legal="0-15",
        first=2_082,
        countable=False,
    ),
    OddPress(
        "addresses from 8192, doubles, hydraulic",
        "libmodbus",
        (
            Place(8192, count(24_118), "uint32", moves="count"),
            Place(8200, "cushion", "float64"),
            Place(8204, "peak_pressure", "float64"),
            Place(8208, "fill_time", "float64"),
            Place(8212, "back_pressure", "float64"),
        ),
        legal="8192-8255",
        registers="8192-8300",
        hydraulic=11.2,
        first=24_118,
        screen={"cushion": 2, "peak_pressure": 1, "fill_time": 3},
    ),
    OddPress(
        "silicone, milliseconds in 32 bits, a count of four digits",
        "pyModbusTCP",
        (
            Place(150, count(9_994, last=9_999), moves="count"),
            Place(151, "fill_time", "uint32", 1.0, "ms"),
            Place(153, "cycle_time", "uint32", 1.0, "ms"),
            Place(155, "peak_pressure", "uint16", 0.1),
            Place(156, "cushion", "int16", 0.01),
            Place(157, "insert_temperature", "int16", 0.1),
            Place(158, "melt_temperature", "int16", 0.1),
        ),
        legal="150-169",
        scenario=("silicone", "P60"),
        first=9_994,
    ),
    OddPress(
        "a small press at its own pace, the cycle runs",
        "pyModbusTCP",
        (
            Place(0, lambda m: 2_771 + m.at, "uint32", moves="live"),
            Place(2, count(604_331), "uint32", moves="count"),
            Place(4, lambda m: m.since, "uint16", 0.01, moves="live"),
            Place(5, "cycle_time", "uint16", 0.01),
            Place(6, "fill_time", "uint16", 0.001),
            Place(7, "cushion", "uint16", 0.01),
            Place(8, "peak_pressure", "uint16", 1.0),
            Place(9, "switchover_pressure", "uint16", 1.0),
            Place(10, "back_pressure", "uint16", 1.0),
            Place(11, "hold_pressure", "uint16", 1.0),
            Place(12, "clamp_force", "uint16", 0.1),
            *_zones(20),
        ),
        legal="0-31",
        cycle_s=4.0,
        first=604_331,
        scenario=("softening", "P32"),
        free=(),
        true_cycle=True,
    ),
)
