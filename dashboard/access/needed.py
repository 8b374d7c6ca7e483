"""What every route and every callback takes: one row each, and a test that walks them and fails on one without a row.

A row names an act of `shotlog.access.roles`; `OPEN` is for everybody. What has no row is for nobody.
"""

from collections.abc import Mapping

from dashboard.walls.callbacks import PATH

__all__ = ["ASSETS", "AT_CENTRE", "CALLBACKS", "OPEN", "ROUTES", "needed_by"]

OPEN = "open"

ASSETS = ("log-in.css", "log-in.js", "mark.svg")
"""The files that the page to log in on is made of."""

CALLBACKS: Mapping[str, str] = {
    "dashboard.app.go": "look",
    "dashboard.shared.no_entries.told": "look",
    "dashboard.shared.waiting.told": "look",
    "dashboard.shared.waiting.withdrawn": "enter",
    "dashboard.plant.page.refresh": "look",
    "dashboard.press.page.refresh": "look",
    "dashboard.press.people.refresh": "look",
    "dashboard.press.entry_panel.touched": "enter",
    "dashboard.shift.page.view": "look",
    "dashboard.shift.page.answer": "look",
    "dashboard.shift.page.closely": "look",
    "dashboard.shift.page.fill": "look",
    "dashboard.shift.page.steer": "look",
    "dashboard.shift.page.touched": "look",
    "dashboard.shift.page.name_trials": "look",
    "dashboard.shift.page.tick": "look",
    "dashboard.inserts.page.refresh": "look",
    "dashboard.inserts.page.choose": "look",
    "dashboard.inserts.page.draw": "look",
    "dashboard.inserts.story_page.made": "look",
    "dashboard.inserts.story_page.pictured": "look",
    "dashboard.inserts.story_page.life": "look",
    "dashboard.parts.page.refresh": "look",
    "dashboard.parts.page.act": "enter",
    "dashboard.part.page.go": "look",
    "dashboard.plan.page.plan": "look",
    "dashboard.presses.page.refresh": "look",
}
"""By module and name of the function. What `enter` lets through still needs `decide` to release and to scrap
(`parts.desk`), and the log is opened for writing for nobody who may not enter (`shared.source`)."""

AT_CENTRE: Mapping[str, str] = {
    "dashboard.centre.page.refresh": "look",
    "dashboard.shared.as_of.told": "look",
}
"""What pages at a centre have besides: of all edges, and on those of one."""

ROUTES: Mapping[str, Mapping[str, str]] = {
    "/": {"GET": "look"},
    "/<path:path>": {"GET": "look"},
    "/_dash-layout": {"GET": "look"},
    "/_dash-dependencies": {"GET": "look"},
    PATH: {"POST": "look"},
    "/_dash-component-suites/<string:package_name>/<path:fingerprinted_path>": {"GET": "look"},
    "/_reload-hash": {"GET": "look"},
    "/_favicon.ico": {"GET": "look"},
    "/assets/<path:filename>": {"GET": "look"},
    "/static/<path:filename>": {"GET": "look"},
    "/shift/<name>.csv": {"GET": "look"},
    "/pictures/<digest>": {"GET": "look"},
    "/pictures/": {"POST": "enter"},
    "/pictures/<int:number>": {"DELETE": "enter", "PUT": "enter"},
    "/healthz": {"GET": OPEN},
    "/log-in": {"GET": OPEN, "POST": OPEN},
    "/log-out": {"POST": OPEN},
    "/account": {"GET": "look", "POST": "look"},
    "/accounts": {"GET": "accounts", "POST": "accounts"},
}
"""By rule and method; HEAD and OPTIONS go with GET. Of a callback the row above counts as well."""

_READS = {"HEAD": "GET", "OPTIONS": "GET"}


def needed_by(rule: str, method: str) -> str | None:
    """Return what a route takes, None where it has no row.

    Examples
    --------
    >>> needed_by("/pictures/<int:number>", "PUT"), needed_by("/healthz", "HEAD"), needed_by("/backdoor", "GET")
    ('enter', 'open', None)
    """
    methods = ROUTES.get(rule, {})
    return methods.get(_READS.get(method, method), next(iter(methods.values()), None) if method == "OPTIONS" else None)
