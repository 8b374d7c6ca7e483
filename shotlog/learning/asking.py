"""Asking a person for what stands on the press's screen, and when; the way to ask is handed in."""

from collections.abc import Callable, Sequence

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.errors import UsageError
from shotlog.learning.screen import Figure, ScreenShot, figure, seen_in

__all__ = ["Asker", "Questions", "Watched"]

Watched = Callable[[], Sequence[Sequence[int]]]
"""Returns the numbers of the shots watched by now, by each place that counts, the likeliest first."""

_ASKED_AT = (2, 5, 9)
"""Counts after which the screen is asked for."""

_SETTLES = 2
"""Screens that settle most maps: a sitting goes on until so many were asked for."""

_SOON = 2
"""A screen may show so many shots more than were counted yet; they are waited for."""

_NO_MORE = "."


class _NoMore(Exception):
    """Somebody said that this was all."""


class Asker:
    """Asks for the screen after a shot; what the first answer left out is not asked for again.

    Parameters
    ----------
    forget
        Forgets what was typed before: it is no answer.
    """

    def __init__(
        self, ask: Callable[[str], str], tell: Callable[[str], None], forget: Callable[[], None] = lambda: None
    ) -> None:
        self._ask, self._tell, self._forget = ask, tell, forget
        self._channels = [*ALWAYS_CHARTED, *(n for n in CHANNELS if n not in (*ALWAYS_CHARTED, "mass_balance"))]

    def __call__(self, watched: Watched) -> ScreenShot | None:
        """Return what was answered; None where there is no more to come, or nobody who can."""
        self._tell(
            "Read the press's own screen now, all of one shot; write it down, for the press goes on and is watched "
            "meanwhile. Enter skips a figure, a dot skips all that are left; 5.12, 5,12 or 740 psi will do."
        )
        self._forget()
        figures: dict[str, Figure] = {}
        try:
            shot, at = self._shot(watched)
            for channel in self._channels:
                found = self._figure(channel)
                if found is not None:
                    figures[channel] = found
        except EOFError:
            return None
        except _NoMore:
            if not figures:
                return None
        self._channels = [channel for channel in self._channels if channel in figures] or self._channels
        return ScreenShot(shot, figures, at)

    def _line(self, question: str) -> str:
        text = self._ask(question).strip()
        if text == _NO_MORE:
            raise _NoMore
        return text

    def _shot(self, watched: Watched) -> tuple[int | None, int | None]:
        """Return the number of the shot; where the screen shows none, the place of the newest that was watched."""
        doubted = None
        while True:
            shown = watched()[0]
            text = self._line(
                f"  shot number ({shown[0]} to {shown[-1]} were watched; Enter: the newest; a dot: no more questions): "
            )
            if not text:
                return None, len(watched()[0]) - 1
            try:
                number = seen_in(f"shot={text}").shot
            except UsageError as error:
                self._tell(f"  {error}")
                continue
            now = watched()
            if number is None or number == doubted or any(_is_watched(number, shown) for shown in now):
                return number, None
            doubted = number
            self._tell(
                f"  shot {number} was not watched, and its figures would settle nothing: {now[0][0]} to {now[0][-1]} "
                "were. Give one of these; where the screen counts otherwise, give it again"
            )

    def _figure(self, channel: str) -> Figure | None:
        known = CHANNELS[channel]
        while True:
            text = self._line(f"  {known.label.lower()} ({known.unit}): ")
            if not text:
                return None
            try:
                return figure(channel, text)
            except UsageError as error:
                self._tell(f"  {error}")


def _is_watched(number: int, shown: Sequence[int]) -> bool:
    return number in shown or 0 < number - shown[-1] <= _SOON


class Questions:
    """When the screen is asked for during a sitting, and whether the sitting goes on for it."""

    def __init__(self, ask: Callable[[Watched], ScreenShot | None] | None) -> None:
        self._ask = ask
        self._left = list(_ASKED_AT) if ask is not None else []
        self._n_answered = 0

    def are_due(self, n_counted: int) -> bool:
        """Say whether the screen is to be asked for after so many counts."""
        return bool(self._left) and n_counted >= self._left[0]

    @property
    def keep_on(self) -> bool:
        """Whether a screen is still to be asked for without which little would be settled."""
        return bool(self._left) and self._n_answered < _SETTLES

    def put(self, watched: Watched) -> ScreenShot | None:
        """Ask; return what was answered, None where that was nothing. The next one is of a later shot."""
        del self._left[0]
        answer = self._ask(watched) if self._ask is not None else None
        if answer is None:
            self._left.clear()
            return None
        n_now = len(watched()[0]) - 1
        self._left = [max(at, n_now + 1 + n) for n, at in enumerate(self._left)]
        if not answer.figures:
            return None  # Enter all along, typed ahead perhaps
        self._n_answered += 1
        return answer
