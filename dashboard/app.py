"""The web application: the frame around every page, and the way from an address to a page."""

from collections.abc import Callable, Sequence
from functools import partial
from html import escape

import dash
import flask
from dash import Dash, Input, Output, State, dcc, html
from dash.development.base_component import Component

from dashboard import health
from dashboard.access import gate
from dashboard.access.guard import Guard
from dashboard.pages import PAGES, first_page
from dashboard.shared import as_of as told_as_of
from dashboard.shared import failures, no_entries, picture_route, waiting
from dashboard.shared.address import at, below
from dashboard.shared.at_centre import ALL_EDGES, tell_edge
from dashboard.shared.attributes import attributes
from dashboard.shared.cookies import token_cookie
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context, Page
from dashboard.shared.person import here
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from dashboard.shared.who import INITIALS
from dashboard.walls import front
from dashboard.walls.unversioned import Unversioned

__all__ = ["SAFETY", "build", "closed", "framed"]

SAFETY = (
    "Reads only. Not a safety device: never use it as a guard, interlock or stop. "
    "If data and eyes disagree, trust your eyes and stop the press its own way."
)

_HTML = """<!DOCTYPE html>
<html lang="en" data-token="{token}" data-at="{at}">
<head>
{%metas%}
<title>{%title%}</title>
<link rel="icon" type="image/svg+xml" href="/assets/mark.svg">
{%css%}
</head>
<body>
{%app_entry%}
<footer>{%config%}{%scripts%}{%renderer%}</footer>
</body>
</html>
"""


def build(
    source: Source,
    first_looks: list[Callable[[], object]] | None = None,
    *,
    within: str = "",
    guard: Guard | None = None,
    context: Context | None = None,
    as_of: Callable[[], str] | None = None,
) -> Dash:
    """Return the application on a source; nothing is opened or served yet. Pages add to `first_looks`.

    The others are for one of several logs that one server serves: `within`, the address that it is served below, as a
    browser has it; `guard`, which all have in common; the `context` of its source, where that is made already; `as_of`,
    which says as of when the log is here.
    """
    looks = [] if first_looks is None else first_looks
    context = Context(source, PressReader(source), HeldReader(source), looks) if context is None else context
    app = framed(context, PAGES, lambda: first_page(len(source.presses)), within, as_of)
    tell_edge(app.server, source.settings.edge)
    no_entries.register(app, context)
    waiting.register(app, context)
    picture_route.register(app.server, source)
    if not within:
        health.register(app.server, source)
    closed(app, source, Guard.of(source.settings, source.clock) if guard is None else guard, within)
    return app


def framed(
    context: Context,
    pages: Sequence[Page],
    first: Callable[[], Page],
    within: str = "",
    as_of: Callable[[], str] | None = None,
) -> Dash:
    """Return an application of pages in their frame; `first` says which is shown where the address names none."""
    app = Unversioned(
        "dashboard",
        assets_folder="assets",
        serve_locally=True,
        routes_pathname_prefix="/",
        requests_pathname_prefix=f"{within}/",
        compress=True,
        enable_mcp=False,
        suppress_callback_exceptions=True,
        title="shotlog",
        update_title="",
        meta_tags=[{"name": "viewport", "content": "width=device-width, initial-scale=1"}],
        index_string=_HTML.replace("{token}", token_cookie(context.source.settings)).replace("{at}", escape(within)),
    )
    # Our own few small files go uncompressed: compressed on the way out, they would be left open until collected.
    server: flask.Flask = app.server
    server.config["COMPRESS_STREAMS"] = False
    app.layout = partial(_frame, context.source, pages, within, as_of is not None)
    _register(app, context, pages, first)
    for page in pages:
        page.register(app, context)
    if as_of is not None:
        told_as_of.register(app, as_of)

    @server.after_request
    def marked(response: flask.Response) -> flask.Response:
        rule = flask.request.url_rule
        from_the_library = rule is not None and rule.rule == "/<path:path>" and response.status_code == 200
        if from_the_library and not _is_known(flask.request.path, pages):
            response.status_code = 404
        return response

    return app


def closed(app: Dash, source: Source, guard: Guard, within: str = "") -> None:
    """Put walls and gate around an application whose pages and routes are all there."""
    failures.register(app.server)
    front.register(app, source.settings, guard.tokens)
    gate.register(app, source, guard.door, is_entrance=not within)


