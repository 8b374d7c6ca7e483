"""Asking a person for what stands on the press's screen; the way to ask is handed in."""

from collections.abc import Callable

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.errors import UsageError
from shotlog.learning.screen import Figure, ScreenShot, figure, seen_in

__all__ = ["Asker"]


class Asker:
    """Asks for the screen after a shot; what the first answer left out is not asked for again."""

    def __init__(self, ask: Callable[[str], str], tell: Callable[[str], None]) -> None:
        self._ask, self._tell = ask, tell
        self._channels = [*ALWAYS_CHARTED, *(n for n in CHANNELS if n not in (*ALWAYS_CHARTED, "mass_balance"))]

    def __call__(self, counted: int) -> ScreenShot | None:
        """Return what was answered; None where there is nobody who can."""
        self._tell(
            "Read the press's own screen now, all of one shot. Enter skips a figure; 5.12, 5,12 or 740 psi will do."
        )
        try:
            shot = self._shot()
            figures: dict[str, Figure] = {}
            for channel in self._channels:
                found = self._figure(channel)
                if found is not None:
                    figures[channel] = found
        except EOFError:
            return None
        self._channels = [channel for channel in self._channels if channel in figures] or self._channels
        return ScreenShot(shot, figures, counted)

    def _shot(self) -> int | None:
        while True:
            text = self._ask("  shot number: ").strip()
            if not text:
                return None
            try:
                return seen_in(f"shot={text}").shot
            except UsageError as error:
                self._tell(f"  {error}")

    def _figure(self, channel: str) -> Figure | None:
        known = CHANNELS[channel]
        while True:
            text = self._ask(f"  {known.label.lower()} ({known.unit}): ").strip()
            if not text:
                return None
            try:
                return figure(channel, text)
            except UsageError as error:
                self._tell(f"  {error}")
