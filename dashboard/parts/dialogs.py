"""What the page of parts and baths asks before it enters something: one dialog at a time, over the page.

A dialog is one entry in `DIALOGS`: its title, its fields, and what becomes of them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.parts.desk import PartsDesk, range_of
from dashboard.shared.at_centre import edge_here
from dashboard.shared.attributes import attributes
from dashboard.shared.person import act_of, allowed
from dashboard.shared.picks import picks
from dashboard.shared.stored import Stored
from dashboard.shared.who import who_enters
from shotlog.errors import UsageError
from shotlog.wording.where import bath_named

__all__ = ["DIALOGS", "Dialog", "dialog", "entered", "field", "touch"]

DECIDES = ("release", "scrap")
"""The dialogs by which parts are decided on."""

Given = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Dialog:
    """One dialog. `fields` and `enter` are given what it is about; `quick`: reasons entered at one touch.

    `at_centre`: it can be entered at a centre as well.
    """

    title: str
    button: str
    fields: Callable[[str, list[str], str], list[Component]]
    enter: Callable[[PartsDesk, str, str, Given], Stored]
    quick: tuple[str, ...] = ()
    ask: str = ""
    at_centre: bool = False


def dialog(name: str, about: str, press: str, presses: list[str]) -> Component:
    """Return a dialog about something (``P25 62-92``, ``B1``), fields and buttons, and who enters."""
    chosen = _named(name)
    title = chosen.title.format(about=about, bath=bath_named(about))
    quick = [touch(text, "quick", text) for text in chosen.quick]
    asked = [html.P(chosen.ask, className="ask")] if chosen.ask else []
    return html.Div(
        html.Div(
            [
                html.H2(title),
                *chosen.fields(about, presses, press),
                who_enters(),
                *asked,
                *([html.Div(quick, className="buttons")] if quick else []),
                *([field("reason", "Another reason", ends="enter")] if quick else []),
                html.Div([touch(chosen.button, "enter", "", "primary"), touch("Back", "back", "")], className="row"),
            ],
            className="dialog",
            role="dialog",
            **attributes(aria_modal="true", aria_label=title),
        ),
        className="veil",
        key=f"{name} {about}",
    )


def entered(desk: PartsDesk, name: str, about: str, quick: str, given: Given) -> Stored:
    """Enter what a dialog asked for; `quick` is the reason that was touched, empty where none was."""
    return _named(name).enter(desk, about, quick, given)


def _named(name: str) -> Dialog:
    if name not in DIALOGS:
        raise UsageError(f"entry: given {name!r}, allowed: {', '.join(DIALOGS)}")
    return DIALOGS[name]


def field(
    name: str,
    label: str,
    value: str = "",
    *,
    focus: bool = False,
    number: bool = False,
    ends: str = "",
    big: bool = False,
) -> Component:
    """Return a labelled field; Enter in it goes to the next one, or does what `ends` says."""
    entry = dcc.Input(
        id={"type": "parts-field", "name": name},
        value=value,
        type="text",
        autoComplete="off",
        autoFocus=focus,
        className="field",
        **attributes(inputMode="decimal" if number else "text"),
    )
    look = "labelled big" if big else "labelled"
    return html.Label([html.Span(label), entry], className=look, **attributes(data_ends=ends))


def touch(label: str, do: str, arg: str, look: str = "", spoken: str = "") -> Component:
    """Return a button that says what it does when touched; nothing for whoever may not do that, or not here."""
    if do == "open" and edge_here() and not DIALOGS[arg.partition(" ")[0]].at_centre:
        return html.Span(hidden=True)
    decides = do == "open" and arg.partition(" ")[0] in DECIDES
    if not allowed(act_of(arg.partition(":")[0]) if do == "undo" else "decide" if decides else "enter"):
        return html.Span(hidden=True)
    marks = attributes(data_do=do, data_arg=arg, **({"aria_label": spoken} if spoken else {}))
    return html.Button(label, className=f"touch {look}".strip(), **marks)


def _which(about: str, _presses: list[str], _press: str) -> list[Component]:
    return [field("parts", "Which of them (62, 62-70)", about.partition(" ")[2], focus=True, ends="stay")]


def _decided(decision: str) -> Callable[[PartsDesk, str, str, Given], Stored]:
    def enter(desk: PartsDesk, about: str, quick: str, given: Given) -> Stored:
        reason = quick or given.get("reason", "")
        if not reason.strip():
            raise UsageError(f"reason: given nothing, allowed: a few words that say why parts are {decision}")
        press = about.partition(" ")[0]
        return desk.decide(press, given.get("parts", ""), decision, reason, given.get("initials", ""))

    return enter


def _soak_fields(_about: str, presses: list[str], press: str) -> list[Component]:
    pressed = [picks("soak.press", "Press", presses, press or presses[0])] if len(presses) > 1 else []
    return [*pressed, field("parts", "Parts: shots (140-151), or scan the pieces", focus=True, ends="enter", big=True)]


def _soaked(desk: PartsDesk, about: str, _quick: str, given: Given) -> Stored:
    press = given.get("soak.press") or given.get("press", "")
    return desk.put_in(about, press, given.get("parts", ""), given.get("initials", ""))


def _put_fields(about: str, presses: list[str], press: str) -> list[Component]:
    here, _, named = about.partition(" ")
    pressed = [picks("put.press", "Press", presses, here or press or presses[0])] if len(presses) > 1 else []
    return [
        *pressed,
        field("parts", "Parts: shots (140-151), or scan them", named, focus=not named, big=True),
        field("place", "Bag, box or shelf: one word, or scan it", focus=bool(named), ends="enter", big=True),
        field("due", "Due (24h, 2d, 14:30; nothing: not due)", ends="enter"),
    ]


def _put(desk: PartsDesk, about: str, _quick: str, given: Given) -> Stored:
    press = given.get("put.press") or about.partition(" ")[0] or given.get("press", "")
    due = given.get("due", "")
    return desk.put_at(press, given.get("parts", ""), given.get("place", ""), due, given.get("initials", ""))


def _out_fields(about: str, presses: list[str], press: str) -> list[Component]:
    cleared = picks("out.cleared", "The half", ["yes", "no"], "yes", {"yes": "all gone", "no": "something left"})
    place = field("place", "Put in (bag, box, shelf; nothing: not said)")
    return [*_which(about, presses, press), cleared, place, field("remark", "Remark", ends="enter")]


def _taken_out(desk: PartsDesk, about: str, _quick: str, given: Given) -> Stored:
    cleared = given.get("out.cleared", "yes") == "yes"
    who = given.get("initials", "")
    press = about.partition(" ")[0]
    remark, place = given.get("remark", ""), given.get("place", "")
    return desk.take_out(press, given.get("parts", ""), cleared=cleared, remark=remark, place=place, initials=who)


def _check_fields(_about: str, _presses: list[str], _press: str) -> list[Component]:
    return [
        field("concentration", "Concentration, mol/l", focus=True, number=True, big=True),
        field("temperature", "Temperature, \N{DEGREE SIGN}C", number=True, ends="enter", big=True),
    ]


def _checked(desk: PartsDesk, about: str, _quick: str, given: Given) -> Stored:
    return desk.check_bath(
        about, given.get("concentration", ""), given.get("temperature", ""), given.get("initials", "")
    )


def _fill_fields(_about: str, _presses: list[str], _press: str) -> list[Component]:
    def pair(name: str, label: str, last: bool) -> Component:
        ends = "enter" if last else ""
        low = field(f"{name}.low", f"{label} from", number=True)
        return html.Div([low, field(f"{name}.high", "to", number=True, ends=ends)], className="pair")

    return [
        field("bath", "Bath", focus=True, big=True),
        pair("concentration", "Concentration, mol/l,", False),
        pair("temperature", "Temperature, \N{DEGREE SIGN}C,", True),
    ]


def _filled(desk: PartsDesk, _about: str, _quick: str, given: Given) -> Stored:
    concentration, temperature = (
        range_of(given.get(f"{name}.low", ""), given.get(f"{name}.high", ""), name)
        for name in ("concentration", "temperature")
    )
    return desk.make_up(given.get("bath", ""), concentration, temperature, given.get("initials", ""))


DIALOGS: dict[str, Dialog] = {
    "release": Dialog(
        "Release: {about}", "Release", _which, _decided("released"),
        ("measured, within tolerance", "looked at, nothing found", "cause was elsewhere"), "Why?", at_centre=True,
    ),
    "scrap": Dialog(
        "Scrap: {about}", "Scrap", _which, _decided("scrapped"),
        ("out of tolerance", "flash", "short", "burn", "crack", "not worth inspecting"), "Why?", at_centre=True,
    ),
    "soak": Dialog("Put into {bath}", "In the bath", _soak_fields, _soaked),
    "put": Dialog("Where parts are put", "Put there", _put_fields, _put),
    "out": Dialog("Out of the bath: {about}", "Out", _out_fields, _taken_out),
    "check": Dialog("Check of {bath}", "Enter", _check_fields, _checked),
    "fill": Dialog("New filling of a bath", "Made up", _fill_fields, _filled),
}  # fmt: skip
"""Every dialog by the word its buttons open it with."""
