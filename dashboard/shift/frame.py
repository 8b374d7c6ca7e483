"""The page *After the shift* before it is filled: the controls, and the places for what is read."""

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.shared.attributes import attributes
from dashboard.shared.figures.ink import NOTHING
from dashboard.shared.not_yet import not_yet
from dashboard.shift.query import AXES
from shotlog.entries import KINDS

__all__ = ["frame"]

_TICK_MS = 3000
_LEGEND = (
    ("empty", "no change seen"), ("dotted", "settling"), ("hatched", "watch, or parts in doubt"), ("filled", "swap"),
    ("cross-hatched", "shots missed"), ("upright line", "onset, with the shots it may have been as a bar"),
    *((kind.mark.sign, kind.word) for kind in KINDS.values()),
)  # fmt: skip


def frame() -> Component:
    """Return the page as it is before it is filled."""
    return html.Div(
        [
            dcc.Location("shift-url", refresh=False),
            dcc.Store("shift-shown"),
            dcc.Store("shift-filled"),
            dcc.Interval("shift-tick", interval=_TICK_MS),
            html.H1("After the shift"),
            _filters(),
            html.Div(id="shift-news", role="status"),
            html.Div(not_yet("What happened"), id="shift-lead", className="lead"),
            html.Section(id="shift-asked", className="asked", **attributes(aria_label="Questions")),
            html.Section(_timeline_part(), id="shift-lanes", hidden=True, **attributes(aria_label="Timeline")),
            html.Section(_life_part(), id="shift-life", hidden=True, className="life", **attributes(aria_label="Life")),
            html.Div(id="shift-tables"),
        ],
        className="shift",
    )


def _filters() -> Component:
    choices = [("trial", "Trial"), ("press", "Press"), ("design", "Design"), ("resin", "Print material")]
    fields = [
        _labelled(text, dcc.Dropdown(id=f"shift-{name}", options=[], placeholder="all")) for name, text in choices
    ]
    days = [
        _labelled(text, dcc.Input(id=f"shift-{name}", type="text", placeholder="yyyy-mm-dd", debounce=True, value="",
                                  autoComplete="off", className="day"))
        for name, text in (("since", "From day"), ("until", "To day"))
    ]  # fmt: skip
    return html.Div([*fields, *days], className="filters", role="search", **attributes(aria_label="What is shown"))


def _labelled(text: str, control: Component) -> Component:
    return html.Label([html.Span(text), control], className="labelled")


def _graph(name: str) -> Component:
    return dcc.Graph(name, figure=NOTHING, config={"displayModeBar": False})


def _picture(name: str) -> Component:
    return html.Button("Picture", id=f"{name}-save", className="touch", title="download what is drawn as PNG")


def _timeline_part() -> list[Component]:
    axis = dcc.RadioItems(
        id="shift-axis", options=[{"value": name, "label": f"over {name}s".replace("times", "time")} for name in AXES]
    )
    legend = [html.Span([html.B(sign), f" {word}"]) for sign, word in _LEGEND]
    return [
        html.Div([html.H2("Every life"), axis, _picture("shift-timeline")], className="heading"),
        html.P("Touch a life to see its strips, or choose it in the table below. Draw over it to zoom, twice to undo."),
        _graph("shift-timeline"),
        html.P(legend, className="legend"),
        html.P(id="shift-timeline-words", className="spoken"),
    ]


def _life_part() -> list[Component]:
    channels = html.Fieldset([html.Legend("Strips"), dcc.Checklist(id="shift-channels", options=[], inline=True)])
    beside = _labelled("Value", dcc.Dropdown(id="shift-beside", options=[], clearable=False))
    head = [html.H2(id="shift-life-name"), html.Span(id="shift-life-csv"), _picture("shift-strips")]
    side = [html.H2("Beside its sisters, from shot 1 on"), html.Span(id="shift-sisters-csv"), _picture("shift-sisters")]
    return [
        html.Div(head, className="heading"),
        html.Div(id="shift-life-about"),
        channels,
        _graph("shift-strips"),
        html.P(id="shift-strips-words", className="spoken"),
        html.Div([*side, beside], className="heading"),
        html.P(id="shift-sisters-about"),
        _graph("shift-sisters"),
        html.P(id="shift-sisters-words", className="spoken"),
    ]
