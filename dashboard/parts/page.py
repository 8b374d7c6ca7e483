"""*Parts and baths*: a bench page. Inspect a part, decide on held ones, see what is in which bath and what is due."""

from collections.abc import Mapping
from typing import Any
from urllib.parse import unquote

from dash import ALL, Dash, Input, Output, State, ctx, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.parts import dialogs as dialogs
from dashboard.parts import lists as parts_lists
from dashboard.parts.desk import NamedPart, PartsDesk, number
from dashboard.parts.dialogs import field, touch
from dashboard.parts.places import places
from dashboard.parts.reader import PartsReader
from dashboard.shared import waiting
from dashboard.shared.attributes import attributes
from dashboard.shared.no_entries import notice
from dashboard.shared.not_yet import not_yet
from dashboard.shared.page import Context, Page
from dashboard.shared.part_path import path_of
from dashboard.shared.person import allowed
from dashboard.shared.picks import picks
from dashboard.shared.sent import TouchOfParts, Typed
from dashboard.shared.stored import Stored
from dashboard.shared.who import INITIALS, ask_who, signing, who_enters
from dashboard.shared.zone import zone_note
from shotlog.entries import FINDING, KINDS
from shotlog.errors import ShotlogError, StoreError, UsageError
from shotlog.parts.part import Part
from shotlog.parts.standing import PartStanding
from shotlog.review.held import gravest
from shotlog.settings import Bound
from shotlog.store.parts.dispositions import NobodySays
from shotlog.store.parts.inspections import WEIGHT
from shotlog.wording.parts import decision_text, doubt_text
from shotlog.wording.who import initials_first

__all__ = ["PAGE"]

_ENTERS = ("measure", "finding", "nothing", "undo")
"""What a touch outside of a dialog enters; a dialog has the field for who enters in sight."""

HELD_OF = {"type": "choice", "name": "held.press"}
"""The press whose held parts are listed."""


def layout(context: Context, rest: str) -> Component:
    """Return the page, on the press that the address names, if any; the first refresh fills it."""
    presses = list(context.source.presses)
    named = unquote(rest.strip("/"))
    at = named if named in presses else ""
    return html.Div(
        [
            html.H1("Parts and baths"),
            zone_note(context.source.clock.now()),
            html.Div(id="parts-said", role="status", className="said parts-said"),
            notice(),
            html.Div(id="parts-refused", role="alert", className="refused"),
            html.Div(
                [
                    *([_bench(presses, at)] if allowed("enter") else []),
                    html.Section(
                        [_held_of(presses, at), html.Div(not_yet("Which parts are held"), id="parts-held")],
                        className="held",
                        **attributes(aria_label="Held parts"),
                    ),
                    html.Div(
                        [
                            html.Section(
                                not_yet(), id="parts-places", className="places", **attributes(aria_label="Places")
                            ),
                            html.Section(not_yet(), id="parts-baths", **attributes(aria_label="Baths")),
                        ],
                        className="baths",
                    ),
                    html.Section(
                        [
                            *waiting.place(context.source.settings.edge),
                            html.H2("Last entries"),
                            html.Ul(html.Li(not_yet()), id="parts-recent", className="recent"),
                        ],
                        className="entered",
                        **attributes(aria_label="Last entries"),
                    ),
                ],
                className="parts-grid",
            ),
            html.Div(id="parts-dialog"),
            *(dcc.Store(name) for name in ("parts-touch", "parts-seen", "parts-entered", "parts-part", "parts-open")),
            dcc.Interval("parts-tick", interval=2000),
        ],
        className="sheet parts-page",
    )


def _bench(presses: list[str], at: str) -> Component:
    press = picks("press", "Press", presses, at or presses[0]) if len(presses) > 1 else _only(presses[0])
    inside = [html.H2("Inspect"), press, html.Div(_form(None, 0), id="parts-form")]
    return html.Section(inside, className="bench", **attributes(aria_label="Inspect"))


def _held_of(presses: list[str], at: str) -> Component:
    """Return the choice of the press whose held parts are listed: all, or one."""
    if len(presses) < 2:
        return dcc.Store(HELD_OF, data="")
    return picks("held.press", "Held parts of", ["", *presses], at, {"": "All presses"})


def _only(press: str) -> Component:
    return dcc.Store({"type": "choice", "name": "press"}, data=press)


