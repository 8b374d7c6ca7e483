"""The two sets of inks figures are drawn in; the style sheet holds the same ones for the page around them.

Chosen so that each tells from its neighbours by lightness alone: a picture in grey loses nothing.
"""

from dataclasses import dataclass
from typing import Any

__all__ = ["FONT", "INKS", "NOTHING", "Figure", "Ink"]

Figure = dict[str, Any]
"""A figure, or a piece of one, as the drawing library takes it."""

NOTHING: Figure = {
    "data": [],
    "layout": {
        "xaxis": {"visible": False}, "yaxis": {"visible": False},
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)",
    },
}  # fmt: skip
"""What stands where a figure will: left empty, it would be drawn with axes and numbers of no meaning."""

FONT = "DejaVu Sans, Segoe UI, Roboto, Helvetica, Arial, sans-serif"


@dataclass(frozen=True, slots=True)
class Ink:
    """Colours by role, in the notation of style sheets."""

    text: str
    quiet: str
    rule: str
    line: str
    point: str
    level: str
    limit: str
    alarm: str
    suspect: str
    missed: str
    paper: str


INKS: dict[str, Ink] = {
    "day": Ink(
        text="#16202a",
        quiet="#4c5763",
        rule="#d8d4ca",
        line="#8a96a3",
        point="#16202a",
        level="#2d5d73",
        limit="#4c5763",
        alarm="#a3260f",
        suspect="rgba(201, 118, 46, 0.17)",
        missed="rgba(76, 87, 99, 0.22)",
        paper="#fbfaf6",
    ),
    "dark": Ink(
        text="#eef0ec",
        quiet="#b3bcc4",
        rule="#39434d",
        line="#74818d",
        point="#eef0ec",
        level="#8fc4da",
        limit="#b3bcc4",
        alarm="#ff9d80",
        suspect="rgba(232, 158, 92, 0.22)",
        missed="rgba(179, 188, 196, 0.25)",
        paper="#1a2128",
    ),
}
"""Every set of inks by the name of its mode."""
