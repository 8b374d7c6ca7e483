"""The entries a person makes at the press: buttons, the panels they open, and what becomes of a touch.

Which kinds of entries have a button, and what its panel asks, stands in `shotlog.entries`. The browser puts each touch
into one store (`assets/shotlog.js`), and one callback waits on that store alone: were the buttons themselves its
inputs, a list drawn anew while an entry is on its way would call it again, and its answer would be thrown away. For
the same reason nothing of the refresh hangs on this callback: a log that is slow to write must not stop the screen.
"""

import re
from collections.abc import Callable, Mapping
from typing import Any

from dash import ALL, Dash, Input, Output, State, ctx, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.press import panels
from dashboard.press.controls import back, touch
from dashboard.press.desk import AsksFirst, Desk, next_serial
from dashboard.shared import waiting
from dashboard.shared.at_centre import (
    ELSEWHERE,
    UNDONE_ELSEWHERE,
    edge_here,
    is_taken_back_here,
)
from dashboard.shared.attributes import attributes
from dashboard.shared.no_entries import notice
from dashboard.shared.page import Context
from dashboard.shared.person import allowed
from dashboard.shared.pictures import picture_button, picture_small
from dashboard.shared.sent import PressName, Touch, Typed
from dashboard.shared.stored import Stored
from dashboard.shared.views import EntryLine, PressView
from dashboard.shared.who import INITIALS, ask_who, signing, who_enters, who_is_kept
from shotlog.entries import DRY, GOOD, KINDS, NONE_GOOD, UNCHANGED
from shotlog.errors import ShotlogError, UsageError
from shotlog.store.centre.content import KINDS_AT_CENTRE
from shotlog.wording.verdicts import question as question_said
from shotlog.wording.verdicts import unchanged
from shotlog.wording.who import by_whom

__all__ = ["entry_buttons", "question", "recent_entries", "register", "section"]


class _AsksWho(Exception):
    """The first entry of a device on which nobody has said yet who enters: that is asked before it."""


def section(edge: str = "") -> Component:
    """Return the part of the page that takes entries; for who only looks, that they do.

    `edge`: whose log at a centre it is; empty of a log at its own place.
    """
    if not allowed("enter"):
        return html.Section([html.H2("Enter"), notice()], className="desk", **attributes(aria_label="Entries"))
    return html.Section(
        [
            html.H2("Enter"),
            notice(),
            html.Div(id="said", role="status", className="said"),
            html.Div(entry_buttons(edge), id="panel"),
            html.Button(
                ["More", who_is_kept()], className="touch only-narrow more", **attributes(aria_expanded="false")
            ),
            html.Div(id="refused", role="alert", className="refused"),
            who_enters(),
            dcc.Store("touch"),
            *waiting.place(edge),  # below what a person came for: of what was entered just now `said` tells
        ],
        className="desk",
        **attributes(aria_label="Entries"),
    )


def entry_buttons(edge: str = "") -> Component:
    """Return the grid of buttons that is shown while no panel is open; at a centre, of what can be entered there."""
    buttons = [] if edge else [_mounting()]
    for name, kind in sorted(KINDS.items(), key=lambda item: item[1].place):
        if edge and name not in KINDS_AT_CENTRE:
            continue
        buttons += [touch(text.capitalize(), "say", f"{name}:{text}") for text in kind.at_once]
        buttons += [touch(kind.button, "open", name)] if kind.button else []
    if edge:
        return html.Div([html.Div(buttons, className="buttons"), html.P("Enter all else at the press.")])
    buttons += [touch("Removed", "open", panels.REMOVE), touch("Single-use pieces", "open", panels.PIECES)]
    return html.Div(buttons, className="buttons")


def _mounting() -> Component:
    """Return the button that enters what was put in: where nothing is in, nothing was swapped (`entries.css`)."""
    words = [html.Span("Insert mounted", className="first-in"), html.Span("Swapped", className="in-place-of")]
    return html.Button(words, className="touch", **attributes(data_what="open", data_arg=panels.SWAP))


