"""The strips at the press: each channel over the shots of one insert, as one plain figure.

Everything is told by shape, line and word; colour only helps. Plain lists and dicts throughout: the drawing library
packs arrays in a form that later updates of a figure break on, and validating objects cost eight times as much.
"""

from dashboard.shared.figures.ahead import ahead_bar, ahead_in_words, ahead_until, ahead_words
from dashboard.shared.figures.ink import FONT, INKS, Figure, Ink
from dashboard.shared.figures.labels import place
from dashboard.shared.figures.strip import (
    action_words,
    at_limit,
    levels,
    side_words,
    span,
    traces,
    value_axis,
    value_range,
    words_over,
)
from dashboard.shared.views import Strips
from shotlog.channels import CHANNELS
from shotlog.wording.numbers import plain, some

__all__ = ["strips_figure", "strips_in_words"]

_SPACE = 0.035
_LEAST_SPAN = 24
"""Shots the axis always spans, so that the first three do not fill the picture."""

_CHARS_ACROSS = 64
"""Characters of a label that fit side by side on a tablet upright, and on anything wider: the server knows no widths,
only from the browser whether it has the one column of a phone."""

_NARROW_CHARS, _NARROW_TICK_CHARS, _NARROW_SPACE = 30, 24, 0.11
"""The same on a phone, those of its ticks all together, and the share of the height over a strip for words about it."""

_ROW_PX = 19
_LABEL_ROWS = 3
_TICKS = 11
_STEPS = (1, 2, 5, 10, 20, 50, 100, 200)


def strips_figure(view: Strips, mode: str = "day", narrow: bool = False) -> Figure:
    """Return the figure of an insert's strips in the inks of `mode`; `narrow`: words over the strips, not beside."""
    ink = INKS[mode]
    low, high = _shot_range(view)
    domains = _domains(len(view.strips), narrow)
    rows = _LABEL_ROWS + (1 if narrow and view.forecast is not None else 0)
    layout: Figure = {
        "meta": {"narrow": narrow},
        "paper_bgcolor": ink.paper,
        "plot_bgcolor": ink.paper,
        "font": {"family": FONT, "size": 15, "color": ink.text},
        "margin": {
            "l": 48 if narrow else 74,
            "r": 24 if narrow else 142,
            "t": rows * _ROW_PX + 8,
            "b": 62 if narrow else 46,
        },
        "showlegend": False,
        "dragmode": False,
        "hovermode": "closest",
        "xaxis": _shot_axis(view, low, high, ink, narrow),
        "shapes": _over_all(view, ink),
        "annotations": [*_labels(view, low, high, ink, narrow), *_axis_words(view, ink, narrow)],
    }
    data: list[Figure] = []
    for i, (strip, domain) in enumerate(zip(view.strips, domains, strict=True), 1):
        axis = "y" if i == 1 else f"y{i}"
        bottom, top = value_range(strip)
        layout["yaxis" if i == 1 else f"yaxis{i}"] = value_axis(strip, domain, bottom, top, ink)
        data.extend(traces(view, strip, axis, ink))
        layout["shapes"].extend(levels(strip, axis, bottom, top, low, high, ink))
        words = words_over(strip, domain, ink) if narrow else side_words(strip, domain, ink)
        layout["annotations"].extend([*words, *action_words(strip, axis, bottom, top, ink)])
        if view.forecast is not None and view.forecast.channel == strip.channel:
            layout["shapes"].extend(
                ahead_bar(view.forecast, at_limit(strip, view.forecast.end, axis, bottom, top), high, ink)
            )
            layout["annotations"].append(ahead_words(view.forecast, ink, _LABEL_ROWS * _ROW_PX if narrow else None))
    if view.forecast is not None and not view.forecast.channel and view.shots:
        layout["shapes"].extend(ahead_bar(view.forecast, {"yref": "paper", "y": domains[0][1]}, high, ink))
        layout["annotations"].append(ahead_words(view.forecast, ink, _LABEL_ROWS * _ROW_PX if narrow else None))
    return {"data": data, "layout": layout}


def _domains(n: int, narrow: bool) -> list[tuple[float, float]]:
    """Return the share of the height that each of `n` strips takes, from the top down."""
    space, top = (_NARROW_SPACE, 1.0 - _NARROW_SPACE / 2) if narrow else (_SPACE, 1.0)
    height = (top - space * (n - 1)) / n
    return [(top - (i + 1) * height - i * space, top - i * (height + space)) for i in range(n)]


def _shot_range(view: Strips) -> tuple[float, float]:
    first = view.shots[0] if view.shots else view.start
    last = view.shots[-1] if view.shots else view.start
    return first - 0.7, max(last + 1.0, float(first + _LEAST_SPAN), ahead_until(view) or 0.0) + 0.3


def _shot_axis(view: Strips, low: float, high: float, ink: Ink, narrow: bool) -> Figure:
    most = _NARROW_TICK_CHARS // max(len(str(int(high))), 4) if narrow else _TICKS
    ticks = _ticks(view, low, high, most)
    return {
        "range": [low, high],
        "anchor": f"y{len(view.strips)}" if len(view.strips) > 1 else "y",
        "tickmode": "array",
        "tickvals": ticks,
        "ticktext": [
            f"<b>{view.earlier + shot - view.start + 1}</b><br>{shot}" if view.insert else f"<br>{shot}"
            for shot in ticks
        ],
        "tickfont": {"size": 14, "color": ink.text},
        "tickangle": 0,
        "showgrid": False,
        "zeroline": False,
        "fixedrange": True,
        "ticks": "outside",
        "tickcolor": ink.quiet,
    }


