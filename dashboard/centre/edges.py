"""The edges of a centre as the pages hold them: how far each is, and what its pages are given."""

import threading
from dataclasses import replace
from datetime import datetime

from dashboard.shared.heard import UNHEARD_S, Heard
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from shotlog.clock import Clock
from shotlog.errors import ShotlogError, StoreUnreachable
from shotlog.settings import Settings
from shotlog.store.centre.centre import Centre, open_centre
from shotlog.store.centre.configured import configured
from shotlog.store.centre.edges import Edge
from shotlog.store.log.starts import starts
from shotlog.wording.centre import as_of_said

__all__ = ["EdgeLogs", "Edges"]

_FRESH_S = 1.0
_AWAY_S = 3.0
"""So long a server that is away is not asked again: one that takes connections and does not answer costs 5 s."""


class Edges:
    """The edges, by one question a second at most, however many pages ask."""

    def __init__(self, settings: Settings, clock: Clock) -> None:
        self.settings, self.clock = settings, clock
        self._asking = threading.Lock()
        self._centre: Centre | None = None
        self._known: tuple[Edge, ...] | ShotlogError | None = None
        self._asked_s = self._again_s = float("-inf")

    def now(self) -> tuple[Edge, ...]:
        """Return them, by name; who comes while another asks is told what was known last, and waits for nothing.

        Raises
        ------
        StoreUnreachable, UsageError
            The server is away, or was some seconds ago; or it holds no centre.
        """
        if self._is_due() and self._asking.acquire(blocking=self._known is None):
            try:
                if self._is_due():
                    self._ask()
            finally:
                self._asking.release()
        if isinstance(self._known, ShotlogError):
            raise self._known.with_traceback(None)
        return self._known or ()

    def _is_due(self) -> bool:
        return self.clock.monotonic() >= self._again_s

    def _ask(self) -> None:
        try:
            if self._centre is None:
                self._centre = open_centre(self.settings.store)
            self._known, self._asked_s = tuple(self._centre.edges()), self.clock.monotonic()
            self._again_s = self._asked_s + _FRESH_S
        except ShotlogError as error:
            self._known, self._again_s = error, self.clock.monotonic() + _AWAY_S

    def of(self, name: str) -> Edge | None:
        """Return the edge of a name, None where there is none; raises as `now`."""
        return next((one for one in self.now() if one.name == name), None)

    def heard(self, name: str) -> tuple[datetime, float]:
        """Return when an edge was heard last, and how many seconds ago; raises as `now`."""
        edge = self.of(name)
        if edge is None:
            raise StoreUnreachable(f"the centre has no edge {name} any more")
        return edge.last_seen, edge.silent_s + self.clock.monotonic() - self._asked_s

    def as_of(self, name: str) -> str:
        """Return as of when the log of an edge is here, in words; raises as `now`."""
        edge = self.of(name)
        silent = edge is not None and self.heard(name)[1] > UNHEARD_S
        return "" if edge is None else as_of_said(name, edge.last_seen, edge.behind, self.clock.now(), silent=silent)

    def close(self) -> None:
        """Close what is open."""
        with self._asking:
            if self._centre is not None:
                self._centre.close()
                self._centre = None


class EdgeLogs:
    """What the pages of each edge are given, made when first asked for, and anew when its configuration changed."""

    def __init__(self, edges: Edges) -> None:
        self.edges = edges
        self._making = threading.Lock()
        self._made: dict[str, tuple[tuple[int, int], datetime | None, Context]] = {}

    def of(self, name: str) -> Context:
        """Return what the pages of an edge are given.

        Raises
        ------
        StoreError, UsageError
            Its log cannot be read.
        """
        edge = self.edges.of(name)
        with self._making:
            made = self._made.get(name)
            link = (0, 0) if edge is None else (edge.number, edge.link)
            if made is not None and made[0] == link:
                return made[2]
            started = None
            if made is not None and made[0][0] == link[0]:
                newest = starts(made[2].source.reading(), 1)
                started = newest[-1].time if newest else None
                if started == made[1]:
                    self._made[name] = link, started, made[2]
                    return made[2]
            if made is not None:
                made[2].source.close()
            context = self._make(name)
            newest = starts(context.source.reading(), 1)
            self._made[name] = link, newest[-1].time if newest else None, context
            return context

    def _make(self, name: str) -> Context:
        edges = self.edges
        with open_centre(edges.settings.store) as centre:
            settings = configured(replace(edges.settings, store=centre.address(name)))
        heard = Heard(name, lambda: edges.heard(name), edges.clock)
        source = Source(settings, edges.clock, heard=heard)
        return Context(source, PressReader(source), HeldReader(source))

    def close(self) -> None:
        """Close every log that is open."""
        with self._making:
            for _, _, context in self._made.values():
                context.source.close()
            self._made = {}