def question(shot: int) -> Component:
    """Return the question whether an insert was changed before a shot, with its two answers."""
    answers = [touch("Yes, changed", "changed", str(shot), "primary"), touch("No", "unchanged", str(shot))]
    return html.Div(
        [html.B(question_said(shot).capitalize()), *([html.Small(ELSEWHERE)] if edge_here() else answers)],
        className="question",
        role="group",
        **attributes(aria_label="Question"),
    )


def recent_entries(view: PressView, edge: str = "") -> list[Component]:
    """Return the newest entries, each with its undo, or the way to enter it again; folded, those of the logger itself.

    What the logger entered can be put right, and is not what a person who looks for the last own entry is to undo.
    `edge`: where the log is, at a centre.
    """
    of_people = [_entry(entry, edge) for entry in view.recent if not entry.who.is_program]
    if not all(_may_turn(entry) for entry in view.recent):
        of_people.append(html.Li(html.Span(UNDONE_ELSEWHERE, className="what")))
    of_logger = [_entry(entry, edge) for entry in view.recent if entry.who.is_program]
    if not of_logger:
        return of_people
    folded = html.Details([html.Summary("Entered by the logger itself"), html.Ul(of_logger, className="recent")])
    return [*of_people, html.Li(folded, className="of-logger")]


def _entry(entry: EntryLine, edge: str) -> Component:
    return html.Li(
        [
            html.Span([f"{entry.text} ", html.Small(_about(entry)), *_pictures(entry, edge)], className="what"),
            *([(_again if entry.taken_back else _undo)(entry.name, entry.text)] if _may_turn(entry) else []),
        ],
        className="gone" if entry.taken_back else "",
    )


def _may_turn(entry: EntryLine) -> bool:
    """Whether an entry can be taken back here, or entered again where it was."""
    if entry.taken_back and edge_here():
        return entry.finding is not None and not entry.pictures
    return is_taken_back_here(entry.name, entry.who)


def _pictures(entry: EntryLine, edge: str) -> list[Component]:
    """Return the pictures taken with a finding, small, and the button that takes one."""
    if entry.finding is None or entry.taken_back:
        return []
    shown = [picture_small(one, edge) for one in entry.pictures]
    taker = [] if edge else [picture_button(f"Picture of {entry.text}", finding=entry.finding)]
    return [html.Span([*shown, *taker], className="pictured")]


def register(app: Dash, context: Context) -> None:
    """Take every touch of a button and every Enter in a field."""
    desk, edge = Desk(context.source), context.source.settings.edge

    @app.callback(
        Output("panel", "children"),
        Output("said", "children"),
        Output("refused", "children"),
        Input("touch", "data"),
        State({"type": "field", "name": ALL}, "value"),
        State({"type": "choice", "name": ALL}, "data"),
        State("press", "data"),
        State(INITIALS, "data"),
        prevent_initial_call=True,
    )
    def touched(touch: Touch, _texts: list[Typed], _choices: list[Typed], press: PressName, initials: Typed) -> Any:
        what, arg = touch["what"], touch["arg"]
        given = {item["id"]["name"]: item.get("value") for group in ctx.states_list[:2] for item in group}
        try:
            given[INITIALS] = signing(initials)
            if what == "cancel":
                return entry_buttons(edge), no_update, ""
            opened = _opened(desk, context, press, what, arg, _typed(given, "initials"))
            if opened is not None:
                return opened, "", ""
            stored = _entered(desk, context, press, what, arg, given)
        except _AsksWho:
            return no_update, "", _asks_who(what, arg)
        except AsksFirst as asks:
            return no_update, "", _asked(asks, what, arg)
        except ShotlogError as error:
            return no_update, "", str(error)
        return entry_buttons(edge), _said(stored, _typed(given, INITIALS)), ""


