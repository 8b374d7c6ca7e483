"""A life's strips with the parts in doubt on them, and lives of sisters drawn over each other from their first shot."""

from dashboard.shared.figures.ink import FONT, INKS, Figure, Ink
from dashboard.shared.figures.strips import strips_figure
from dashboard.shift.life import CalledSpan, LifeView, SisterLine, Sisters
from shotlog.channels import CHANNELS
from shotlog.wording.numbers import some, unit

__all__ = ["life_figure", "life_height_px", "sisters_figure", "sisters_in_words"]

_STRIP_PX, _ABOUT_PX = 132, 120
_DASHES = ("solid", "dash", "dot", "dashdot", "longdash", "longdashdot")
_BESIDE = {"orientation": "v", "x": 1.01, "y": 1}
_BENEATH = {"orientation": "h", "x": 0, "xanchor": "left", "y": -0.16, "yanchor": "top"}
"""Where the names of the lives stand: beside the picture, and on a phone beneath it."""

_SIGNS = ("circle-open", "square-open", "diamond-open", "triangle-up-open", "triangle-down-open", "x-thin-open")


def life_figure(life: LifeView, mode: str = "day", narrow: bool = False) -> Figure:
    """Return the strips of a life in the inks of `mode`; `narrow`: as a phone has room for them."""
    ink = INKS[mode]
    figure = strips_figure(life.strips, mode, narrow)
    layout = figure["layout"]
    layout["height"] = life_height_px(life)
    layout["dragmode"] = "zoom"
    layout["xaxis"]["fixedrange"] = False
    for one in life.spans:
        layout["shapes"] += _span_shapes(one, ink)
    return figure


def life_height_px(life: LifeView) -> int:
    """Return the height the strips of a life need."""
    return _ABOUT_PX + _STRIP_PX * max(len(life.strips.strips), 1)


def _span_shapes(one: CalledSpan, ink: Ink) -> list[Figure]:
    """Return parts in doubt as a band with both ends drawn, the onset as a line, its interval as a bar on top."""
    common: Figure = {"xref": "x", "yref": "paper", "y0": 0, "y1": 1}
    left, right, onset = one.first - 0.5, one.last + 0.5, one.onset - 0.5
    thin = {"color": ink.quiet, "width": 1.2, "dash": "dash"}
    shapes: list[Figure] = [
        {**common, "type": "rect", "x0": left, "x1": right, "fillcolor": ink.suspect, "line": thin, "layer": "below"},
        {**common, "type": "line", "x0": onset, "x1": onset, "line": {"color": ink.alarm, "width": 2.5}},
    ]
    if one.onset_high > one.onset_low:
        ends = {"x0": one.onset_low - 0.5, "x1": one.onset_high + 0.5, "y0": 1, "y1": 1}
        shapes.append({**common, **ends, "type": "line", "line": {"color": ink.alarm, "width": 6}})
    return shapes


