"""Buttons of which one is pressed: a choice that a gloved finger can make."""

from collections.abc import Mapping

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.shared.attributes import attributes

__all__ = ["picks"]


def picks(
    name: str,
    label: str,
    values: list[str],
    chosen: str,
    shown: Mapping[str, str] | None = None,
    toggle: bool = False,
    fills: str = "",
    proposed: Mapping[str, str] | None = None,
) -> Component:
    """Return buttons of which one is pressed; with `toggle` it may be released again.

    A pressed one puts what is `proposed` for its value into the field that it `fills`.
    """
    buttons = [
        html.Button(
            (shown or {}).get(value, value),
            className="touch pick",
            **attributes(
                data_choice=name,
                data_value=value,
                data_toggle=str(toggle).lower(),
                aria_pressed=str(value == chosen).lower(),
                **({"data_fills": fills, "data_proposes": (proposed or {}).get(value, "")} if fills else {}),
            ),
        )
        for value in values
    ]
    kept = dcc.Store({"type": "choice", "name": name}, data=chosen)
    return html.Fieldset([html.Legend(label), html.Div(buttons, className="picks"), kept])
