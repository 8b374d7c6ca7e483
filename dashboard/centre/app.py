"""The application of a centre: its own pages, and in front of them what leads to those of each edge."""

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import quote

import flask

from dashboard.access.guard import Guard
from dashboard.app import build, closed, framed
from dashboard.centre.edges import EdgeLogs, Edges
from dashboard.centre.front import AT, Front
from dashboard.centre.page import centre_page
from dashboard.centre.plant import CentrePlant
from dashboard.help.page import PAGE as HELP
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from shotlog.clock import Clock, SystemClock
from shotlog.errors import ShotlogError
from shotlog.settings import Settings
from shotlog.store.centre.centre import centre_of

__all__ = ["CentrePages", "build_centre", "build_edge"]


@dataclass(frozen=True, slots=True)
class CentrePages:
    """The application, for a web server, and what closes all that it has opened."""

    server: Callable[[dict[str, Any], Any], Iterable[bytes]]
    close: Callable[[], None]


def build_centre(
    settings: Settings, first_looks: list[Callable[[], object]] | None = None, clock: Clock | None = None
) -> CentrePages:
    """Return the pages of a centre; nothing is opened or served yet."""
    clock = SystemClock() if clock is None else clock
    source = Source(settings, clock)
    guard = Guard.of(settings, clock)
    edges = Edges(settings, clock)
    logs = EdgeLogs(edges)
    reader = CentrePlant(logs)
    page = centre_page(reader)
    context = Context(source, PressReader(source), HeldReader(source))
    app = framed(context, (page, HELP), lambda: page)
    _tell_health(app.server, edges)
    closed(app, source, guard)
    if first_looks is not None:
        first_looks.append(lambda: reader.look(clock.now(), 60.0))

    def make(of_edge: Context, name: str) -> flask.Flask:
        within = f"{AT}{quote(name)}"
        pages = build(of_edge.source, within=within, guard=guard, context=of_edge, as_of=lambda: edges.as_of(name))
        server: flask.Flask = pages.server
        return server

    def close() -> None:
        logs.close()
        edges.close()
        source.close()

    return CentrePages(Front(app.server, logs, make), close)


def build_edge(settings: Settings, first_looks: list[Callable[[], object]], clock: Clock | None = None) -> CentrePages:
    """Return the pages of one edge alone, of a configuration whose store is its log at a centre.

    Raises
    ------
    StoreError, UsageError
        That log cannot be read.
    """
    edges = Edges(replace(settings, store=centre_of(settings.store)), SystemClock() if clock is None else clock)
    logs = EdgeLogs(edges)
    of_edge = logs.of(settings.edge)
    context = Context(of_edge.source, of_edge.reader, of_edge.held, first_looks)
    app = build(context.source, context=context, as_of=lambda: edges.as_of(settings.edge))

    def close() -> None:
        logs.close()
        edges.close()

    return CentrePages(app.server, close)


def _tell_health(server: flask.Flask, edges: Edges) -> None:
    """Answer ``/healthz``: whether the centre answers, and of each edge how long it was not heard, in seconds."""

    @server.get("/healthz")
    def healthz() -> flask.Response:
        try:
            at_work = [one for one in edges.now() if one.set_aside is None]
            found = {one.name: {"silent_s": round(one.silent_s), "behind": one.behind} for one in at_work}
            told: dict[str, Any] = {"ok": True, "edges": found}
        except ShotlogError:
            told = {"ok": False, "state": "the centre cannot be read"}
        answer = flask.Response(json.dumps(told), 200 if told["ok"] else 503, content_type="application/json")
        answer.headers["Cache-Control"] = "no-store"
        return answer
