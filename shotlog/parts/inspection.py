"""One result of an inspection, and when it makes a part a bad one."""

from dataclasses import dataclass
from datetime import datetime

from shotlog.parts.part import Part

__all__ = ["Inspection"]


@dataclass(frozen=True, slots=True)
class Inspection:
    """One result on one part: `value`, `low` and `high` in `unit`; `finding` says what was seen wrong, else empty.

    `half`: the half that is to blame, where the person said so. `inspected`: when; `entered`: when it was written down.
    """

    entry_id: int
    part: Part
    quantity: str
    value: float | None
    low: float | None
    high: float | None
    unit: str
    finding: str
    half: str
    instrument: str
    initials: str
    inspected: datetime
    entered: datetime

    @property
    def out_of_tolerance(self) -> bool:
        """Whether a value lies outside its tolerance."""
        return self.value is not None and (
            (self.low is not None and self.value < self.low) or (self.high is not None and self.value > self.high)
        )

    @property
    def bad(self) -> bool:
        """Whether the part is bad by this result."""
        return bool(self.finding) or self.out_of_tolerance
