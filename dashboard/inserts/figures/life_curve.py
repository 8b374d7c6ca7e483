"""The life curve: what share of inserts is still sound after so many shots, by group, each with its interval.

Groups tell apart by dash, by the sign on every failure and by the name at the curve's end; all are drawn in one ink.
"""

import numpy as np

from dashboard.inserts.ledger import GroupLives
from dashboard.shared.figures.ink import FONT, INKS, Figure, Ink
from shotlog.wording.numbers import some

__all__ = ["MOST", "life_curve_figure", "life_curve_in_words"]

_STYLES = (("solid", "circle"), ("dash", "square"), ("dot", "diamond"), ("dashdot", "triangle-up"))

MOST = len(_STYLES)
"""More groups than this are not told apart in one picture."""

_LABEL_GAP = 0.075
_POINTS = 80
_NAME_PX = 21


def life_curve_figure(groups: list[GroupLives], mode: str = "day", narrow: bool = False) -> Figure:
    """Return the life curves of up to `MOST` groups in the inks of `mode`; `narrow`: their names over the picture."""
    ink = INKS[mode]
    shown = groups[:MOST]
    longest = max((max(one.group.curve.shots) for one in shown), default=0.0)
    data: list[Figure] = []
    for one, (dash, symbol) in zip(shown, _STYLES, strict=False):
        data.extend(_group(one, dash, symbol, longest, ink))
    top = 14 + _NAME_PX * len(shown)
    layout: Figure = {
        "meta": {"narrow": narrow},
        "paper_bgcolor": ink.paper,
        "plot_bgcolor": ink.paper,
        "font": {"family": FONT, "size": 15, "color": ink.text},
        "margin": {"l": 66, "r": 210, "t": 14, "b": 52} if not narrow else {"l": 58, "r": 8, "t": top, "b": 52},
        "showlegend": False,
        "dragmode": False,
        "hovermode": "closest",
        "xaxis": {
            "title": {"text": "shots made on it", "font": {"size": 15}},
            "range": [0, max(1.0, longest * 1.02)], "zeroline": False,
            "fixedrange": True, "gridcolor": ink.rule, "ticks": "outside", "tickcolor": ink.quiet,
        },
        "yaxis": {
            "title": {"text": "still sound", "font": {"size": 15}},
            "range": [-0.02, 1.03], "tickformat": ".0%", "dtick": 0.25,
            "zeroline": False, "fixedrange": True, "gridcolor": ink.rule,
        },
        "annotations": _names_over(shown, ink) if narrow else _names(shown, ink),
    }  # fmt: skip
    return {"data": data, "layout": layout}


def _group(one: GroupLives, dash: str, symbol: str, longest: float, ink: Ink) -> list[Figure]:
    curve, name = one.group.curve, one.group.name
    shots, share = list(curve.shots), list(curve.survival)
    hover = f"{name}<br>shot %{{x:.0f}}: %{{y:.0%}} still sound<extra></extra>"
    traces = [_band(one, ink)]
    fitted = one.group.weibull
    if fitted is not None:
        at = np.linspace(0.0, max(longest, 1.0), _POINTS)
        sound = np.exp(-((at / fitted.scale.value) ** fitted.shape.value))
        traces.append(
            {"type": "scatter", "mode": "lines", "name": f"{name}, fitted", "x": at.tolist(), "y": sound.tolist(),
             "line": {"color": ink.level, "width": 1.4}, "hoverinfo": "skip"}
        )  # fmt: skip
    traces.append(
        {"type": "scatter", "mode": "lines", "name": name, "x": shots, "y": share, "hovertemplate": hover,
         "line": {"color": ink.point, "width": 2.6, "dash": dash, "shape": "hv"}}
    )  # fmt: skip
    failed = [n for n in range(1, len(shots)) if share[n] < share[n - 1]]
    traces.append(
        {"type": "scatter", "mode": "markers", "name": f"{name}, gone off", "hovertemplate": hover,
         "x": [shots[n] for n in failed], "y": [share[n] for n in failed],
         "marker": {"symbol": symbol, "size": 10, "color": ink.point}}
    )  # fmt: skip
    seen = [(float(shot), _at(curve.shots, curve.survival, shot)) for shot in one.censored]
    traces.append(
        {"type": "scatter", "mode": "markers", "name": f"{name}, still sound when last seen",
         "x": [shot for shot, _ in seen], "y": [share for _, share in seen],
         "hovertemplate": f"{name}<br>still sound after %{{x:.0f}} shots, then not seen any more<extra></extra>",
         "marker": {"symbol": "line-ns-open", "size": 14, "color": ink.point, "line": {"width": 2, "color": ink.point}}}
    )  # fmt: skip
    return traces


