"""The collector kind ``recording``: a press known from a file only, which ``shotlog replay`` reads."""

from dataclasses import dataclass

from shotlog.clock import Clock
from shotlog.collectors.base import Collector, Resume
from shotlog.errors import UsageError
from shotlog.settings import Section

__all__ = ["RecordingOptions", "options"]


@dataclass(frozen=True, slots=True)
class RecordingOptions:
    """Nothing to set: the file is given to ``replay``."""

    poll_s: float = 1.0

    def describe(self) -> list[str]:
        return ["recording: nothing is connected; shots come from the file given to replay"]

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        """Refuse: there is no line to open.

        Raises
        ------
        UsageError
            Always.
        """
        raise UsageError(f"press {press} is only replayed from a recording: it cannot be connected to")


def options(section: Section) -> RecordingOptions:
    """Read no key."""
    return RecordingOptions()
