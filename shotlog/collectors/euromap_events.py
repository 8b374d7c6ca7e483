"""Changes of set-points that a press tells by itself over EUROMAP 63, as records: from the file of each job of events.

Such a file is written anew when the press loads it up once more, and a share may show half of it: a line that was told
is known again.
"""

from collections.abc import Sequence

from shotlog.clock import Clock
from shotlog.collectors.euromap_changes import ChangeReader, ToldChange
from shotlog.collectors.euromap_follow import Appended
from shotlog.collectors.euromap_report import SetToken, TokenMap, moment_of
from shotlog.collectors.euromap_rows import is_absent, token_key
from shotlog.collectors.euromap_taker import Records, ReportTaker
from shotlog.collectors.set_points import ChosenSetPoint
from shotlog.records import Fault, SetPointChange

__all__ = ["ToldChanges"]

_REMEMBERED = 10_000
"""Lines that are known again (own): a press that somebody sets hour after hour tells some hundred a day."""
_FAR = 1000
"""A count that lies further from that of the last shot is of another count (own)."""


class ToldChanges:
    """Follows files of events. State: which, the order of their columns, and the lines that were told."""

    def __init__(
        self,
        press: str,
        clock: Clock,
        taker: ReportTaker,
        tokens: TokenMap,
        set_points: Sequence[SetToken],
        encoding: str,
    ) -> None:
        self._press, self._clock, self._taker = press, clock, taker
        self._tokens, self._set_points = tokens, set_points
        self._reader = ChangeReader(encoding)
        self._files: list[Appended] = []
        self._told: dict[bytes, None] = {}

    def follow(self, file: Appended) -> None:
        """Follow a file, and the one before it still: it may get a line until its job is ended."""
        self._files = [*self._files[-1:], file]

    def go_back(self, file: Appended, counter: int) -> None:
        """Follow a file of before this start as well, from the shot on that came after the last one of the log.

        What was told of that one may have been told by then: only where the count has gone on is it new for certain.
        """
        new = []
        for raw in file.backlog():
            said = self._reader.read(raw)
            if isinstance(said, ToldChange) and said.shot is not None and 0 < said.shot - counter <= _FAR:
                new.append(raw)
        file.hold(new)
        self._files.insert(0, file)

    def look(self) -> Records:
        """Return what the files bring by now.

        Raises
        ------
        PressUnreachable
            The folder is away.
        """
        records: Records = []
        for raw in [line for file in self._files for line in file.look()]:
            said = self._reader.read(raw)
            if said is None or not self._is_new(raw):
                continue
            if isinstance(said, str):
                records.append(self._fault(said, raw))
            else:
                records.append(self._change(said, raw))
        return records

    def _is_new(self, raw: bytes) -> bool:
        if raw in self._told:
            return False
        self._told[raw] = None
        if len(self._told) > _REMEMBERED:
            del self._told[next(iter(self._told))]
        return True

    def _change(self, told: ToldChange, raw: bytes) -> SetPointChange | Fault:
        """Return a change that the press told, under the name of the configuration where it has one."""
        key = token_key(told.token)
        own = next((one for one in self._set_points if token_key(one.place) == key), None)
        unit = self._tokens.units.get(key, "")
        try:
            new, old = _value(own, told.new, unit), None if is_absent(told.old) else _value(own, told.old, unit)
        except ValueError as error:
            return self._fault(f"{told.token}: {error}", raw)
        known, shot = self._taker.known, told.shot
        if known is not None:
            ahead = 0 if shot is None else shot - known.counter
            shot = known.shot + (ahead if abs(ahead) <= _FAR else 0)
        time = self._taker.time_of(moment_of(told.date, told.time))
        name = told.token if own is None else own.name
        held = own.unit if own is not None and own.unit else unit
        return SetPointChange(self._press, max(0, shot or 0) + 1, time, name, old, new, held, told.user)

    def _fault(self, detail: str, raw: bytes) -> Fault:
        return Fault(self._press, self._clock.now(), "set-point changes", detail, raw)


def _value(own: SetToken | None, came: str, unit: str) -> float | str:
    """Return a value as the configuration takes it; of a token that it does not name, a number where it is one.

    Raises
    ------
    ValueError
        It cannot be taken so.
    """
    if own is not None:
        return own.taken(came, unit).value
    try:
        return ChosenSetPoint("", "").taken(came).value
    except ValueError:
        return ChosenSetPoint("", "", is_text=True).taken(came).value
