"""The panels that a button of the entries opens: what each asks, and what it proposes."""

from dash import html
from dash.development.base_component import Component

from dashboard.press.controls import AT_SHOT, FROM_SHOT, back, field, panel, touch
from dashboard.press.desk import next_serial
from dashboard.shared.picks import picks
from dashboard.shared.views import Mounted, PressView
from shotlog.entries import DRY, FINDING, KINDS, EntryKind
from shotlog.records import HALVES
from shotlog.wording.blame import pointed_at
from shotlog.wording.entries import half_named
from shotlog.wording.numbers import some

__all__ = ["DROP", "PIECES", "REMOVE", "SWAP", "drop_panel", "note_panel", "open_panel", "undo_panel"]

SWAP, REMOVE, PIECES, DROP = "swap", "remove", "pieces", "drop"
"""What the panels of mounting, removal and single-use pieces go by, beside those of the kinds of entries."""

REASONS = ("worn", "flash", "broken", "gate worn", "precaution", "trial over")
"""Why an insert came out, in words that are understood (`wear.change.told`, `parts.ending`)."""

DROPPED = ("cracked", "fell down", "not cured", "does not fit")
"""Why a single-use piece is not used."""

_ONCE = {"once": "a new one every shot"}
_SHOWN = 6


def open_panel(name: str, view: PressView, designs: list[str], initials: str, from_shot: str = "") -> Component:
    """Return the panel of that name; `from_shot` is what is proposed for the first shot of a mounting."""
    if name == SWAP:
        return panel(SWAP, "Swapped" if view.mounted else "Insert mounted", _swap(view, designs, from_shot))
    if name == REMOVE:
        return panel(REMOVE, "Removed", _remove(view))
    if name == PIECES:
        return panel(PIECES, "Single-use pieces", _pieces(view))
    return note_panel(name, view, initials)


def note_panel(name: str, view: PressView, initials: str) -> Component:
    """Return the panel of a kind of entry."""
    kind = KINDS[name]
    if name == DRY:
        last = [] if view.shot is None else [touch(f"Shot {view.shot}, the last", "say", f"{DRY}:{DRY}:s{view.shot}")]
        quick = html.Div([*last, touch("The next shot", "say", f"{DRY}:{DRY}")], className="buttons")
        told = html.Small("A dry shot made no part and took no piece.")
        inside = [told, quick, field(f"{DRY}.text", kind.prompt), field(f"{DRY}.shot", AT_SHOT, numeric=True)]
        return panel(name, kind.button, inside)
    return panel(name, kind.button, _asked(name, kind, view, initials))


def undo_panel(entry: str, text: str) -> Component:
    """Return the question whether an entry is taken back."""
    last = [touch("Yes, take it back", "undone", entry, "primary"), back()]
    return panel("", "Take this back?", [html.P(text, className="undoing")], last)


def drop_panel(serial: str) -> Component:
    """Return the question why a piece is not used."""
    quick = html.Div([touch(why, "dropped", f"{serial}:{why}") for why in DROPPED], className="buttons")
    told = html.Small("The shots from its own on move up by one piece.")
    return panel(
        f"{DROP}:{serial}", f"Why is {serial} dropped?", [told, quick, field(f"{DROP}.reason", "Other reason")]
    )


def _asked(name: str, kind: EntryKind, view: PressView, initials: str) -> list[Component]:
    quick = [touch(text, "say", f"{name}:{text}") for text in kind.quick]
    return [
        *([_which_half(name, view)] if name == FINDING and view.mounted else []),
        *([html.Div(quick, className="buttons")] if quick else []),
        *([field(f"{name}.who", kind.who, initials, focus=True)] if kind.who else []),
        field(f"{name}.text", kind.prompt, focus=not quick and not kind.who),
        field(f"{name}.shot", AT_SHOT if kind.seen else FROM_SHOT, numeric=True),
    ]


def _which_half(name: str, view: PressView) -> Component:
    """Ask which half something is about; nothing is taken for granted, since who looked knows.

    A half is named by what made the last shot, which is what was looked at unless another shot is typed: of single-use
    pieces and of a half that was swapped since, that is not what is in now.
    """
    halves = [piece.half for piece in view.mounted]
    shown = {one.half: f"{one.half}, {one.at_last or one.piece or one.serial}" for one in view.mounted}
    label = "On which half" if view.shot is None else f"On which half, as at shot {view.shot}"
    return picks(f"{name}.half", label, ["", *halves], "", {"": "not known"} | shown)


def _named(view: PressView) -> dict[str, str]:
    return {piece.half: f"{piece.half}, {piece.serial}" for piece in view.mounted}


