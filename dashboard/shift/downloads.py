"""The tables of *After the shift* as files: what is downloaded is what the address shows."""

import flask
from dash import Dash

from dashboard.shared.page import Context
from dashboard.shift.asked import answer_name, answer_to
from dashboard.shift.life import LifeView, read_life, read_sisters
from dashboard.shift.query import Query
from dashboard.shift.show import PATH
from dashboard.shift.tables import (
    as_csv,
    drift_table,
    happened_table,
    life_table,
    lives_table,
    sisters_table,
    suspects_table,
)
from dashboard.shift.whole import ShiftReader
from shotlog.answers.table import Table
from shotlog.clock import Clock
from shotlog.errors import StoreError

__all__ = ["register_downloads"]


def register_downloads(app: Dash, context: Context, reader: ShiftReader) -> None:
    """Serve each table of a view as CSV under its name."""
    server: flask.Flask = app.server

    @server.get(f"{PATH}/<name>.csv")
    def download(name: str) -> flask.Response:
        query = Query.parse(flask.request.query_string.decode("utf-8", errors="replace"))
        try:
            found = _table_named(reader, context.source.clock, name, query)
        except StoreError as error:
            return flask.Response(f"{error}\n", 503, mimetype="text/plain")
        if found is None:
            return flask.Response(f"no table {name} in this view\n", 404, mimetype="text/plain")
        sent = flask.Response(as_csv(found), mimetype="text/csv")
        sent.headers["Content-Disposition"] = f'attachment; filename="{name}.csv"'
        return sent


_OF_A_SHIFT = {
    "lives": lives_table,
    "suspects": suspects_table,
    "drift": drift_table,
    "happened": happened_table,
}


def _table_named(reader: ShiftReader, clock: Clock, name: str, query: Query) -> Table | None:
    if name in _OF_A_SHIFT:
        return _OF_A_SHIFT[name](reader.read(query))
    if query.ask and name.startswith("answer-"):
        return next((one for one in answer_to(reader, query, clock) if answer_name(one) == name), None)
    life: LifeView | None = read_life(reader, query) if name in ("life", "sisters") else None
    if life is None:
        return None
    return life_table(life) if name == "life" else sisters_table(read_sisters(reader, query, life))
