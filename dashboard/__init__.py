"""The screens: what the log holds, in the browser. Read through the log's public functions only."""

from dash import Dash

from dashboard.app import build
from dashboard.shared.source import Source
from shotlog.clock import Clock
from shotlog.settings import Settings

__all__ = ["Source", "build", "make_app"]


def make_app(settings: Settings, clock: Clock | None = None) -> Dash:
    """Return the application for a configuration; the log is opened when a browser first asks for it."""
    return build(Source(settings, clock))