def _opened(desk: Desk, context: Context, press: str, what: str, arg: str, initials: str) -> Component | None:
    """Return the panel that a touch opens, None where it enters something."""
    if what == "undo":
        return panels.undo_panel(arg, desk.asked_of(arg))
    if what == "open-drop":
        return panels.drop_panel(arg)
    if what not in ("open", "changed"):
        return None
    if what == "open" and arg not in (panels.SWAP, panels.REMOVE, panels.PIECES, *KINDS):
        raise _no_button(what, arg)
    view, designs = context.reader.fresh(press).view, sorted(context.source.settings.designs)
    if what == "open":
        return panels.open_panel(arg, view, designs, initials)
    return panels.open_panel(panels.SWAP, view, designs, initials, from_shot=arg)


def _entered(
    desk: Desk, context: Context, press: str, what: str, arg: str, given: Mapping[str, Any], sure: bool = False
) -> Stored:
    """Make the entry that a touch stands for."""
    who = _typed(given, "initials")
    first, _, rest = arg.partition(":")
    makers: dict[str, Callable[[], Stored]] = {
        "sure": lambda: _entered(desk, context, press, first, rest, given, sure=True),
        "say": lambda: _said_at_once(desk, press, arg, given, sure),
        "unchanged": lambda: desk.note(press, UNCHANGED, unchanged(_shot_asked(arg)), f"s{arg}", initials=who),
        "good": lambda: desk.note(press, GOOD, GOOD, f"s{arg}" if arg else _typed_shot(given), initials=who),
        "unsure": lambda: desk.note(press, NONE_GOOD, NONE_GOOD, f"s{arg}", initials=who),
        "seen": lambda: desk.seen(press, arg, who),
        "undone": lambda: desk.undo(arg, who),
        "again": lambda: desk.again(arg, who),
        "swapped": lambda: _swapped(desk, context, press, arg, given),
        "removed": lambda: _removed(desk, press, arg, given),
        "dropped": lambda: desk.drop_piece(press, first, rest, who),
        "enter": lambda: _from_panel(desk, press, arg, given, sure),
    }
    if what not in makers or (what == "sure" and sure):
        raise _no_button(what, arg)
    if given.get(INITIALS, "") is None:
        raise _AsksWho
    return makers[what]()


def _no_button(what: str, arg: str) -> UsageError:
    """Return the error for a touch of what is no button here, as a page of another release may send it."""
    return UsageError(f"touch: given {what!r} {arg!r}, allowed: a button of this page; load it anew")


def _shot_asked(arg: str) -> int:
    if not re.fullmatch("[0-9]{1,18}", arg):
        raise _no_button("unchanged", arg)
    return int(arg)


def _typed_shot(given: Mapping[str, Any]) -> str:
    """Return the shot typed as the last known to be good."""
    typed = _typed(given, "good.shot")
    if not typed:
        raise UsageError("last known good: given nothing, allowed: a shot number")
    return typed


def _said_at_once(desk: Desk, press: str, arg: str, given: Mapping[str, Any], sure: bool) -> Stored:
    """Enter what one button says: kind, text, and the shot where the button names one."""
    kind, text, at_shot, *_ = [*arg.split(":"), "", ""]
    if kind not in KINDS:
        raise _no_button("say", arg)
    at_shot = at_shot or _typed(given, f"{kind}.shot")
    half, who = _typed(given, f"{kind}.half"), _typed(given, "initials")
    return desk.note(press, kind, text, at_shot, half=half, initials=who, sure=sure)


def _swapped(desk: Desk, context: Context, press: str, half: str, given: Mapping[str, Any]) -> Stored:
    """Enter that the next serial of the insert in a half took its place."""
    mounted = {piece.half: piece for piece in context.reader.fresh(press).view.mounted}
    if half not in mounted:
        raise UsageError(
            f"half: given {half!r}, allowed: one that holds an insert ({', '.join(mounted) or 'none does'})"
        )
    old = mounted[half]
    return desk.swap(
        press,
        next_serial(old.serial),
        half,
        design=old.design,
        at_shot=_typed(given, "swap.shot"),
        reason=_typed(given, "swap.why"),
        initials=_typed(given, "initials"),
    )


