"""How every press of every edge stands: an edge is read anew when its log has grown here, and now and then."""

import logging
import threading
from dataclasses import dataclass, replace
from datetime import datetime
from time import monotonic

from dashboard.centre.edges import EdgeLogs
from dashboard.plant.presses import not_read
from dashboard.plant.reader import LogNow, PlantReader
from dashboard.shared.heard import UNHEARD_S
from dashboard.shared.page import Context
from shotlog.errors import ShotlogError, StoreUnreachable
from shotlog.store.centre.edges import Edge
from shotlog.wording.centre import as_of_said
from shotlog.wording.times import at_time

__all__ = ["CentrePlant", "EdgeNow"]

logger = logging.getLogger(__name__)

_LOOK_S = 10.0
"""An edge that brings nothing is looked at all the same: what was said a while ago ages, as 'last shot 4 min ago'."""

_AT_ONCE_S = 0.8
"""So long edges are read within one answer; those that are left come with the next one."""


@dataclass(frozen=True, slots=True)
class EdgeNow:
    """An edge, and in words as of when its log is here; `n_presses`: how many presses it has."""

    name: str
    said: str
    n_presses: int


@dataclass(slots=True)
class _Kept:
    link: int
    looked_s: float
    found: LogNow
    context: Context | None = None
    reader: PlantReader | None = None


class CentrePlant:
    """Reads all presses of a centre."""

    def __init__(self, logs: EdgeLogs) -> None:
        self._logs = logs
        self._looking = threading.Lock()
        self._kept: dict[str, _Kept] = {}
        self._edges: tuple[Edge, ...] = ()
        self._read: datetime | None = None
        self._away: ShotlogError | None = None

    def look(self, now: datetime, at_once_s: float = _AT_ONCE_S) -> tuple[LogNow, tuple[EdgeNow, ...]]:
        """Return all presses together, and the edges; while another reads them for longer, what is known of them."""
        if self._looking.acquire(timeout=at_once_s):
            try:
                self._look(now, at_once_s)
            finally:
                self._looking.release()
        edges, kept, away = self._edges, dict(self._kept), self._away
        left = sum(edge.name not in kept for edge in edges)
        found = [kept[edge.name].found for edge in edges if edge.name in kept]
        notices = [f"{left} of {len(edges)} edges are being read"] if left else []
        if away is not None:
            notices = [self._not_now(away, now)]
            if self._read is not None:
                said = f"Not read since {at_time(self._read, now)}"
                found = [replace(one, presses=tuple(not_read(at, said) for at in one.presses)) for one in found]
        return self._together(found, notices), tuple(self._edge(edge, now) for edge in edges)

    def _look(self, now: datetime, at_once_s: float) -> None:
        """Read what has to be read anew; why the centre cannot be, with its address, is logged once."""
        try:
            self._edges = tuple(one for one in self._logs.edges.now() if one.set_aside is None)
            self._look_at(now, monotonic() + at_once_s)
            self._read, self._away = now, None
        except ShotlogError as error:
            if self._away is None:
                logger.warning("%s", error)
            self._away = error

    def _not_now(self, error: ShotlogError, now: datetime) -> str:
        """Return in words for people that the centre cannot be read."""
        if not isinstance(error, StoreUnreachable):
            return str(error)
        since = "" if self._read is None else f"; this is how it was at {at_time(self._read, now)}"
        return f"The server of the plant cannot be reached{since}"

    def _look_at(self, now: datetime, until_s: float) -> None:
        """Read what has to be, as far as the time allows."""
        for edge in self._edges:
            kept, at = self._kept.get(edge.name), self._logs.edges.clock.monotonic()
            if kept is not None and kept.link == edge.link and at - kept.looked_s < _LOOK_S:
                continue
            if monotonic() > until_s:
                return
            try:
                context = self._logs.of(edge.name)
            except ShotlogError as error:
                if kept is None:
                    self._logs.edges.now()  # where the server is away that is said once, and not of each edge
                    notice = LogNow((), notices=(f"{edge.name}: {error}",))
                    self._kept[edge.name] = _Kept(edge.link, at, notice)
                continue
            reader = kept.reader if kept is not None and kept.context is context else None
            reader = PlantReader(context, edge.name) if reader is None else reader
            self._kept[edge.name] = _Kept(edge.link, at, reader.look(now), context, reader)

    def _together(self, found: list[LogNow], notices: list[str]) -> LogNow:
        return LogNow(
            tuple(press for one in found for press in one.presses),
            tuple(press for one in found for press in one.gone),
            (*notices, *(notice for one in found for notice in one.notices)),
        )

    def _edge(self, edge: Edge, now: datetime) -> EdgeNow:
        kept = self._kept.get(edge.name)
        n = 0 if kept is None else len(kept.found.presses)
        silent = self._away is not None or edge.silent_s > UNHEARD_S
        return EdgeNow(edge.name, as_of_said(edge.name, edge.last_seen, edge.behind, now, silent=silent), n)