def _band(one: GroupLives, ink: Ink) -> Figure:
    """Return the interval as one area: its lower edge in steps there, its upper edge back."""
    curve = one.group.curve
    low, high = _stepped(curve.shots, curve.low), _stepped(curve.shots, curve.high)
    outline = [*low, *reversed(high)]
    return {
        "type": "scatter", "mode": "lines", "name": f"{one.group.name}, 95 % interval", "fill": "toself",
        "x": [x for x, _ in outline], "y": [y for _, y in outline],
        "fillcolor": ink.missed, "line": {"width": 0}, "hoverinfo": "skip",
    }  # fmt: skip


def _stepped(shots: tuple[float, ...], shares: tuple[float, ...]) -> list[tuple[float, float]]:
    points: list[tuple[float, float]] = []
    for n, (shot, share) in enumerate(zip(shots, shares, strict=True)):
        if n:
            points.append((shot, points[-1][1]))
        points.append((shot, share))
    return points


def _at(shots: tuple[float, ...], shares: tuple[float, ...], shot: float) -> float:
    """Return the share of a stepped curve at a shot."""
    return next((share for at, share in zip(reversed(shots), reversed(shares), strict=True) if at <= shot), 1.0)


def _names(shown: list[GroupLives], ink: Ink) -> list[Figure]:
    """Return each curve's name at its end, moved apart where curves end together."""
    ends = sorted(range(len(shown)), key=lambda n: shown[n].group.curve.survival[-1])
    heights: list[float] = []
    for n in ends:
        least = heights[-1] + _LABEL_GAP if heights else 0.0
        heights.append(max(shown[n].group.curve.survival[-1], least))
    over = max(0.0, heights[-1] - 1.0) if heights else 0.0
    return [
        {
            "xref": "paper", "x": 1.0, "xanchor": "left", "xshift": 8, "yref": "y", "y": height - over,
            "yanchor": "middle", "align": "left", "showarrow": False, "font": {"size": 14, "color": ink.text},
            "text": _named(shown, n),
        }
        for n, height in zip(ends, heights, strict=True)
    ]  # fmt: skip


def _names_over(shown: list[GroupLives], ink: Ink) -> list[Figure]:
    """Return the names of the curves one under the other over the picture, where nothing has room beside it."""
    return [
        {
            "xref": "paper", "x": 0.0, "xanchor": "left", "yref": "paper", "y": 1.0, "yanchor": "bottom",
            "yshift": 4 + _NAME_PX * (len(shown) - 1 - n), "showarrow": False, "font": {"size": 14, "color": ink.text},
            "text": _named(shown, n),
        }
        for n in range(len(shown))
    ]  # fmt: skip


def _named(shown: list[GroupLives], n: int) -> str:
    dash, sign = _STYLES[n]
    return f"{_DASHES[dash]} {_SIGNS[sign]} <b>{_short(shown[n].group.name)}</b>"


_SIGNS = {
    "circle": "\N{BLACK CIRCLE}",
    "square": "\N{BLACK SQUARE}",
    "diamond": "\N{BLACK DIAMOND}",
    "triangle-up": "\N{BLACK UP-POINTING TRIANGLE}",
}
_DASHES = {
    "solid": "\N{EM DASH}",
    "dash": "\N{EN DASH}\u2009\N{EN DASH}",
    "dot": "\N{MIDDLE DOT}\N{MIDDLE DOT}\N{MIDDLE DOT}",
    "dashdot": "\N{EN DASH}\N{MIDDLE DOT}",
}


def _short(name: str) -> str:
    return name if len(name) <= 20 else name[:19] + "\N{HORIZONTAL ELLIPSIS}"


def life_curve_in_words(groups: list[GroupLives]) -> str:
    """Return what the curves show, for whoever listens to the page."""
    said = []
    for one in groups[:MOST]:
        group = one.group
        text = f"{group.name}: {some(group.curve.n, 'life', 'lives')}, {group.n_failed} gone off"
        half = next((s for s, share in zip(group.curve.shots, group.curve.survival, strict=True) if share <= 0.5), None)
        said.append(f"{text}, half of them by shot {half:.0f}" if half is not None else f"{text}, fewer than half")
    return "; ".join(said) + "." if said else ""