def register(app: Dash, context: Context) -> None:
    """Refresh the lists when something changed; take every touch, and every Enter that ends a row of fields."""
    reader, desk = PartsReader(context.source, context.held), PartsDesk(context.source)
    # what is held is worked out apart, but in which order all was entered is read here: the first who looks would wait
    context.first_looks.append(reader.view)

    @app.callback(
        Output("parts-held", "children"),
        Output("parts-places", "children"),
        Output("parts-baths", "children"),
        Output("parts-recent", "children"),
        Output("parts-seen", "data"),
        Output("beat", "data", allow_duplicate=True),
        Input("parts-tick", "n_intervals"),
        Input("parts-entered", "data"),
        Input(HELD_OF, "data"),
        State("parts-seen", "data"),
        prevent_initial_call="initial_duplicate",
    )
    def refresh(tick: int | None, _entered: int | None, press: str | None, seen: str | None) -> Any:
        now = context.source.clock.now()
        try:
            view = reader.view()
        except StoreError as error:
            said = str(error)
            return (*parts_lists.unread(said), said, tick or 0) if said != seen else (*(no_update,) * 5, tick or 0)
        held = f"{view.digest} {press} {now:%H:%M}"
        if held == seen:
            return *(no_update,) * 5, tick or 0
        lists = (parts_lists.held(view, now, press or ""), places(view.places, now), parts_lists.baths(view, now))
        return *lists, parts_lists.recent(view, now), held, tick or 0

    @app.callback(
        Output("parts-form", "children"),
        Output("parts-dialog", "children"),
        Output("parts-said", "children"),
        Output("parts-refused", "children"),
        Output("parts-part", "data"),
        Output("parts-open", "data"),
        Output("parts-entered", "data"),
        Input("parts-touch", "data"),
        State({"type": "parts-field", "name": ALL}, "value"),
        State({"type": "choice", "name": ALL}, "data"),
        State("parts-part", "data"),
        State("parts-open", "data"),
        State(INITIALS, "data"),
        prevent_initial_call=True,
    )
    def act(
        touched: TouchOfParts | None,
        _fields: list[Typed],
        _choices: list[Typed],
        part: tuple[str, int, int] | None,
        opened: tuple[str, str] | None,
        initials: Typed,
    ) -> Any:
        if not touched:
            return (no_update,) * 7
        given = {
            entry["id"]["name"]: entry.get("value") or "" for group in ctx.states_list[:2] for entry in group if entry
        }
        at = int(touched["at"])
        try:
            who = signing(initials)
            if who is None and touched["do"] in _ENTERS:
                asks = _asks_who(touched["do"], touched["arg"])
                return no_update, no_update, "", asks, no_update, no_update, no_update
            given[INITIALS] = who or ""
            return _acted(desk, reader, touched["do"], touched["arg"], given, part, opened, at, context)
        except NobodySays as error:
            return no_update, no_update, "", initials_first(error.what), no_update, no_update, no_update
        except ShotlogError as error:
            return no_update, no_update, "", str(error), no_update, no_update, no_update


def _acted(
    desk: PartsDesk,
    reader: PartsReader,
    do: str,
    arg: str,
    given: Mapping[str, str],
    part: tuple[str, int, int] | None,
    opened: tuple[str, str] | None,
    at: int,
    context: Context,
) -> Any:
    """Return what a touch leads to: form, dialog, what is said and refused, the part at hand, the dialog open."""
    if do == "look":
        known = desk.find(given.get("press", ""), given.get("part", ""))
        return (
            _form(known, at),
            no_update,
            "",
            "",
            [known.part.press, known.part.shot, known.part.cavity],
            None,
            no_update,
        )
    if do == "open":
        name, _, about = arg.partition(" ")
        dialog = dialogs.dialog(name, about, given.get("press", ""), list(context.source.presses))
        return no_update, dialog, "", "", no_update, [name, about], no_update
    if do == "again":
        return _form(None, at), no_update, "", "", None, no_update, no_update
    if do == "back":
        return no_update, None, "", "", no_update, None, no_update
    if do == "undo":
        stored = desk.undo(arg, given[INITIALS])
        reader.entered()
        return no_update, no_update, _said(stored, given[INITIALS]), "", no_update, no_update, at
    if do in ("measure", "finding", "nothing"):
        stored = _measured(desk, do, arg, given, part)
        reader.entered()
        return _form(None, at), no_update, _said(stored, given[INITIALS]), "", None, no_update, at
    if opened:
        stored = dialogs.entered(desk, opened[0], opened[1], arg, given)
        reader.entered()
        return no_update, None, _said(stored, given[INITIALS]), "", no_update, None, at
    return (no_update,) * 7


