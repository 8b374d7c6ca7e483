"""The entries a person makes at the press: buttons, the panels they open, and what becomes of a touch.

Which kinds of entries have a button, and what its panel asks, stands in `shotlog.entries`. The browser puts each touch
into one store (`assets/shotlog.js`), and one callback waits on that store alone: were the buttons themselves its
inputs, a list drawn anew while an entry is on its way would call it again, and its answer would be thrown away. For
the same reason nothing of the refresh hangs on this callback: a log that is slow to write must not stop the screen.
"""

from collections.abc import Callable, Mapping
from typing import Any

from dash import ALL, Dash, Input, Output, State, ctx, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.press.desk import Desk, next_serial
from dashboard.shared.attributes import attributes
from dashboard.shared.no_entries import notice
from dashboard.shared.page import Context
from dashboard.shared.picks import picks
from dashboard.shared.stored import Stored
from dashboard.shared.views import PressView
from shotlog.entries import GOOD, KINDS, NONE_GOOD, UNCHANGED, EntryKind
from shotlog.errors import ShotlogError, UsageError
from shotlog.records import HALVES
from shotlog.wording.verdicts import question as question_said
from shotlog.wording.verdicts import unchanged

__all__ = ["entry_buttons", "field", "question", "recent_entries", "register", "section", "touch"]

_AT_SHOT, _FROM_SHOT = "At shot (empty: the last)", "From shot (empty: the next)"
_ONCE = {"once": "a new one every shot"}

_SWAP = "swap"
"""What the panel of a mounting goes by, beside those of the kinds of entries."""


def section() -> Component:
    """Return the part of the page that takes entries."""
    return html.Section(
        [
            html.H2("Enter"),
            notice(),
            html.Div(id="said", role="status", className="said"),
            html.Div(entry_buttons(), id="panel"),
            html.Button("More", className="touch only-narrow more", **attributes(aria_expanded="false")),
            html.Div(id="refused", role="alert", className="refused"),
            dcc.Store("touch"),
        ],
        className="desk",
        **attributes(aria_label="Entries"),
    )


def entry_buttons() -> Component:
    """Return the grid of buttons that is shown while no panel is open."""
    buttons = [touch("Swapped", "open", _SWAP)]
    for name, kind in sorted(KINDS.items(), key=lambda item: item[1].place):
        buttons += [touch(text.capitalize(), "say", f"{name}:{text}") for text in kind.at_once]
        buttons += [touch(kind.button, "open", name)] if kind.button else []
    return html.Div(buttons, className="buttons")


def question(shot: int) -> Component:
    """Return the question whether an insert was changed before a shot, with its two answers."""
    return html.Div(
        [
            html.B(question_said(shot).capitalize()),
            touch("Yes, changed", "changed", str(shot), "primary"),
            touch("No", "unchanged", str(shot)),
        ],
        className="question",
        role="group",
        **attributes(aria_label="Question"),
    )


def recent_entries(view: PressView) -> list[Component]:
    """Return the newest entries, each with its undo."""
    return [
        html.Li(
            [
                html.Span([f"{entry.text} ", html.Small(f"shot {entry.shot}")], className="what"),
                html.Small("taken back") if entry.taken_back else _undo(entry.name, entry.text),
            ],
            className="gone" if entry.taken_back else "",
        )
        for entry in view.recent
    ]


def register(app: Dash, context: Context) -> None:
    """Take every touch of a button and every Enter in a field."""
    desk = Desk(context.source)

    @app.callback(
        Output("panel", "children"),
        Output("said", "children"),
        Output("refused", "children"),
        Input("touch", "data"),
        State({"type": "field", "name": ALL}, "value"),
        State({"type": "choice", "name": ALL}, "data"),
        State("press", "data"),
        prevent_initial_call=True,
    )
    def touched(touch: dict[str, str], _texts: Any, _choices: Any, press: str) -> Any:
        what, arg = touch["what"], touch["arg"]
        given = {item["id"]["name"]: item.get("value") for group in ctx.states_list[:2] for item in group}
        try:
            if what == "cancel":
                return entry_buttons(), no_update, ""
            if what == "open":
                return _panel(arg, context.reader.fresh(press).view, context), "", ""
            if what == "changed":
                return _panel(_SWAP, context.reader.fresh(press).view, context, from_shot=arg), "", ""
            stored = _entered(desk, press, what, arg, given)
        except ShotlogError as error:
            return no_update, "", str(error)
        return entry_buttons(), _said(stored), ""