def _ticks(view: Strips, low: float, high: float, most: int) -> list[int]:
    step = next((step for step in _STEPS if (high - low) / step <= most), 500)
    before = view.start - 1
    first = int(max(low, before) - before) // step
    counts = [max(1, k * step) for k in range(first, int(high - before) // step + 1)]
    return [before + count for count in counts if low <= before + count <= high]


def _axis_words(view: Strips, ink: Ink, narrow: bool) -> list[Figure]:
    common = {"xref": "paper", "yref": "paper", "x": 1.0, "xanchor": "left", "y": 0.0, "yanchor": "top"}
    words = "<b>shot on insert</b><br>press counter" if view.insert else "<br>press counter"
    if narrow:
        words = "<b>shot on insert</b>, below it the press counter" if view.insert else "press counter"
        beneath = {"xanchor": "right", "yshift": -40, "font": {"size": 12, "color": ink.quiet}}
        return [{**common, **beneath, "text": words, "showarrow": False}]
    return [
        {
            **common, "text": words, "showarrow": False, "align": "left", "xshift": 26, "yshift": -5,
            "font": {"size": 13, "color": ink.quiet},
        }
    ]  # fmt: skip


def _over_all(view: Strips, ink: Ink) -> list[Figure]:
    """Return what runs through every strip: suspect shots, missed shots, events."""
    shapes = []
    if view.held_from is not None and view.shots:
        since = max(view.held_from, view.shots[0])
        shapes.append(_band(since - 0.5, view.shots[-1] + 0.5, ink.suspect, {"width": 0}))
    if view.onset is not None and view.shots:
        low, shot, high = view.onset
        shapes.append(_line(shot - 0.5, ink.alarm, 2.5, "solid"))
        if high > low:
            bar = {"type": "line", "xref": "x", "yref": "paper", "x0": low - 0.5, "x1": high + 0.5, "y0": 1, "y1": 1}
            shapes.append({**bar, "line": {"color": ink.alarm, "width": 6}})
    edge = {"width": 1.2, "color": ink.quiet}
    shapes.extend(_band(first - 0.5, last + 0.5, ink.missed, edge) for first, last in view.gaps)
    shapes.extend(_line(event.shot - 0.5, ink.quiet, 1.5, "dot") for event in view.events)
    return shapes


def _band(x0: float, x1: float, colour: str, edge: Figure) -> Figure:
    return {
        "type": "rect", "xref": "x", "yref": "paper", "x0": x0, "x1": x1, "y0": 0, "y1": 1,
        "fillcolor": colour, "line": edge, "layer": "below",
    }  # fmt: skip


def _line(x: float, colour: str, width: float, dash: str) -> Figure:
    return {
        "type": "line", "xref": "x", "yref": "paper", "x0": x, "x1": x, "y0": 0, "y1": 1,
        "line": {"color": colour, "width": width, "dash": dash},
    }  # fmt: skip


def _labels(view: Strips, low: float, high: float, ink: Ink, narrow: bool) -> list[Figure]:
    wanted: list[tuple[float, str]] = []
    if view.held_from is not None and view.shots:
        wanted.append((max(view.held_from, view.shots[0]) - 0.5, "held for this"))
    wanted += [(event.shot - 0.5, event.label) for event in reversed(view.events)]
    wanted += [(first - 0.5, f"{last - first + 1} missed") for first, last in reversed(view.gaps)]
    return [
        {
            "xref": "x", "yref": "paper", "x": label.shot, "y": 1, "yanchor": "bottom",
            "xanchor": "right" if label.leftward else "left", "yshift": 2 + label.row * _ROW_PX,
            "text": label.text, "showarrow": False, "font": {"size": 14, "color": ink.text},
        }
        for label in place(wanted, low, high, _NARROW_CHARS if narrow else _CHARS_ACROSS, _LABEL_ROWS)
    ]  # fmt: skip


def strips_in_words(view: Strips) -> str:
    """Return what the strips show, for whoever listens to the page instead of looking at it."""
    said = [f"{some(len(view.shots), 'shot')}" + (f" on {view.insert}" if view.insert else "")]
    for strip in view.strips:
        channel = CHANNELS[strip.channel]
        last = next((value for value in reversed(strip.values) if value is not None), None)
        if last is None:
            said.append(f"{channel.label}: no values")
            continue
        text = f"{channel.label}: last {plain(channel.name, last)} {channel.unit}"
        if strip.levels:
            text += f", level {plain(channel.name, strip.levels[-1].centre)}, limits {span(strip)}"
        said.append(f"{text}, {some(len(strip.marks), 'shot')} signalled")
    missed = sum(last - first + 1 for first, last in view.gaps)
    ahead = f"; {ahead_in_words(view.forecast)}" if view.forecast is not None else ""
    return "; ".join(said) + (f"; {missed} shots missed" if missed else "") + ahead + "."