def _swap(view: PressView, designs: list[str], from_shot: str) -> list[Component]:
    chosen = blamed(view)
    proposal = next_serial(chosen.serial) if chosen is not None and not chosen.single_use else ""
    judged = chosen or view.judged
    design = judged.design if judged else designs[0] if len(designs) == 1 else ""
    half = chosen.half if chosen else "" if view.mounted else "moving"
    once = "once" if chosen is not None and chosen.single_use else ""
    fields = [
        *_at_a_touch(view, chosen),
        picks("swap.half", "Half", list(HALVES), half, fills="swap.serial", proposed=_next_serials(view)),
        field("swap.serial", "Serial, typed or scanned", proposal, focus=True),
        *([picks("swap.why", _why(chosen), list(REASONS), "", toggle=True)] if view.mounted else []),
        field("swap.shot", FROM_SHOT, from_shot, numeric=True),
    ]
    known = sorted({*designs, *([design] if design else [])})
    if known:
        fields.append(picks("swap.design", "Design", ["", *known], design, {"": "not known"}))
    return [*fields, picks("swap.once", "Piece", ["once"], once, _ONCE, toggle=True)]


def _next_serials(view: PressView) -> dict[str, str]:
    """Return the serial that follows in each half, of those that are reused."""
    return {piece.half: next_serial(piece.serial) for piece in view.mounted if not piece.single_use}


def _why(chosen: Mounted | None) -> str:
    return "Why did the old one come out, if you know" if chosen is None else f"Why did {chosen.serial} come out"


def _at_a_touch(view: PressView, chosen: Mounted | None) -> list[Component]:
    """Offer the next serial of each half where nothing says which half it is about."""
    reused = [piece for piece in view.mounted if not piece.single_use and next_serial(piece.serial)]
    if chosen is not None or not reused:
        return []
    offered = [
        touch(f"{next_serial(one.serial)} for {one.serial}, {half_named(one.half)}", "swapped", one.half)
        for one in reused
    ]
    return [html.Div(offered, className="buttons wide")]


def blamed(view: PressView) -> Mounted | None:
    """Return the insert that a swap is likely about: the one that the facts point at, or the only reused one.

    None where two are alike in that: whoever made the swap knows.
    """
    reused = [piece for piece in view.mounted if not piece.single_use]
    return _pointed_at(view) or (reused[0] if len(reused) == 1 else None)


def _pointed_at(view: PressView) -> Mounted | None:
    """Return the insert that people found something wrong on, else the one that the verdict points at."""
    halves = {one.wrong.half for one in view.found if one.stands}
    if len(halves) == 1 and "" not in halves:
        return next((piece for piece in view.mounted if piece.half in halves), None)
    serials = () if view.verdict is None else pointed_at(view.verdict)
    found = [piece for piece in view.mounted if piece.serial in serials]
    return found[0] if len(found) == len(serials) == 1 else None


def _remove(view: PressView) -> list[Component]:
    if not view.mounted:
        return [html.P("No insert is mounted.")]
    one = view.mounted[0] if len(view.mounted) == 1 else _pointed_at(view)
    quick = html.Div([touch(why, "removed", why) for why in REASONS], className="buttons")
    which = picks("remove.half", "Which", [piece.half for piece in view.mounted], one.half if one else "", _named(view))
    return [
        which,
        html.Span("Why, at a touch", className="quick"),
        quick,
        field("remove.reason", "Other reason"),
        field("remove.shot", "First shot without it (empty: the next)", numeric=True),
    ]


def _pieces(view: PressView) -> list[Component]:
    taking = [piece for piece in view.mounted if piece.single_use]
    free = [half for half in HALVES if half not in {piece.half for piece in view.mounted if not piece.single_use}]
    half = taking[0].half if taking else "moving" if "moving" in free else free[0] if free else "moving"
    return [
        *(part for piece in taking for part in _queue(piece)),
        picks("pieces.half", "Half", free or list(HALVES), half),
        field("pieces.serials", "Add pieces, such as S-021 or S-021..S-030", focus=not taking),
        field("pieces.batch", "Print batch"),
    ]


def _queue(piece: Mounted) -> list[Component]:
    """Return the pieces that wait in a half, the next one first, each with its drop."""
    if piece.waiting is None:
        return [html.P(f"In the {half_named(piece.half)}: numbered on from {piece.serial}, next {piece.piece}.")]
    rows = [
        html.Li(
            [
                html.Span([serial, html.Small(" next") if n == 0 else None], className="what"),
                touch("Drop", "open-drop", serial, "undo", f"Drop {serial}"),
            ]
        )
        for n, serial in enumerate(piece.waiting[:_SHOWN])
    ]
    left = f"In the {half_named(piece.half)}: {some(len(piece.waiting), 'piece')} left"
    more = f", the first {_SHOWN} of them" if len(piece.waiting) > _SHOWN else ""
    return [html.P(f"{left}{more}."), html.Ul(rows, className="recent")]
