"""In which zone the times of a page are told: once a page, so that no time has to carry it."""

from datetime import datetime

from dash import html
from dash.development.base_component import Component

from shotlog.wording.times import zone_named

__all__ = ["zone_note"]


def zone_note(now: datetime) -> Component:
    """Return the line that says it."""
    return html.P(f"Times are those of this computer's clock, {zone_named(now)}.", className="legend zone")
