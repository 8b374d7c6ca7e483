"""The page of a plant as components: the totals, the presses that need a person, and the others, small."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.plant.presses import PlantPress
from dashboard.plant.reader import GonePress
from dashboard.shared.address import address_of, at
from dashboard.shared.attributes import attributes
from shotlog.answers.needs import needy_first
from shotlog.wording.numbers import some
from shotlog.wording.plant import held_where, on_presses
from shotlog.wording.unjudged import count_said

__all__ = ["gone", "ordered", "plant", "way_to"]

_DOT = " \N{MIDDLE DOT} "
_ROOM = {"few": 3, "roomy": 6, "many": 15}
"""How much room each press has that needs a person, by how many they are; of more, the least."""
_FEW = 12
"""Up to so many presses in all, those that need nobody have more room as well (own)."""


def ordered(presses: Sequence[PlantPress]) -> list[PlantPress]:
    """Return presses in the order in which they need a person."""
    by_name = {(one.edge, one.press): one for one in presses}
    return [by_name[facts.edge, facts.press] for facts in needy_first(one.facts for one in presses)]


def _link(inside: Sequence[Component | str], page: str, one: PlantPress | GonePress, **more: Any) -> Component:
    """Return a link to a page of a press; those of an edge are another application, which a browser has to load."""
    kind = html.A if one.edge else dcc.Link
    return kind(inside, href=way_to(page, one.press, one.edge), **more)


def way_to(page: str, press: str, edge: str) -> str:
    """Return the address of a page of a press, of an edge where there are several logs."""
    return address_of(f"{address_of('/at', edge)}{page}", press) if edge else address_of(page, press)


def plant(presses: Sequence[PlantPress]) -> list[Component]:
    """Return all presses, those that need a person first."""
    shown = ordered(presses)
    needy = [one for one in shown if one.needs]
    rest = [one for one in shown if not one.needs]
    named = [name for name, n in Counter(one.press for one in shown).items() if n > 1]
    tiles = [_needy(of[0], named) if len(of) == 1 else _lost(of) for of in _together(needy)]
    room = next((name for name, n in _ROOM.items() if len(tiles) <= n), "dense")
    parts: list[Component] = [_totals(shown)]
    if needy:
        first = html.Ol(tiles, className=f"needy {room}")
        parts.append(html.Section([html.H2("Need a person, the most urgent first", className="spoken"), first]))
    if rest:
        small = html.Ul(
            [_quiet(one, named) for one in rest], className="quiet roomy" if len(shown) <= _FEW else "quiet"
        )
        parts.append(html.Section([html.H2(f"Nothing seen that needs a person: {len(rest)}"), small]))
    return parts


def _together(needy: Sequence[PlantPress]) -> list[list[PlantPress]]:
    """Return presses in their order, those together that need a person for nothing but that their edge is not heard."""
    found: dict[tuple[str, str], list[PlantPress]] = {}
    for one in needy:
        alone = "" if one.lost and one.needs == ("away",) else one.press
        found.setdefault((one.edge, alone), []).append(one)
    return list(found.values())


def _lost(presses: Sequence[PlantPress]) -> Component:
    """Return the tile of an edge that is not heard, with its presses, which a touch unfolds."""
    one = presses[0]
    sign = html.Span(className=f"sign sign-{one.sign}")
    head = html.Summary(
        [
            html.P([sign, html.B(one.edge), " ", html.Strong(one.lost)], className="word"),
            html.P(f"{some(len(presses), 'press', 'presses')}, none of which needed a person then", className="why"),
        ],
        className="to-press",
    )
    inside = html.Ul(
        [_small_tile(each, html.P(html.B(each.press), className="word"), each.mounted) for each in presses],
        className="quiet",
    )
    return html.Li(html.Details([head, inside]), className="tile away unheard", key=f"lost {one.edge}")


def gone(presses: Sequence[GonePress]) -> list[Component]:
    """Return the presses that the log has shots of and the configuration names no more."""
    if not presses:
        return []
    ways = [
        _link([f"{_named(one.press, one.edge)}{_kept(one.held)}"], "/press", one, className="touch") for one in presses
    ]
    return [html.Div([html.P("In the log, and not in the configuration any more:"), *ways], className="gone-presses")]


def _kept(n: int) -> str:
    return f", {some(n, 'part')} held" if n else ""


def _totals(presses: Sequence[PlantPress]) -> Component:
    n = Counter(need for one in presses for need in one.needs)
    held = [one for one in presses if one.facts.held]
    places: Counter[str] = Counter()
    for one in held:
        places.update(one.where.places)
    runs = sum(one.runs for one in presses)
    said = [
        _total(f"{runs} of {len(presses)}", "run"),
        _total(str(n["swap"]), _as_heard("to swap", presses, "swap"), marked=n["swap"] > 0),
        _total(str(n["watch"]), _as_heard("to watch", presses, "watch")),
        _held_total(held, places),
        _total(str(n["away"]), "not heard", marked=n["away"] > 0),
        _total(str(n["quiet"]), "make no shots"),
    ]
    return html.Ul(said, className="totals", **attributes(aria_label="All presses"))


def _as_heard(what: str, presses: Sequence[PlantPress], need: str) -> list[Component | str]:
    """Return what a total counts, and how many of it are as they were when their press was last heard."""
    n = sum(need in one.needs and one.facts.away for one in presses)
    return [what, html.Small(f"{n} when last heard")] if n else [what]


def _total(figure: str, what: str | list[Component | str], *, marked: bool = False) -> Component:
    return html.Li([html.B(figure), " ", html.Span(what)], className="marked" if marked else "")


def _held_total(held: Sequence[PlantPress], places: Counter[str]) -> Component:
    n = sum(one.facts.held for one in held)
    if not n:
        return _total("0", "parts held")
    loose = sum(one.facts.loose for one in held)
    what = f"{'part' if n == 1 else 'parts'} held {on_presses(len(held))}"
    where = html.Small(held_where(places, loose))
    inside: list[Component | str] = [html.B(str(n)), " ", html.Span([what, where])]
    edge, *others = sorted({one.edge for one in held})
    content = inside  # of several edges there is no one page of all their parts
    if not others:
        way = f"{address_of('/at', edge)}/parts"
        content = [html.A(inside, href=way) if edge else dcc.Link(inside, href=at("/parts"))]
    return html.Li(content, className="marked held" if loose else "held")


def _named(press: str, edge: str) -> str:
    return f"{edge}, {press}" if edge else press


def _needy(one: PlantPress, named: Sequence[str]) -> Component:
    """Return a press that needs a person: what is to be read at two metres is its name, the word, and what is held."""
    word, _, half = one.headline.partition(", ")
    lines = [_word(one, named, html.Strong([word, html.Small(f", {half}")] if half else word))]
    lines += [html.P(one.why, className="why")] if one.why else []
    lines += [html.P(one.left, className="left")] if one.left and one.left not in one.why else []
    below = _DOT.join([*_edge(one, named), *one.mounted, *_small(one)])
    lines += [html.P(below, className="made")] if below else []
    look = "away" if one.facts.away else one.sign
    return html.Li([_to_press(one, lines), *_held(one)], className=f"tile {look}")


def _quiet(one: PlantPress, named: Sequence[str]) -> Component:
    word = _word(one, named, html.Span("" if one.sign == "keep" else one.headline))
    return _small_tile(one, word, [*_edge(one, named), *one.mounted])


def _small_tile(one: PlantPress, word: Component, below: Sequence[str]) -> Component:
    lines = [word, html.P(_DOT.join(below) or "nothing mounted", className="made")]
    return html.Li([_to_press(one, lines), *_held(one)], className="tile")


def _word(one: PlantPress, named: Sequence[str], headline: Component) -> Component:
    """Return the name of a press and the word for it; the edge stands before a name that several presses have."""
    sign = html.Span(className=f"sign sign-{one.sign}")
    edge: list[Component | str] = [html.Small(one.edge), " "] if one.edge and one.press in named else []
    return html.P([sign, *edge, html.B(one.press), " ", headline], className="word")


def _to_press(one: PlantPress, lines: list[Component]) -> Component:
    return _link(lines, "/press", one, className="to-press")


def _edge(one: PlantPress, named: Sequence[str]) -> list[str]:
    return [one.edge] if one.edge and one.press not in named else []


def _small(one: PlantPress) -> list[str]:
    """Return what else a press needs a person for, that the word over it does not say."""
    said = [f"{some(one.facts.overdue, 'part')} overdue"] if one.facts.overdue else []
    said += [f"{count_said(one.facts.unjudged)} not judged"] if one.facts.unjudged and one.sign != "waiting" else []
    said += ["few pieces left"] if one.facts.few_pieces else []
    return [*said, *(["a question waits"] if one.facts.asked else [])]


def _held(one: PlantPress) -> list[Component]:
    """Return how many parts of a press are held, which leads to them."""
    if not one.facts.held:
        return []
    of = f"{some(one.facts.held, 'part')} of {_named(one.press, one.edge)}"
    word = "held" if one.facts.loose else "held, put away"
    inside: list[Component] = [html.B(str(one.facts.held)), html.Small(word), html.Span(of, className="spoken")]
    look = "to-held loose" if one.facts.loose else "to-held"
    return [
        _link(inside, "/parts", one, className=look, title=f"{of}: {held_where(one.where.places, one.facts.loose)}")
    ]