def _measured(
    desk: PartsDesk, do: str, arg: str, given: Mapping[str, str], part: tuple[str, int, int] | None
) -> Stored:
    if not part:
        raise UsageError("part: given nothing, allowed: a shot number, or the serial of its single-use piece")
    known = desk.find(part[0], f"{part[0]}/{part[1]}/{part[2]}")
    values, ends = {}, {}
    for asked in known.asked:
        value = number(given.get(f"value.{asked.quantity}", ""), asked.quantity.replace("_", " "))
        if value is not None:
            values[asked.quantity], ends[asked.quantity] = value, asked.tolerance
    other, size = given.get("other.name", "").strip(), number(given.get("other.value", ""), "other dimension")
    if size is not None:
        values[other], ends[other] = size, Bound()
    if do == "measure" and not values:
        raise UsageError("value: given nothing, allowed: a number; or touch what was seen, or nothing found")
    return desk.inspect(Part(*part), values, ends, finding=arg if do == "finding" else "", initials=given[INITIALS])


def _form(known: NamedPart | None, key: int) -> Component:
    """Return the fields for one part: the part itself first, then what there is to measure on it."""
    if known is None:
        asked = field("part", "Part: shot number, or scan its label or piece", focus=True, ends="look", big=True)
        return html.Div(
            [asked, html.Div(touch("Look up", "look", ""), className="row"), who_enters()],
            key=f"part {key}",
        )
    values = [
        field(f"value.{asked.quantity}", _asked(asked.quantity, asked.unit, asked.tolerance), focus=n == 0, number=True,
              ends="measure" if n == len(known.asked) - 1 else "", big=True)
        for n, asked in enumerate(known.asked)
    ]  # fmt: skip
    seen = [touch(text, "finding", text) for text in KINDS[FINDING].quick]
    return html.Div(
        [
            html.Div(
                [
                    html.H3(f"{known.part.press}, shot {known.part.shot}"),
                    *_stands(known.standing),
                    html.P(_about(known)),
                    _all_of(known),
                ],
                className="at-hand",
            ),
            html.Div(values, className="values"),
            html.Div([touch("Enter", "measure", "", "primary"), touch("Other part", "again", "")], className="row"),
            html.H3("Or what was seen"),
            html.Div([*seen, touch("Nothing found", "nothing", "")], className="buttons"),
            html.Details(
                [
                    html.Summary("Another dimension"),
                    html.Div(
                        [field("other.name", "Name"), field("other.value", "Value, mm", number=True, ends="measure")]
                    ),
                ]
            ),
            who_enters(),
        ],
        key=f"values {key}",
    )


def _all_of(known: NamedPart) -> Component:
    part = known.part
    put = touch("Put somewhere\N{HORIZONTAL ELLIPSIS}", "open", f"put {part.press} {part.shot}/{part.cavity}",
                spoken="Say where this part is put")  # fmt: skip
    way = dcc.Link("All that is known of it", href=path_of(part.press, part.shot, part.cavity), className="touch")
    return html.Div([way, put], className="row")


def _asked(quantity: str, unit: str, ends: Bound) -> str:
    name = "Weight" if quantity == WEIGHT else quantity.replace("_", " ").capitalize()
    if ends.low is None and ends.high is None:
        return f"{name}, {unit}"
    low, high = ("" if end is None else f"{end:g}" for end in (ends.low, ends.high))
    return f"{name}, {unit} (tolerance {low} to {high})"


def _stands(standing: PartStanding) -> list[Component]:
    """Return that a part is held, and why, before it is let go by a touch; or what was decided of it."""
    if standing.state == "made":
        return []
    main = gravest(standing.doubts)
    why = [] if standing.decision is None else [decision_text(standing.decision)]
    if standing.state != "held":
        return [html.P(f"{why[0][:1].upper()}{why[0][1:]}.", className="stands")]
    why = [*([doubt_text(main)] if main is not None else []), *why]
    return [html.P([html.B("HELD: "), f"{'; '.join(why)}."], className="stands")]


def _about(known: NamedPart) -> str:
    made = known.made
    cavity = [f"cavity {made.part.cavity}"] if made.part.cavity > 1 else []
    halves = [f"{half} {held.serial}" for half, held in made.halves.items()]
    moulded = (
        "moulded while nobody was logging" if made.time is None else f"moulded {made.time.astimezone():%d %b %H:%M}"
    )
    where = [f"STILL IN BATH {known.bath}"] if known.bath else [f"in {known.place}"] if known.place else []
    return ", ".join([*cavity, *(halves or ["no insert on record"]), moulded, *where])


def _asks_who(do: str, arg: str) -> Component:
    enter, without = touch("Enter", do, arg, "primary"), touch("Enter without", do, arg, "without")
    return ask_who(enter, without, touch("Back", "back", ""))


def _said(stored: Stored, who: str) -> list[Component]:
    by = html.Small(f", by {who}") if who else None
    said: list[Component] = [html.Span([f"\N{CHECK MARK} {stored.words}", by])]
    undo = touch("Undo", "undo", stored.entry, "undo", f"Undo {stored.words}")
    return [*said, undo] if stored.entry else said


PAGE = Page("Parts and baths", "/parts", layout, register)