def sisters_figure(sisters: Sisters, mode: str = "day", narrow: bool = False) -> Figure:
    """Return the lives of sisters over shots on the insert, each named, the chosen one heavy; `narrow`: on a phone."""
    ink = INKS[mode]
    channel = CHANNELS[sisters.channel]
    longest = max((one.numbers[-1] for one in sisters.lives), default=1)
    known = [value for one in sisters.lives for value in one.values if value is not None]
    layout: Figure = {
        "meta": {"narrow": narrow},
        "paper_bgcolor": ink.paper,
        "plot_bgcolor": ink.paper,
        "font": {"family": FONT, "size": 14, "color": ink.text},
        "margin": {"l": 60 if narrow else 74, "r": 8 if narrow else 18, "t": 16, "b": 46},
        "height": 460 if narrow else 380,
        "showlegend": True,
        "legend": {"font": {"size": 13}, "itemclick": "toggle", **(_BENEATH if narrow else _BESIDE)},
        "dragmode": "zoom",
        "hovermode": "closest",
        "xaxis": {
            "range": [0.3, longest * 1.02 + 0.7],
            "title": {"text": "shot on insert", "font": {"size": 13}, "standoff": 6},
            "tickformat": "d",
            "gridcolor": ink.rule,
            "zeroline": False,
        },
        "yaxis": {
            "title": {"text": f"{channel.label}, {unit(sisters.channel)}", "font": {"size": 13}},
            "gridcolor": ink.rule,
            "zeroline": False,
            "tickformat": f".{channel.decimals}f",
        },
        "shapes": [],
        "annotations": [],
    }
    if known:
        low, high = min(known), max(known)
        for limit in (sisters.action.low, sisters.action.high):
            if limit is not None and low - (high - low) <= limit <= high + (high - low):
                layout["shapes"].append(_limit(limit, ink))
                layout["annotations"].append(_limit_words(limit, channel.decimals, ink))
    order = sorted(sisters.lives, key=lambda one: one.chosen)
    data = [_line(one, n, sisters.channel, ink) for n, one in enumerate(order)]
    return {"data": data, "layout": layout}


def _line(one: SisterLine, n: int, channel: str, ink: Ink) -> Figure:
    """Return a life as a line, told from the others by its dashes and the signs on it; the chosen one is heavy."""
    x: list[int | None] = []
    y: list[float | None] = []
    for at, value in zip(one.numbers, one.values, strict=True):
        if x and x[-1] is not None and at > x[-1] + 1:
            x.append(None)
            y.append(None)
        x.append(at)
        y.append(value)
    each = max(len(x) // 12, 1)
    known = CHANNELS[channel]
    hover = f"{one.serial} ({one.press})<br>shot %{{x}} on insert<br>%{{y:.{known.decimals}f}} {unit(channel)}"
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": f"<b>{one.serial}</b>" if one.chosen else one.serial,
        "x": x,
        "y": y,
        "connectgaps": False,
        "hovertemplate": f"{hover}<extra></extra>",
        "line": {
            "color": ink.point if one.chosen else ink.line,
            "width": 3 if one.chosen else 1.6,
            "dash": "solid" if one.chosen else _DASHES[n % len(_DASHES)],
        },
        "marker": {
            "symbol": "circle" if one.chosen else _SIGNS[n // 2 % len(_SIGNS)],
            "size": 6 if one.chosen else 9,
            "maxdisplayed": 0 if one.chosen else max(len(x) // each, 2),
            "color": ink.point if one.chosen else ink.quiet,
        },
    }


def _limit(value: float, ink: Ink) -> Figure:
    return {
        "type": "line", "xref": "paper", "yref": "y", "x0": 0, "x1": 1, "y0": value, "y1": value, "layer": "below",
        "line": {"color": ink.alarm, "width": 3, "dash": "longdashdot"},
    }  # fmt: skip


def _limit_words(value: float, decimals: int, ink: Ink) -> Figure:
    return {
        "xref": "paper", "yref": "y", "x": 0, "y": value, "xanchor": "left", "yanchor": "bottom", "xshift": 6,
        "text": f"action limit {value:.{decimals}f}", "showarrow": False, "font": {"size": 13, "color": ink.alarm},
    }  # fmt: skip


def sisters_in_words(sisters: Sisters) -> str:
    """Return what the lives drawn over each other show, for whoever listens to the page."""
    channel = CHANNELS[sisters.channel]
    said = []
    for one in sisters.lives:
        known = [value for value in one.values if value is not None]
        if known:
            ends = f"from {known[0]:.{channel.decimals}f} to {known[-1]:.{channel.decimals}f} {unit(sisters.channel)}"
            said.append(f"{one.serial}: {some(len(known), 'shot')}, {channel.label.lower()} {ends}")
    return "; ".join(said) + "." if said else f"No {channel.label.lower()} was measured on these lives."
