"""What a person asks of a plan, and the figures given by hand."""

from dataclasses import dataclass

from shotlog.errors import UsageError

__all__ = ["PlanAsked", "check_asked"]

_MOST_PARTS = 20_000


@dataclass(frozen=True, slots=True)
class PlanAsked:
    """What a person asks for: `parts` accepted of `design`; figures given by hand, None where the log is to say.

    `life`: shots that half of the inserts reach; `shape`: how alike they live (Weibull), with a life only. `scrap`,
    `breakage`: shares, 0 to 1. `late`: bad shots made until an insert that has gone off is out. `planned`: shots after
    which inserts of `design` are swapped though sound. `bath_parts`: how many parts one bath takes at a time.
    """

    design: str
    parts: int
    life: float | None = None
    shape: float | None = None
    scrap: float | None = None
    cycle_s: float | None = None
    changeover_min: float | None = None
    settling: int | None = None
    breakage: float | None = None
    late: int | None = None
    planned: int | None = None
    single_use: bool | None = None
    bath_parts: int | None = None
    dissolve_h: float | None = None


def check_asked(asked: PlanAsked) -> None:
    """Refuse figures that cannot be.

    Raises
    ------
    UsageError
        One is beyond what it may be, or the scatter of lives is given without a life.
    """
    for name, value, low, high in (
        ("parts", asked.parts, 1, _MOST_PARTS),
        ("life", asked.life, 1.0, 1e6),
        ("shape", asked.shape, 0.3, 50.0),
        ("scrap", asked.scrap, 0.0, 0.99),
        ("cycle_s", asked.cycle_s, 0.1, 1e5),
        ("changeover_min", asked.changeover_min, 0.0, 1e4),
        ("settling", asked.settling, 0, 1000),
        ("breakage", asked.breakage, 0.0, 0.99),
        ("late", asked.late, 0, 10_000),
        ("planned life", asked.planned, 1, 1_000_000),
        ("bath", asked.bath_parts, 1, _MOST_PARTS),
        ("dissolve_h", asked.dissolve_h, 0.0, 1e4),
    ):
        if value is not None and not low <= value <= high:
            raise UsageError(f"{name}: given {value}, allowed: {low:g} to {high:g}")
    if asked.shape is not None and asked.life is None:
        raise UsageError("shape: given without a life, allowed: both or neither")
