"""The timeline of a shift: at each press every insert life, what was said, what is in doubt and what happened.

A plain figure. A state is told by its pattern and an event by its shape and word; colour only helps.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime

from dashboard.shared.figures.ink import FONT, INKS, Figure, Ink
from dashboard.shared.figures.labels import place
from dashboard.shift.blocks import RUNGS, Bar, Block, block_of, folded, lanes_of
from dashboard.shift.whole import Shift
from shotlog.entries import FINDING, KINDS
from shotlog.wording.numbers import some
from shotlog.wording.verdicts import VERDICT_WORDS

__all__ = ["timeline_figure", "timeline_height_px", "timeline_in_words"]

_LANE_PX, _HEAD_PX, _FOOT_PX, _GAP_PX = 30, 30, 44, 26
_LEFT_PX, _CHARS_ACROSS, _TICKS = 126, 105, 14
_NARROW_LEFT_PX, _NARROW_CHARS, _NARROW_TICKS = 84, 32, 5
"""Room at the left, characters of a label that fit across, ticks on an axis; and the same on a phone."""

_NARROW_NAME = 10
"""Characters of the name of a lane that fit on a line there."""

_LEAST_CHARS = 4
_AT_THE_EDGE = 0.6
"""Of the characters that fit as a rule, the share of wide letters: at the edge they would run off the picture."""

_THICK, _THIN = 0.66, 0.34

_STATES = ("keep", "settling", "watch", "swap")
_PATTERNS = {"settling": ".", "watch": "/", "doubt": "\\", "missed": "x"}


def timeline_figure(shift: Shift, mode: str = "day", narrow: bool = False) -> Figure:
    """Return the timeline of a view in the inks of `mode`; `narrow`: as a phone has room for it."""
    ink = INKS[mode]
    by_time = shift.query.axis == "time"
    blocks = [block_of(one, by_time, shift.query.life) for one in shift.presses]
    height, left = timeline_height_px(shift), _NARROW_LEFT_PX if narrow else _LEFT_PX
    chars, ticks = (_NARROW_CHARS, _NARROW_TICKS) if narrow else (_CHARS_ACROSS, _TICKS)
    layout: Figure = {
        "meta": {"narrow": narrow},
        "paper_bgcolor": ink.paper,
        "plot_bgcolor": ink.paper,
        "font": {"family": FONT, "size": 14, "color": ink.text},
        "margin": {"l": left, "r": 8 if narrow else 18, "t": _HEAD_PX, "b": _FOOT_PX},
        "height": height,
        "showlegend": False,
        "barmode": "overlay",
        "dragmode": "zoom",
        "hovermode": "closest",
        "uniformtext": {"mode": "hide", "minsize": 11},
        "shapes": [],
        "annotations": [],
    }
    data: list[Figure] = []
    inner, top = height - _HEAD_PX - _FOOT_PX, 1.0
    for n, block in enumerate(blocks, 1):
        bottom = top - len(block.lanes) * _LANE_PX / inner
        axes = ("x", "y") if n == 1 else (f"x{n}", f"y{n}")
        layout["xaxis" + axes[0][1:]] = _shot_axis(block, axes[1], by_time, n, ticks, ink)
        layout["yaxis" + axes[1][1:]] = _lane_axis(block, axes[0], (max(bottom, 0.0), top), narrow, ink)
        data += _traces(block, axes, ink)
        layout["shapes"] += _onset_shapes(block, axes, ink)
        layout["annotations"] += [_title(block, top, left, ink), *_labels(block, axes, chars, ink)]
        top = bottom - (_FOOT_PX + _GAP_PX) / inner
    return {"data": data, "layout": layout}


def timeline_height_px(shift: Shift) -> int:
    """Return the height the timeline of a view needs."""
    lanes = sum(len(lanes_of(one)) for one in shift.presses)
    between = (len(shift.presses) - 1) * (_FOOT_PX + _GAP_PX)
    return _HEAD_PX + _FOOT_PX + lanes * _LANE_PX + max(between, 0)


def _shot_axis(block: Block, anchor: str, by_time: bool, n: int, ticks: int, ink: Ink) -> Figure:
    axis: Figure = {
        "range": [block.at(block.first - 0.7), block.at(block.last + 0.7)],
        "anchor": anchor,
        "showgrid": True,
        "gridcolor": ink.rule,
        "zeroline": False,
        "ticks": "outside",
        "tickcolor": ink.quiet,
        "tickfont": {"size": 13, "color": ink.text},
        "title": {"text": "time" if by_time else f"shot of {block.press}", "font": {"size": 13}, "standoff": 4},
    }
    if by_time:
        return axis | {"type": "date", "nticks": ticks, **({"matches": "x"} if n > 1 else {})}
    return axis | {"tickformat": "d", "nticks": ticks, "tickangle": 0}


def _lane_axis(block: Block, anchor: str, domain: tuple[float, float], narrow: bool, ink: Ink) -> Figure:
    n = len(block.lanes)
    names = [VERDICT_WORDS.get(lane, lane) for lane in block.lanes]
    return {
        "domain": [domain[0], domain[1]],
        "anchor": anchor,
        "range": [n - 0.45, -0.55],
        "tickmode": "array",
        "tickvals": list(range(n)),
        "ticktext": [folded(name, _NARROW_NAME) for name in names] if narrow else names,
        "tickfont": {"size": 12 if narrow else 14, "color": ink.text},
        "showgrid": False,
        "zeroline": False,
        "fixedrange": True,
    }


def _traces(block: Block, axes: tuple[str, str], ink: Ink) -> list[Figure]:
    states = ("life", *_STATES, "doubt", "missed")
    traces = [_bars(block, [bar for bar in block.bars if bar.state == state], state, axes, ink) for state in states]
    return [trace for trace in traces if trace["y"]] + _marks(block, axes, ink)


def _bars(block: Block, bars: Sequence[Bar], state: str, axes: tuple[str, str], ink: Ink) -> Figure:
    """Return the bars of one state as one trace."""
    lane = {name: n for n, name in enumerate(block.lanes)}
    ends = [(block.at(bar.first - 0.5), block.at(bar.last + 0.5)) for bar in bars]
    fill, line, text = _look(state, ink)
    widths = [3.5 if state == "life" and bar.serial == block.chosen else 1.2 for bar in bars]
    pattern = {
        "shape": _PATTERNS.get(state, ""), "fgcolor": ink.text, "bgcolor": fill, "size": 8, "solidity": 0.16,
        "fgopacity": 0.55,
    }  # fmt: skip
    return {
        "type": "bar",
        "orientation": "h",
        "name": state,
        "xaxis": axes[0],
        "yaxis": axes[1],
        "base": [left for left, _ in ends],
        "x": [_length(left, right) for left, right in ends],
        "y": [lane[bar.lane] for bar in bars],
        "width": _THIN if state in ("missed", *_STATES) else _THICK,
        "text": [bar.text for bar in bars],
        "textposition": "inside",
        "insidetextanchor": "middle",
        "textangle": 0,
        "insidetextfont": {"color": text, "size": 13},
        "hovertext": [bar.hover for bar in bars],
        "hovertemplate": "%{hovertext}<extra></extra>",
        "customdata": [[bar.serial, block.press, bar.first] for bar in bars],
        "marker": {"color": fill, "line": {"color": line, "width": widths}, "pattern": pattern},
    }


def _length(left: float | str, right: float | str) -> float:
    """Return the length of a bar: in shots, or on an axis of time in milliseconds."""
    if isinstance(left, str) or isinstance(right, str):
        return (datetime.fromisoformat(str(right)) - datetime.fromisoformat(str(left))).total_seconds() * 1000.0
    return right - left


def _look(state: str, ink: Ink) -> tuple[str, str, str]:
    """Return fill, outline and text of a state."""
    looks: Mapping[str, tuple[str, str, str]] = {
        "life": (ink.paper, ink.text, ink.text),
        "keep": (ink.paper, ink.quiet, ink.text),
        "settling": (ink.paper, ink.quiet, ink.text),
        "watch": (ink.suspect, ink.text, ink.text),
        "swap": (ink.alarm, ink.alarm, ink.paper),
        "doubt": (ink.suspect, ink.text, ink.text),
        "missed": (ink.missed, ink.quiet, ink.text),
    }
    return looks[state]


def _marks(block: Block, axes: tuple[str, str], ink: Ink) -> list[Figure]:
    row = block.lanes.index("noted")
    if not block.noted:
        return []
    return [
        {
            "type": "scatter",
            "mode": "markers",
            "name": "noted",
            "xaxis": axes[0],
            "yaxis": axes[1],
            "x": [block.at(item.shot - 0.5) for item in block.noted],
            "y": [row] * len(block.noted),
            "text": [f"shot {item.shot}, {item.kind}: {folded(item.text)}" for item in block.noted],
            "hovertemplate": "%{text}<extra></extra>",
            "marker": {
                "symbol": [KINDS[item.entry].mark.page for item in block.noted],
                "size": 12,
                "color": ink.point,
                "line": {"width": 2, "color": ink.point},
            },
        }
    ]


def _onset_shapes(block: Block, axes: tuple[str, str], ink: Ink) -> list[Figure]:
    """Return each onset as a line over the lanes of verdicts, with its interval as a bar on top of it."""
    top, bottom = block.lanes.index(RUNGS[0]) - 0.45, block.lanes.index("in doubt") + 0.4
    shapes = []
    for low, shot, high in block.onsets:
        if not block.first <= shot <= block.last:
            continue
        x, common = block.at(shot - 0.5), {"type": "line", "xref": axes[0], "yref": axes[1]}
        line = {"color": ink.alarm, "width": 2.5}
        shapes.append({**common, "x0": x, "x1": x, "y0": top, "y1": bottom, "line": line})
        ends = {"x0": block.at(low - 0.5), "x1": block.at(high + 0.5), "y0": top, "y1": top}
        shapes.append({**common, **ends, "line": {"color": ink.alarm, "width": 5}})
    return shapes


def _title(block: Block, top: float, left: int, ink: Ink) -> Figure:
    return {
        "xref": "paper", "yref": "paper", "x": 0.0, "y": top, "xanchor": "left", "yanchor": "bottom",
        "xshift": 8 - left, "text": f"<b>{block.press}</b>", "showarrow": False,
        "font": {"size": 16, "color": ink.text},
    }  # fmt: skip


def _labels(block: Block, axes: tuple[str, str], chars: int, ink: Ink) -> list[Figure]:
    """Return the words beside the marks, where there is room."""
    row, low, high = block.lanes.index("noted"), block.first - 0.7, block.last + 0.7
    width = (high - low) / chars
    shots = sorted({item.shot for item in block.noted})
    wanted = []
    for item in sorted(block.noted, key=lambda item: item.entry != FINDING):
        text = item.kind if item.text in ("", item.entry) else item.text
        following = next((shot for shot in shots if shot > item.shot), high + 1)
        n_fitting = int(min(following - item.shot, _AT_THE_EDGE * (high - item.shot)) / width) - 3
        if n_fitting >= min(len(text), _LEAST_CHARS):
            cut = text if len(text) <= n_fitting else text[: n_fitting - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"
            wanted.append((item.shot + width, cut))
    return [
        {
            "xref": axes[0], "yref": axes[1], "x": block.at(label.shot), "y": row, "yanchor": "middle",
            "xanchor": "right" if label.leftward else "left", "xshift": -20 if label.leftward else 4,
            "text": label.text, "showarrow": False, "font": {"size": 12, "color": ink.text},
        }
        for label in place(wanted, low, high, chars, 1)
    ]  # fmt: skip


def timeline_in_words(shift: Shift) -> str:
    """Return what the timeline shows, for whoever listens to the page."""
    said = []
    for one in shift.presses:
        called = [call for call in one.history.episodes if not call.withdrawn]
        worst = [call for call in called if call.worst == "swap"]
        said.append(
            f"{one.press}, shots {one.window.first} to {one.window.last}: {some(len(one.stays), 'life', 'lives')}, "
            f"{len(called)} changes called, {len(worst)} of them to swap, {len(one.suspects)} spans of parts in doubt"
        )
    return "; ".join(said) + "." if said else ""
