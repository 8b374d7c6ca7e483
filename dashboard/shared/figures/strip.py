"""One strip: a channel's readings over the shots of an insert, with level, limits, marks and the words beside them."""

from dashboard.shared.figures.ink import Figure, Ink
from dashboard.shared.views import Strip, Strips
from shotlog.channels import CHANNELS
from shotlog.wording.numbers import plain

__all__ = [
    "action_words",
    "at_limit",
    "levels",
    "side_words",
    "span",
    "traces",
    "value_axis",
    "value_range",
    "words_over",
]


def value_range(strip: Strip) -> tuple[float, float]:
    """Return the range of values drawn: readings, limits, and an action limit that is not far away."""
    known = [value for value in strip.values if value is not None]
    known += [bound for level in strip.levels for bound in (level.lower, level.upper)]
    if not known:
        return 0.0, 1.0
    middle, least = (min(known) + max(known)) / 2.0, 2.0 * CHANNELS[strip.channel].least_change
    low, high = min(*known, middle - least), max(*known, middle + least)
    width = high - low
    near = [x for x in (strip.action.low, strip.action.high) if x is not None and low - width <= x <= high + width]
    low, high = min([low, *near]), max([high, *near])
    pad = 0.10 * (high - low)
    return low - pad, high + pad


def value_axis(strip: Strip, domain: tuple[float, float], bottom: float, top: float, ink: Ink) -> Figure:
    """Return the axis of values, over its part of the picture's height."""
    return {
        "domain": list(domain),
        "range": [bottom, top],
        "nticks": 4,
        "tickfont": {"size": 13, "color": ink.quiet},
        "gridcolor": ink.rule,
        "zeroline": False,
        "fixedrange": True,
        "showticklabels": any(value is not None for value in strip.values),
    }


def traces(view: Strips, strip: Strip, axis: str, ink: Ink) -> list[Figure]:
    """Return the line through the readings, the readings, and the marks of signals."""
    channel = CHANNELS[strip.channel]
    size = 9 if len(view.shots) <= 60 else 7 if len(view.shots) <= 160 else 4.5
    hover = f"shot %{{x}}<br>{channel.label} %{{y:.{channel.decimals}f}} {channel.unit}<extra></extra>"
    common: Figure = {"type": "scatter", "xaxis": "x", "yaxis": axis, "hovertemplate": hover}
    pairs = list(zip(view.shots, strip.values, strict=True))
    shots, values = _broken_line(pairs)
    settling = [(shot, value) for shot, value in pairs if value is not None and shot in view.settling]
    judged = [(shot, value) for shot, value in pairs if value is not None and shot not in view.settling]
    drawn = [
        {**common, "mode": "lines", "x": shots, "y": values, "connectgaps": False, "hoverinfo": "skip",
         "hovertemplate": None, "line": {"color": ink.line, "width": 1.4}},
        {**common, "name": "judged", "mode": "markers", **_xy(judged),
         "marker": {"symbol": "circle", "size": size, "color": ink.point}},
        {**common, "name": "settling", "mode": "markers", **_xy(settling),
         "marker": {"symbol": "circle-open", "size": size, "color": ink.quiet, "line": {"width": 1.8}}},
    ]  # fmt: skip
    symbols = {"above": "triangle-up", "below": "triangle-down", "other": "diamond-open"}
    drawn.append(
        {**common, "name": "signals", "mode": "markers",
         "x": [mark.shot for mark in strip.marks], "y": [mark.value for mark in strip.marks],
         "text": [mark.text for mark in strip.marks],
         "hovertemplate": hover.replace("<extra>", "<br>%{text}<extra>"),
         "marker": {"symbol": [symbols[mark.side] for mark in strip.marks], "size": max(2 * size - 3, 8),
                    "color": ink.alarm, "line": {"width": 2, "color": ink.alarm}}}
    )  # fmt: skip
    return drawn


def _xy(pairs: list[tuple[int, float]]) -> Figure:
    return {"x": [shot for shot, _ in pairs], "y": [value for _, value in pairs]}


def _broken_line(pairs: list[tuple[int, float | None]]) -> tuple[list[int | None], list[float | None]]:
    """Return the line through the shots, broken where shots are missing."""
    shots: list[int | None] = []
    values: list[float | None] = []
    before: int | None = None
    for shot, value in pairs:
        if before is not None and shot > before + 1:
            shots.append(None)
            values.append(None)
        shots.append(shot)
        values.append(value)
        before = shot
    return shots, values


