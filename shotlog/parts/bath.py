"""When a bath is not what it must be: a quantity measured outside the range its filling has to keep."""

from dataclasses import dataclass

from shotlog.settings import Bound

__all__ = ["OutOfRange", "out_of_range"]


@dataclass(frozen=True, slots=True)
class OutOfRange:
    """A `quantity` of a bath beyond the `limit` of its range, both in `unit`."""

    quantity: str
    value: float
    limit: float
    unit: str


def out_of_range(quantity: str, value: float | None, ends: Bound, unit: str) -> tuple[OutOfRange, ...]:
    """Return what is wrong with a value, nothing where it is within its range or was not measured."""
    below = value is not None and ends.low is not None and value < ends.low
    limit = ends.low if below else ends.high
    if value is None or limit is None or not (below or value > limit):
        return ()
    return (OutOfRange(quantity, value, limit, unit),)
