"""*Help*: the cautions, what each verdict and sign means, what the tool cannot see, and the words."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard.shared.attributes import attributes
from dashboard.shared.page import Context, Page
from shotlog.wear.constants import FALSE_CALLS_PER_100
from shotlog.wording.terms import TERMS

__all__ = ["PAGE"]

_CAUTIONS = (
    "Reads only. Never use it as a guard, interlock or stop. If data and eyes disagree, trust your eyes and stop the "
    "press its own way.",
    "When something moved: look before you touch. Stop the cycle by the press controls, wait for the mould to open "
    "fully and stand still, guards as designed.",
    "A suspected crack or break: do not run on to see whether it gets worse. An insert can fail under pressure.",
    "Removal in caustic: goggles and face shield, gloves, apron; eyewash tested; add caustic to water; nobody alone.",
    "A resin change or a long pause: check residence limits, purge, ventilate. Never POM and PVC in one barrel, one "
    "day, one bin.",
    "The machine manual, the site's risk assessment and the safety data sheets come first. No call is not permission, "
    "and a monitor lowers attention: look at parts all the same.",
)

_VERDICTS = (
    (
        "keep",
        "No change seen",
        "Nothing has moved in these values since the shot named. It says nothing of what they cannot show, and nothing "
        "of the parts: look at them all the same.",
    ),
    (
        "watch",
        "Watch",
        "Something changed, most likely where the line below says, or it is too early to swap. Where it says that "
        "which half cannot be told yet, the shots after the swap will tell. Do the check named, and hold every part "
        "from the shot after Hold parts from.",
    ),
    (
        "swap",
        "Swap",
        "The insert named, in the half named, has most likely changed, and going on costs more than swapping it, or "
        "the reason beside it says why all the same. Stop by the press controls, look, swap, and hold every part from "
        "the shot after Hold parts from.",
    ),
    (
        "settling",
        "Settling, learning",
        "The insert is warming up, or its own level is still being learnt. A change is seen late or not at all, so "
        "look at the parts.",
    ),
    (
        "waiting",
        "Waiting",
        "There is no shot, no verdict or no insert to speak of yet. The line below says which, and what to enter.",
    ),
    (
        "cut",
        "Not current",
        "Connection lost, logger stopped, or no shot for three usual cycles: what is shown is history. Judge by the "
        "parts until shots come in again.",
    ),
)

_STRIPS = (
    (
        "level",
        "Level and limits",
        "The level is the mean of the insert's own settled shots, and the dashed limits are what scatter about it "
        "explains over a whole life, as sound inserts of the design have shown it. How many sound inserts signal all "
        "the same stands below the strips. A shot outside is marked by a triangle that points the way it left.",
    ),
    (
        "rule",
        "Lozenge",
        "Another rule fired on that shot: two neighbouring shots lie further apart than scatter explains. Point "
        "at it, and it names the rule.",
    ),
    (
        "limit",
        "Action limit",
        "The heavy dash-dot line is the limit somebody set for the design in the configuration. It is not a "
        "statistical limit, and statistical limits are not tolerances of the part.",
    ),
    (
        "ahead",
        "Forecast",
        "The bar with ticks covers the shots from which parts are expected to be bad, the tall tick the middle "
        "estimate and the ends 80 % of what it may be. It lies on the action limit that is run up to, and takes for "
        "granted that the change goes on as it does. How long sisters lived counts in it, on other presses as well, "
        "but never a level of theirs.",
    ),
    (
        "question",
        "Question",
        "Shots after a stop may look like another insert than the one on record. Yes opens the entry of the next "
        "serial from that shot on, and No is noted and not asked again.",
    ),
    (
        "held",
        "Shaded shots",
        "From the early edge of the time the change began, or since the last part known to be good where somebody "
        "found damage, every part is to be held until inspected. The upright "
        "line is the middle estimate, and the bar on top covers 90 % of what it may be.",
    ),
    (
        "missed",
        "Edged band",
        "Shots that the press counted and nobody saw. The line is broken there, and counts on the insert stay right.",
    ),
)

_BLIND = (
    "small chips and lost pins: below a few tens of cubic millimetres they move no value of the press",
    "flaking, delamination, a dull surface, scorching",
    "two changes at once that cancel in the same value, such as a stiffer lot and a worn gate",
    "anything in a shot that was missed, or in a value the press did not give",
)


def layout(context: Context, _rest: str) -> Component:
    """Return the page."""
    return html.Div(
        [
            html.H1("Help"),
            html.H2("Cautions"),
            html.Ul([html.Li(text) for text in _CAUTIONS]),
            html.H2("What the page at the press says"),
            html.Div([_card(*verdict) for verdict in _VERDICTS], className="cards"),
            html.H2("What the strips show"),
            html.Dl([html.Div(_drawn(*one), className="term") for one in _STRIPS]),
            html.H2("How often it is wrong"),
            html.P(_often(context.source.settings.false_calls)),
            html.H2("What it cannot see"),
            html.Ul([html.Li(text) for text in _BLIND]),
            html.H2("Words"),
            html.Dl([part for one in TERMS for part in (html.Dt(one.word), html.Dd(one.meaning))]),
        ],
        className="sheet",
    )


def _often(stated: float | None) -> str:
    usual = f"{FALSE_CALLS_PER_100:g}, or half to twice that by the costs of the design,"
    return (
        f"Of 100 sound inserts, on whichever press, some {usual if stated is None else f'{stated:g}'} are called all "
        "the same: call.false_per_100_lives in the configuration. Fewer mean later calls. How much evidence a call "
        "takes was read off simulated presses, beside as many sisters. Where people answer calls with Found sound, "
        "that press takes more from then on."
    )


def _drawn(example: str, term: str, text: str) -> list[Component]:
    """Return a term with its drawn example; the drawing says nothing that the words do not."""
    return [
        html.Dt([html.Span(className=f"drawn drawn-{example}", **attributes(aria_hidden="true")), html.Span(term)]),
        html.Dd(text),
    ]


def _card(sign: str, headline: str, text: str) -> Component:
    return html.Div(
        [html.H3([html.Span(className=f"sign sign-{sign}"), html.Span(headline)]), html.P(text)], className="card"
    )


def register(_app: Dash, _context: Context) -> None:
    """Nothing on this page changes."""


PAGE = Page("Help", "/help", layout, register)