def levels(strip: Strip, axis: str, bottom: float, top: float, low: float, high: float, ink: Ink) -> list[Figure]:
    """Return level and limits over the shots they were in force, and the action limits that lie within the picture."""
    drawn = []
    for n, level in enumerate(strip.levels):
        x0, x1 = level.first - 0.5, high if n == len(strip.levels) - 1 else level.last + 0.5
        for value, colour, width, dash in (
            (level.centre, ink.level, 2.0, "solid"),
            (level.lower, ink.limit, 1.6, "dash"),
            (level.upper, ink.limit, 1.6, "dash"),
        ):
            drawn.append(_across(axis, x0, x1, value, colour, width, dash))
    for bound in (strip.action.low, strip.action.high):
        if bound is not None and bottom <= bound <= top:
            drawn.append(_across(axis, low, high, bound, ink.alarm, 3.0, "longdashdot"))
    return drawn


def _across(axis: str, x0: float, x1: float, y: float, colour: str, width: float, dash: str) -> Figure:
    return {
        "type": "line", "xref": "x", "yref": axis, "x0": x0, "x1": x1, "y0": y, "y1": y, "layer": "below",
        "line": {"color": colour, "width": width, "dash": dash},
    }  # fmt: skip


def at_limit(strip: Strip, end: str, axis: str, bottom: float, top: float) -> Figure:
    """Return where the bar of the forecast lies: on the action limit, or on the edge it lies beyond."""
    limit = strip.action.low if end == "low" else strip.action.high
    at = bottom if end == "low" else top
    if limit is not None and bottom <= limit <= top:
        at = limit
    return {"yref": axis, "y": at}


def words_over(strip: Strip, domain: tuple[float, float], ink: Ink) -> list[Figure]:
    """Return the words over a strip, in one line: name, last value, level and limits."""
    channel = CHANNELS[strip.channel]
    last = next((value for value in reversed(strip.values) if value is not None), None)
    number = "\N{EN DASH}" if last is None else plain(channel.name, last)
    level = f"level {plain(channel.name, strip.levels[-1].centre)}, {span(strip)}" if strip.levels else ""
    common: Figure = {
        "xref": "paper", "yref": "paper", "y": domain[1], "yanchor": "bottom", "yshift": 2, "showarrow": False,
        "bgcolor": ink.paper, "borderpad": 0,
    }  # fmt: skip
    return [
        {**common, "x": 0.0, "xanchor": "left", "xshift": -40, "font": {"size": 15, "color": ink.text},
         "text": f"<b>{channel.label} {number}</b> {channel.unit}"},
        {**common, "x": 1.0, "xanchor": "right", "font": {"size": 12, "color": ink.text},
         "text": level or ("no values yet" if last is None else "no level yet")},
    ]  # fmt: skip


def side_words(strip: Strip, domain: tuple[float, float], ink: Ink) -> list[Figure]:
    """Return the words beside a strip: name, last value, level and limits."""
    channel = CHANNELS[strip.channel]
    last = next((value for value in reversed(strip.values) if value is not None), None)
    number = "\N{EN DASH}" if last is None else plain(channel.name, last)
    small = "no values yet" if last is None else "no level yet"
    if strip.levels:
        small = f"level {plain(channel.name, strip.levels[-1].centre)}<br>{span(strip)}"
    lines = ((f"<b>{channel.label}</b>", 15, 27), (f"<b>{number}</b> {channel.unit}", 23, 3), (small, 12, -26))
    common: Figure = {
        "xref": "paper", "yref": "paper", "x": 1.0, "xanchor": "left", "xshift": 10, "align": "left",
        "y": (domain[0] + domain[1]) / 2, "yanchor": "middle", "showarrow": False,
    }  # fmt: skip
    return [
        {**common, "text": text, "yshift": shift, "font": {"size": size, "color": ink.text}}
        for text, size, shift in lines
    ]


def action_words(strip: Strip, axis: str, bottom: float, top: float, ink: Ink) -> list[Figure]:
    """Return a label on each action limit; one too far away to be drawn is named at the edge it lies beyond."""
    words = []
    for end, value in (("low", strip.action.low), ("high", strip.action.high)):
        if value is None:
            continue
        drawn = bottom <= value <= top
        arrow = "" if drawn else " \N{DOWNWARDS ARROW}" if end == "low" else " \N{UPWARDS ARROW}"
        words.append(
            {
                "xref": "paper", "yref": axis, "x": 0.0, "xanchor": "left", "xshift": 6,
                "y": value if drawn else bottom if end == "low" else top,
                "yanchor": "bottom" if drawn or end == "low" else "top",
                "text": f"action limit {plain(strip.channel, value)}{arrow}", "showarrow": False,
                "font": {"size": 13, "color": ink.alarm},
            }
        )  # fmt: skip
    return words


def span(strip: Strip) -> str:
    """Return the limits in force in words."""
    level = strip.levels[-1]
    return f"{plain(strip.channel, level.lower)} to {plain(strip.channel, level.upper)}"
