"""What the panels of entries are made of: buttons that are touched, fields that are typed in, and their names."""

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.shared.attributes import attributes
from dashboard.shared.person import allowed

__all__ = ["AT_SHOT", "FROM_SHOT", "back", "field", "panel", "touch"]

AT_SHOT, FROM_SHOT = "At shot (empty: the last)", "From shot (empty: the next)"


def touch(label: str, what: str, arg: str, look: str = "", spoken: str = "") -> Component:
    """Return a button; what it stands for is told in one store, by `assets/shotlog.js`. None for who only looks."""
    if not allowed("enter"):
        return html.Span(hidden=True)
    marks = attributes(data_what=what, data_arg=arg, **({"aria_label": spoken} if spoken else {}))
    return html.Button(label, className=f"touch {look}".strip(), **marks)


def back() -> Component:
    """Return the button that closes a panel and enters nothing."""
    return touch("Back", "cancel", "")


def field(name: str, label: str, value: str = "", *, focus: bool = False, numeric: bool = False) -> Component:
    """Return a field to type or scan into, under its label."""
    entry = dcc.Input(
        id={"type": "field", "name": name},
        value=value,
        type="text",
        inputMode="numeric" if numeric else "verbatim",
        autoComplete="off",
        autoFocus=focus,
        className="field",
    )
    return html.Label([html.Span(label), entry], className="labelled")


def panel(name: str, head: str, inside: list[Component], last: list[Component] | None = None) -> Component:
    """Return a panel, with the buttons `last` in its last row: by default the one that enters it, and back."""
    row = [touch("Enter", "enter", name, "primary"), back()] if last is None else last
    return html.Div(
        [html.H3(head), *inside, html.Div(row, className="row")], className="panel", **attributes(data_arg=name)
    )
