"""What was in force when at each press, read anew only where something was entered."""

from shotlog.store.asked.tally import Counts
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline

__all__ = ["Timelines"]


class Timelines:
    """Keeps the newest timeline of each press of one log."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[int, bool, Timeline]] = {}

    def of(self, log: Log, press: str, counts: Counts) -> Timeline:
        """Return the timeline of a press, of which the log tells `counts`.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        entries, of_shots, timeline = self._kept.get(press, (-1, False, None))
        # what was entered before the first shot came is in force from that shot
        if timeline is None or entries != counts.entries or not of_shots:
            timeline = log.timeline(press)
            self._kept[press] = counts.entries, counts.n_shots > 0, timeline
        return timeline
