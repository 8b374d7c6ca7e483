"""What is said with every answer, so that a browser itself keeps foreign pages out and our own pages in.

Exceptions from the strictest policy, each with its reason, stand in `EXCEPTIONS` and nowhere else; README repeats them.
"""

from collections.abc import Sequence

import flask

from dashboard.walls.callbacks import PATH as CALLBACKS

__all__ = ["EXCEPTIONS", "policy", "put_on"]

EXCEPTIONS: dict[str, tuple[str, str]] = {
    "style-src": ("'unsafe-inline'", "the figures and the grid lay themselves out with style elements and attributes"),
    "img-src": ("data: blob:", "a figure is saved as a picture, and a picture is made smaller before it is sent"),
}
"""What a page may use beside files of this server, by directive, and why."""

_ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # under no-referrer a browser would say of our own forms that they come from nowhere
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
_ASSETS = ("/assets/", "/_dash-component-suites/", "/pictures/")
"""What a browser may keep: files of a release, and pictures, which never change."""
_FOR_SCRIPTS = ("/_dash-layout", "/_dash-dependencies", CALLBACKS)
"""What only the scripts of a page ask for: opened by itself it is saved, and never shown as a page."""
_HSTS = "max-age=86400"
"""A day, and not a year: it goes for every port of this host, so also for a log without TLS beside this one; and where
the certificate is taken out again, screens are kept out as long."""


def policy(hashes: Sequence[str]) -> str:
    """Return the content security policy; `hashes`: of the scripts that stand in the page itself."""
    directives = {
        "default-src": "'none'",
        "script-src": " ".join(["'self'", *hashes]),
        "style-src": "'self'",
        "img-src": "'self'",
        "font-src": "'self'",
        "connect-src": "'self'",
        "form-action": "'self'",
        "base-uri": "'none'",
        "frame-ancestors": "'none'",
    }
    for name, (allowed, _) in EXCEPTIONS.items():
        directives[name] += f" {allowed}"
    return "; ".join(f"{name} {allowed}" for name, allowed in directives.items())


def put_on(response: flask.Response, content_policy: str) -> None:
    """Say it with an answer; what a route said itself stands."""
    for name, value in _ALWAYS.items():
        response.headers.setdefault(name, value)
    response.headers.setdefault("Content-Security-Policy", content_policy)
    if not (flask.request.path.startswith(_ASSETS) and response.status_code in (200, 304)):
        response.headers["Cache-Control"] = "no-store"
    if flask.request.path in _FOR_SCRIPTS and response.is_json:
        response.headers.setdefault("Content-Disposition", 'attachment; filename="api.json"')
    if flask.request.is_secure:
        response.headers.setdefault("Strict-Transport-Security", _HSTS)
