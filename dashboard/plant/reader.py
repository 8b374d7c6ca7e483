"""How every press of one log stands, read anew only where the log has gained something."""

import hashlib
from collections.abc import Hashable
from dataclasses import dataclass, replace
from datetime import datetime

from dashboard.plant.presses import PlantPress, not_read, plant_press
from dashboard.press.page import look as words_of_all
from dashboard.press.standing import standing
from dashboard.shared.backups import backup_notices
from dashboard.shared.held import HeldOfPress
from dashboard.shared.kept import low_disks
from dashboard.shared.page import Context
from dashboard.shared.trouble import trouble
from shotlog.answers.needs import PressFacts, needy_first
from shotlog.answers.whereof import Whereof, whereof
from shotlog.errors import StoreError
from shotlog.store.parts.places import WhereIs, where_is, where_mark
from shotlog.wording.times import at_time

__all__ = ["GonePress", "LogNow", "PlantReader"]


@dataclass(frozen=True, slots=True)
class GonePress:
    """A press that the log has shots of and the configuration does not name any more; `held`: how many of its parts."""

    press: str
    edge: str
    held: int


@dataclass(frozen=True, slots=True)
class LogNow:
    """All presses of one log, and what is to be said of all of them at once."""

    presses: tuple[PlantPress, ...]
    gone: tuple[GonePress, ...] = ()
    notices: tuple[str, ...] = ()

    @property
    def digest(self) -> str:
        """A digest of what is shown of it: a browser that shows it needs nothing sent."""
        # how long a press is away moves on each second, and tells only which comes first
        shown = [replace(one, facts=replace(one.facts, away_s=None)) for one in self.presses]
        order = [(one.edge, one.press) for one in needy_first(one.facts for one in self.presses)]
        return hashlib.blake2b(repr((shown, order, self.gone, self.notices)).encode(), digest_size=12).hexdigest()


class PlantReader:
    """Reads the presses of one log; `edge` names it where there are several."""

    def __init__(self, context: Context, edge: str = "") -> None:
        self._context, self._edge = context, edge
        self._where: tuple[Hashable, WhereIs] | None = None
        self._whereof: dict[str, tuple[Hashable, Whereof]] = {}
        self._last: tuple[datetime, LogNow] | None = None

    def look(self, now: datetime) -> LogNow:
        """Return how the presses stand; of a log that cannot be read, how they stood, or what is to be said at each."""
        try:
            found = self._look(now)
        except StoreError:
            words = words_of_all(self._context, now)
        else:
            self._last = now, found
            return found
        notices = next((said.notices for _, said in words.values()), ())
        if self._last is not None and not any(said.current for _, said in words.values()):
            return self._stood(*self._last, {press: said.headline for press, (_, said) in words.items()}, notices, now)
        return LogNow(
            tuple(
                PlantPress(
                    PressFacts(press, away=not said.current, edge=self._edge),
                    said.sign,
                    said.headline,
                    said.sentence,
                    "",
                    (),
                    Whereof({}, 0, 0),
                    runs=False,
                )
                for press, (_, said) in words.items()
            ),
            notices=notices,
        )

    def _stood(
        self, then: datetime, last: LogNow, said: dict[str, str], notices: tuple[str, ...], now: datetime
    ) -> LogNow:
        at = at_time(then, now)
        presses = tuple(not_read(one, f"{said[one.press]}, this is from {at}") for one in last.presses)
        return replace(last, presses=presses, notices=notices)

    def _look(self, now: datetime) -> LogNow:
        source = self._context.source
        kept = source.kept.now()
        unheard = None if source.heard is None else source.heard.unheard()
        waits = kept if source.heard is None else None
        fresh, seen = self._context.reader.look(source.presses)
        held = self._context.held.every()
        said = self._read_where()
        shown = []
        for press, one in fresh.items():
            of = held.get(press, HeldOfPress(None, ()))
            wrong = trouble(one.view, now, seen, waits, unheard)
            where = self._of(press, of, said, now)
            words = standing(one.view, now, seen, waits, unheard)
            shown.append(plant_press(one.view, words, wrong, len(of.parts), where, now, seen, self._edge))
        others = [press for press in held if press not in fresh and press not in source.balances]
        gone = tuple(GonePress(press, self._edge, len(held[press].parts)) for press in others)
        return LogNow(tuple(shown), gone, (*low_disks(kept), *backup_notices(source, now, in_short=True)))

    def _read_where(self) -> WhereIs:
        log = self._context.source.reading()
        mark = (id(log), where_mark(log))
        if self._where is None or self._where[0] != mark:
            self._where = mark, where_is(log)
        return self._where[1]

    def _of(self, press: str, held: HeldOfPress, said: WhereIs, now: datetime) -> Whereof:
        mark = (id(held), id(said), now.replace(second=0, microsecond=0))
        kept = self._whereof.get(press)
        if kept is None or kept[0] != mark:
            kept = self._whereof[press] = mark, whereof(press, held.parts, said, now)
        return kept[1]
