"""A figure as SVG that stands inside the page, the same bytes for the same data."""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from html import escape
from typing import Any

import matplotlib
from matplotlib.figure import Figure

from shotlog.report.html import Html

__all__ = ["INK", "SOFT", "WARN", "inline", "margins", "sheet"]

INK, SOFT, WARN = "#1b1f24", "#6d7681", "#8a3413"

_RULES: Any = {
    "svg.hashsalt": "shotlog",
    "svg.fonttype": "none",
    "font.family": "sans-serif",
    "font.size": 8.5,
    "figure.facecolor": "none",
    "axes.facecolor": "none",
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.edgecolor": SOFT,
    "axes.linewidth": 0.8,
    "xtick.color": INK,
    "ytick.color": INK,
    "text.color": INK,
    "axes.labelcolor": INK,
    "hatch.linewidth": 0.6,
    "hatch.color": SOFT,
}


@contextmanager
def sheet(width: float, height: float) -> Iterator[Figure]:
    """Give a figure of so many inches to draw on, under the report's drawing rules."""
    with matplotlib.rc_context(_RULES):
        yield Figure(figsize=(width, height))


def margins(figure: Figure, left: float, right: float, top: float, bottom: float, between: float = 0.0) -> None:
    """Set the room around the plots, in inches; `between` is that from plot to plot, as a share of their size.

    Given rather than worked out, so that the strips of a life stand exactly above each other on every page.
    """
    width, height = figure.get_size_inches()
    figure.subplots_adjust(
        left / width, bottom / height, 1.0 - right / width, 1.0 - top / height, wspace=between, hspace=between
    )


def inline(figure: Figure, told: str) -> Html:
    """Return the figure as SVG; `told` says in words what it shows, for who cannot see it.

    Names that nothing refers to are taken out: many figures stand in one page, and names must not come twice.
    """
    out = io.StringIO()
    with matplotlib.rc_context(_RULES):
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    drawn = out.getvalue()
    drawn = drawn[drawn.index("<svg") :]
    drawn = re.sub(
        r"<metadata>.*?</metadata>|<style .*?</style>|<defs>\s*</defs>|<!--.*?-->", "", drawn, flags=re.DOTALL
    )
    used = set(re.findall(r"url\(#([^)]+)\)|xlink:href=\"#([^\"]+)\"", drawn))
    kept = {name for pair in used for name in pair if name}
    drawn = re.sub(r' id="([^"]+)"', lambda found: found[0] if found[1] in kept else "", drawn)
    drawn = re.sub(r"\n\s*\n+", "\n", drawn)
    drawn = re.sub(r'<svg [^>]*?viewBox="([^"]+)"[^>]*>', _opening(told), drawn, count=1)
    return Html(drawn)


def _opening(told: str) -> str:
    said = escape(told, quote=True).replace("\\", "")
    return (
        rf'<svg viewBox="\1" role="img" aria-label="{said}" xmlns="http://www.w3.org/2000/svg" '
        r'xmlns:xlink="http://www.w3.org/1999/xlink">'
    )
