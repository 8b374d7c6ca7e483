"""Telling the other presses of a log how inserts lived: once when a life has ended, and anew where it is known better.

What a life was is what the call on its own press holds it for, by what people and shots said. It costs a comparison of
two numbers a turn while nothing ends.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from shotlog.clock import Clock
from shotlog.settings import Settings
from shotlog.store.inserts.lives_told import LivesTold, changed_entries
from shotlog.store.log.log import Log

if TYPE_CHECKING:
    from shotlog.evaluator import Evaluator

__all__ = ["LivesTelling"]


class LivesTelling:
    """Tells of lives as they end on some presses; nothing where there is but one and its log is shipped nowhere."""

    def __init__(self, log: Log, settings: Settings, presses: int, clock: Clock) -> None:
        self._log, self._settings, self._clock = log, settings, clock
        self._is_on = settings.sisters_elsewhere and (presses > 1 or settings.ship is not None)
        self._told, self._openings = LivesTold(), log.openings
        self._seen: tuple[object, ...] | None = None

    def turn(self, evaluators: Mapping[str, "Evaluator"]) -> None:
        """Tell what is not told yet of the lives that these presses have seen end.

        Raises
        ------
        StoreError
            The log cannot be written; it is told at a later turn.
        """
        if not self._is_on:
            return
        seen = (changed_entries(self._log), *((press, one.n_ended) for press, one in sorted(evaluators.items())))
        if seen == self._seen:
            return
        if self._openings != self._log.openings:
            self._told, self._openings = LivesTold(), self._log.openings
        ended = {
            press: [life.told(design, self._material(design)) for design, some in one.lives.items() for life in some]
            for press, one in evaluators.items()
        }
        try:
            n = self._told.tell(self._log, self._clock.now(), ended)
        except BaseException:
            self._told = LivesTold()  # what was kept of it may not be in the log
            raise
        # what was entered just now is looked at once more: it may be that of others
        self._seen = None if n else seen

    def _material(self, design: str) -> str:
        known = self._settings.designs.get(design)
        return "" if known is None else known.resin_family