def _removed(desk: Desk, press: str, reason: str, given: Mapping[str, Any]) -> Stored:
    half, at_shot = _typed(given, "remove.half"), _typed(given, "remove.shot")
    return desk.remove(press, half, reason, at_shot, _typed(given, "initials"))


def _from_panel(desk: Desk, press: str, name: str, given: Mapping[str, Any], sure: bool) -> Stored:
    who = _typed(given, "initials")
    if name == panels.REMOVE:
        return _removed(desk, press, _typed(given, "remove.reason"), given)
    if name == panels.PIECES:
        batch = _typed(given, "pieces.batch")
        return desk.add_pieces(press, _typed(given, "pieces.half"), _typed(given, "pieces.serials"), batch, who)
    if name.startswith(panels.DROP):
        return desk.drop_piece(press, name.partition(":")[2], _typed(given, "drop.reason"), who)
    if name != panels.SWAP:
        if name not in KINDS:
            raise _no_button("enter", name)
        half, at_shot = _typed(given, f"{name}.half"), _typed(given, f"{name}.shot")
        return desk.note(press, name, _text(name, given), at_shot, half=half, initials=who, sure=sure)
    return desk.swap(
        press,
        _typed(given, "swap.serial"),
        _typed(given, "swap.half"),
        design=_typed(given, "swap.design"),
        single_use=bool(given.get("swap.once")),
        at_shot=_typed(given, "swap.shot"),
        reason=_typed(given, "swap.why"),
        initials=who,
        sure=sure,
    )


def _typed(given: Mapping[str, Any], name: str) -> str:
    """Return what was typed or picked, empty where nothing was."""
    return str(given.get(name) or "").strip()


def _text(name: str, given: Mapping[str, Any]) -> str:
    """Return the text of an entry, behind the one who looked where the kind asks for it; a dry shot needs none."""
    text = _typed(given, f"{name}.text") or (DRY if name == DRY else "")
    return f"{_typed(given, f'{name}.who')}, {text}" if KINDS[name].who else text


def _asked(asks: AsksFirst, what: str, arg: str) -> list[Component]:
    """Return a question that an entry waits for; what was typed stays in its panel."""
    return [html.P(str(asks)), touch(asks.yes, "sure", f"{what}:{arg}", "primary")]


def _asks_who(what: str, arg: str) -> Component:
    """Return the question who enters, with the touch that waits for it; what was typed stays in its panel."""
    return ask_who(touch("Enter", what, arg, "primary"), touch("Enter without", what, arg, "without"), back())


def _about(entry: EntryLine) -> str:
    """Return at which shot something was entered, by whom, and that it was taken back."""
    where = f"shot {entry.shot}" if entry.shot else "first shot to come"
    back = f"; taken back{by_whom(entry.who_back)}" if entry.taken_back else ""
    return f"{where}{by_whom(entry.who)}{back}"


def _undo(entry: str, text: str) -> Component:
    return touch("Undo", "undo", entry, "undo", f"Undo {text}")


def _again(entry: str, text: str) -> Component:
    return touch("Enter again", "again", entry, "undo", f"Enter again {text}")


def _said(stored: Stored, who: str) -> list[Component]:
    more = html.Small(f" {stored.more}") if stored.more else None
    by = html.Small(f", by {who}") if who else None
    said: list[Component] = [html.Span([f"\N{CHECK MARK} {stored.words}", by, "." if more else "", more])]
    if not stored.entry:
        return said
    if stored.finding is not None:
        said.append(picture_button(f"Picture of {stored.words}", finding=stored.finding))
    return [*said, (_again if stored.taken_back else _undo)(stored.entry, stored.words)]