def _entered(desk: Desk, press: str, what: str, arg: str, given: Mapping[str, Any]) -> Stored:
    """Make the entry that a touch stands for."""
    makers: dict[str, Callable[[], Stored]] = {
        "say": lambda: _said_at_once(desk, press, arg, given),
        "unchanged": lambda: desk.note(press, UNCHANGED, unchanged(int(arg)), f"s{arg}"),
        "good": lambda: desk.note(press, GOOD, GOOD, f"s{arg}" if arg else _typed_shot(given)),
        "none-good": lambda: desk.note(press, NONE_GOOD, NONE_GOOD, f"s{arg}"),
        "undo": lambda: desk.undo(arg),
        "enter": lambda: _from_panel(desk, press, arg, given),
    }
    return makers[what]()


def _typed_shot(given: Mapping[str, Any]) -> str:
    """Return the shot typed as the last known to be good."""
    typed = (given.get("good.shot") or "").strip()
    if not typed:
        raise UsageError("last known good: given nothing, allowed: a shot number")
    return str(typed)


def _said_at_once(desk: Desk, press: str, arg: str, given: Mapping[str, Any]) -> Stored:
    kind, _, text = arg.partition(":")
    return desk.note(press, kind, text, given.get(f"{kind}.shot") or "")


def _from_panel(desk: Desk, press: str, name: str, given: Mapping[str, Any]) -> Stored:
    at_shot = given.get(f"{name}.shot") or ""
    if name != _SWAP:
        return desk.note(press, name, _typed(name, given), at_shot)
    return desk.swap(
        press,
        given.get("swap.serial") or "",
        given.get("swap.half") or "",
        design=given.get("swap.design") or "",
        single_use=bool(given.get("swap.once")),
        at_shot=at_shot,
    )


def _typed(name: str, given: Mapping[str, Any]) -> str:
    """Return the text of an entry, behind the one who looked where the kind asks for it."""
    text = given.get(f"{name}.text") or ""
    return f"{given.get(f'{name}.who') or ''}, {text}" if KINDS[name].who else text


def _panel(name: str, view: PressView, context: Context, from_shot: str = "") -> Component:
    if name == _SWAP:
        head, inside = "Swapped", _swap_fields(view, context, from_shot)
    else:
        head, inside = KINDS[name].button, _text_fields(name, KINDS[name])
    return html.Div(
        [
            html.H3(head),
            *inside,
            html.Div([touch("Enter", "enter", name, "primary"), touch("Back", "cancel", name)], className="row"),
        ],
        className="panel",
        **attributes(data_arg=name),
    )


def _text_fields(name: str, kind: EntryKind) -> list[Component]:
    quick = [touch(text, "say", f"{name}:{text}") for text in kind.quick]
    return [
        *([html.Div(quick, className="buttons")] if quick else []),
        *([field(f"{name}.who", kind.who, focus=True)] if kind.who else []),
        field(f"{name}.text", kind.prompt, focus=not quick and not kind.who),
        field(f"{name}.shot", _AT_SHOT if kind.seen else _FROM_SHOT, numeric=True),
    ]


def _swap_fields(view: PressView, context: Context, from_shot: str = "") -> list[Component]:
    judged = view.judged
    design = judged.design if judged else ""
    designs = sorted({*context.source.settings.designs, *([design] if design else [])})
    if not design and len(designs) == 1:
        design = designs[0]
    proposal = next_serial(judged.serial) if judged and not judged.single_use else ""
    fields = [
        picks("swap.half", "Half", list(HALVES), judged.half if judged else "moving"),
        field("swap.serial", "Serial, typed or scanned", proposal, focus=True),
        field("swap.shot", _FROM_SHOT, from_shot, numeric=True),
    ]
    if designs:
        fields.append(picks("swap.design", "Design", ["", *designs], design, {"": "not known"}))
    once = picks("swap.once", "Piece", ["once"], "once" if judged and judged.single_use else "", _ONCE, toggle=True)
    return [*fields, once]


def field(name: str, label: str, value: str = "", *, focus: bool = False, numeric: bool = False) -> Component:
    """Return a field to type in, by which its entry knows it, under its label."""
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


def touch(label: str, what: str, arg: str, look: str = "", spoken: str = "") -> Component:
    """Return a button that says what was touched."""
    marks = attributes(data_what=what, data_arg=arg, **({"aria_label": spoken} if spoken else {}))
    return html.Button(label, className=f"touch {look}".strip(), **marks)


def _undo(entry: str, text: str) -> Component:
    return touch("Undo", "undo", entry, "undo", f"Undo {text}")


def _said(stored: Stored) -> list[Component]:
    said: list[Component] = [html.Span(f"\N{CHECK MARK} {stored.words}")]
    return [*said, _undo(stored.entry, stored.words)] if stored.entry else said
