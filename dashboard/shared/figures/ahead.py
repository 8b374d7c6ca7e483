"""The shots to come on the strips: a bar over the shots at which the shots left run out, with a tick at the likeliest.

It lies on the action limit that is run up to, or on the upper edge where no limit set for the design is.
"""

from dashboard.shared.figures.ink import Figure, Ink
from dashboard.shared.views import Forecast, Strips

__all__ = ["ahead_bar", "ahead_in_words", "ahead_until", "ahead_words"]

_LEAST_AHEAD, _SHARE_AHEAD = 24, 0.6
"""Shots to come that are shown at most: so many, or this share of the shots shown; the past is not to be squeezed."""

_TICK_PX = 11


def ahead_until(view: Strips) -> float | None:
    """Return the shot that the axis has to reach for the forecast; None where there is none."""
    if view.forecast is None or not view.shots:
        return None
    most = view.shots[-1] + max(_LEAST_AHEAD, _SHARE_AHEAD * len(view.shots))
    end = view.forecast.likely + 10 if view.forecast.last is None else view.forecast.last
    return float(min(most, end + 2))


def ahead_bar(forecast: Forecast, place: Figure, right: float, ink: Ink) -> list[Figure]:
    """Return the shapes of the bar; `place` says on which axis and where on it, `right` where the picture ends."""
    axis, at = place["yref"], place["y"]
    last = right if forecast.last is None else min(float(forecast.last), right)
    first = min(float(forecast.first), right)
    bar = {"type": "line", "xref": "x", "yref": axis, "x0": first, "x1": last, "y0": at, "y1": at}
    shapes: list[Figure] = [{**bar, "line": {"color": ink.text, "width": 7}}]
    ends = [(first, 3.0), (float(forecast.likely), 5.0)]
    if forecast.last is not None:
        ends.append((float(forecast.last), 3.0))
    for shot, width in ends:
        if shot <= right:
            tick = {"type": "line", "xref": "x", "yref": axis, "x0": shot, "x1": shot, "ysizemode": "pixel"}
            tall = _TICK_PX if width < 4 else _TICK_PX + 5
            line = {"color": ink.text, "width": width}
            shapes.append({**tick, "yanchor": at, "y0": -tall, "y1": tall, "line": line})
    return shapes


_WIDE = 15
"""Characters that have room beside the strips; counters of six digits need it all."""


def ahead_words(forecast: Forecast, ink: Ink, over_px: int | None = None) -> Figure:
    """Return the label of the bar; it stands above the words beside the strips, where nothing is drawn.

    `over_px`: there is nothing beside the strips, and it takes a line of its own so many px over them.
    """
    if over_px is not None:
        what, *rest = filter(None, _told(forecast, narrow=True))
        return {
            "xref": "paper", "yref": "paper", "x": 1.0, "xanchor": "right", "y": 1, "yanchor": "bottom",
            "xshift": 16, "yshift": over_px, "text": f"<b>{what}</b> {' '.join(rest)}", "showarrow": False,
            "font": {"size": 12, "color": ink.text},
        }  # fmt: skip
    lines = _told(forecast)
    if max(map(len, lines[1:])) > _WIDE:
        lines = _told(forecast, narrow=True)
    what, *rest = filter(None, lines)
    return {
        "xref": "paper", "yref": "paper", "x": 1.0, "xanchor": "left", "xshift": 10, "y": 1, "yanchor": "bottom",
        "text": "<br>".join((f"<b>{what}</b>", *rest)), "showarrow": False, "align": "left",
        "font": {"size": 14, "color": ink.text},
    }  # fmt: skip


def ahead_in_words(forecast: Forecast) -> str:
    """Return the forecast in words, with its interval.

    Examples
    --------
    >>> ahead_in_words(Forecast(60, 63, 68, 80, "cushion", "low"))
    'action limit about shot 68 (63 to 80)'
    """
    return " ".join(_told(forecast)).strip()


def _told(forecast: Forecast, narrow: bool = False) -> tuple[str, str, str]:
    """Return what is run up to, at which shot, and the interval of that shot; `narrow`: in few characters."""
    if forecast.last is not None and forecast.last <= forecast.made_at:
        return ("action limit", "reached now", "") if forecast.channel else ("parts bad", "from now on", "")
    about, to = ("", "\N{EN DASH}") if narrow else ("about ", " to ")
    until = f"{forecast.first} on" if forecast.last is None else f"{forecast.first}{to}{forecast.last}"
    what = "action limit" if forecast.channel else "parts bad from"
    return what, f"{about}shot {forecast.likely}", f"({until})"
