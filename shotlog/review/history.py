"""The history of a press over a window of shots: what the log knows of it, and what each swap showed."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

from shotlog.channels import CHANNELS
from shotlog.entries import KINDS
from shotlog.records import EVER
from shotlog.review.drift import Drift, drifts_of
from shotlog.review.episodes import Episode
from shotlog.review.source import PressRecord, read_press, silent
from shotlog.review.swaps import Swap, swaps_of
from shotlog.settings import DesignSettings
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline

__all__ = ["History", "read_history"]


@dataclass(frozen=True, slots=True)
class History:
    """A press with what was worked out of it."""

    record: PressRecord
    swaps: tuple[Swap, ...]

    @property
    def episodes(self) -> tuple[Episode, ...]:
        """The changes that were called."""
        return self.record.episodes

    def designs(self, designs: Mapping[str, DesignSettings]) -> dict[str, DesignSettings]:
        """Return the settings of the design of every insert, by serial."""
        inserts = (stay.mounting.insert for stay in self.record.timeline.stays)
        return {insert.serial: designs.get(insert.design, DesignSettings()) for insert in inserts}

    def drifts(self, known: Mapping[str, DesignSettings], first: int = 0) -> tuple[Drift, ...]:
        """Return the drift on each stretch that reaches to shot `first` or later; `known`: designs by serial.

        Of a stretch in which a channel came to be read in another scale, it is that of the shots since.
        """
        found: list[Drift] = []
        scaled = [
            row.event.at_shot
            for row in self.record.entries
            if KINDS[row.event.kind].effect.new_scale and not row.taken_back
        ]
        for stretch in self.record.stretches:
            if stretch.last >= first:
                judged = self.record.judged(stretch.first, stretch.last)
                called = [one for one in self.episodes if one.stands and stretch.first <= one.first <= stretch.last]
                limits = known[judged].limits if judged in known else {}
                since = max((at for at in scaled if stretch.first < at <= stretch.last), default=stretch.first)
                found += drifts_of(
                    self.record, replace(stretch, first=since), judged, limits, called[-1] if called else None
                )
        return tuple(found)


def read_history(
    log: Log,
    press: str,
    first: int = 0,
    last: int = EVER,
    *,
    timeline: Timeline | None = None,
    channels: Collection[str] = CHANNELS,
    tell: Callable[[str], None] = silent,
) -> History:
    """Read shots `first` to `last` of a press and work out its swaps; see `source.read_press`."""
    record = read_press(log, press, first, last, timeline=timeline, channels=channels, tell=tell)
    return History(record, swaps_of(record))