def _is_known(path: str, pages: Sequence[Page]) -> bool:
    """Say whether something is served at a path: the library answers every other one with its start page."""
    shown = any(path == page.path or path.startswith(page.path + "/") for page in pages)
    return path == "/" or shown or path.startswith(("/_dash", "/assets/", "/_favicon"))


def _frame(source: Source, pages: Sequence[Page], within: str, is_copy: bool) -> Component:
    shown = [page for page in pages if page.is_listed(len(source.presses))]
    links: list[Component] = [html.A(ALL_EDGES, href="/")] if within else []  # of another application
    links += [dcc.Link(page.label, href=at(page.path)) for page in shown]
    return html.Div(
        [
            dcc.Location("url"),
            dcc.Store("mode", storage_type="local"),
            dcc.Store("inks"),
            dcc.Store(INITIALS, storage_type="local"),
            dcc.Store("narrow"),
            dcc.Store("beat"),
            html.Header(
                [
                    html.Button("Pages", className="touch only-narrow", **attributes(aria_expanded="false")),
                    html.Nav(links, **attributes(aria_label="Pages")),
                    html.Button("Dark / light", id="mode-button", className="touch"),
                    *_who(),
                ]
            ),
            html.Div(id="cut-off", role="alert", className="cut-off"),
            *(told_as_of.place() if is_copy else []),
            html.Main(id="page", tabIndex=0),
            html.Footer(html.Div(SAFETY, role="note"), className="safety"),
        ],
        className="frame",
    )


def _who() -> list[Component]:
    """Return who is logged in, and the button that ends it (`assets/log-out.js`); nothing where nobody has to be."""
    person = here()
    if person is None:
        return []
    name = html.A([html.B(person.account), html.Small(person.role)], href="/account", className="touch who")
    return [name, html.Button("Log out", className="touch log-out")]


def _is_refreshed(part: object) -> bool:
    """Say whether a part of a page asks the server anew by itself, from time to time."""
    if not isinstance(part, Component):
        return False
    inside = getattr(part, "children", None)
    return isinstance(part, dcc.Interval) or any(map(_is_refreshed, inside if isinstance(inside, list) else [inside]))


_LOST = "No such page"


def _lost(begin: Page) -> Component:
    return html.Div([html.H1(_LOST), dcc.Link(begin.label, href=at(begin.path))], className="lost")


def _title(*said: str) -> str:
    """Return what the tab of a browser says (`assets/shotlog.js`), what the page is about first: a tab is narrow."""
    return " \N{MIDDLE DOT} ".join(filter(None, said))


def _register(app: Dash, context: Context, pages: Sequence[Page], first: Callable[[], Page]) -> None:
    @app.callback(Output("page", "children"), Input("url", "pathname"))
    def go(pathname: str | None) -> Component:
        page, rest = page_at(below(pathname or "/") or "/")
        shown = _lost(first()) if page is None else page.layout(context, rest)
        titled = (page.about(context, rest), page.label) if page is not None else (_LOST,)
        setattr(shown, "data-title", _title(*titled, context.source.settings.edge, "shotlog"))
        if not _is_refreshed(shown):
            setattr(shown, "data-still", "true")  # its silence is not the server's: see assets/shotlog.js
        return shown

    def page_at(path: str) -> tuple[Page | None, str]:
        """Return the page at a path, None where there is none, and what follows its own path."""
        for page in pages:
            if path == page.path or path.startswith(page.path + "/"):
                return page, path[len(page.path) :]
        return (first() if path == "/" else None), ""

    app.clientside_callback(
        dash.ClientsideFunction("shotlog", "turn"),
        Output("mode", "data"),
        Input("mode-button", "n_clicks"),
        State("inks", "data"),
        prevent_initial_call=True,
    )
    app.clientside_callback(dash.ClientsideFunction("shotlog", "dress"), Output("inks", "data"), Input("mode", "data"))
    app.clientside_callback(
        dash.ClientsideFunction("shotlog", "narrow"), Output("narrow", "data"), Input("url", "pathname")
    )
    app.clientside_callback(
        dash.ClientsideFunction("shotlog", "title"), Output("page", "title"), Input("page", "children")
    )
    app.clientside_callback(
        dash.ClientsideFunction("shotlog", "heard"), Output("cut-off", "title"), Input("beat", "data")
    )
