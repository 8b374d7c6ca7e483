"""What is said of a plan for a trial."""

from shotlog.parts.plan import Plan, PlanFigure, PlanRow, Stock
from shotlog.wording.numbers import cost, some

__all__ = [
    "CAVEATS",
    "assumed_text",
    "bath_text",
    "beside_text",
    "cost_text",
    "count_text",
    "figure_text",
    "headline",
    "hours_text",
    "planned_text",
    "stock_text",
    "unread_text",
]

CAVEATS = (
    "Hours count a press that runs without a break; the first set-up, nights and pauses come on top.",
    "A part is counted out of the bath when its time is up; rinsing, drying and inspection (1 to 3 h) come after.",
    "Lives count how few of them are known. Parts of one shot are taken as accepted or not each by itself.",
)
"""What a plan does not count, to stand under it."""

_NAMES = {
    "life": ("half of the inserts reach", "shots"),
    "late": ("bad shots until one gone off is out", "shots"),
    "settling": ("shots after a change that make no accepted part", "shots"),
    "scrap": ("parts of a sound insert not accepted", "%"),
    "breakage": ("pieces that break before they make a part", "%"),
    "cycle_s": ("cycle time", "s"),
    "changeover_min": ("change of an insert", "min"),
}
_RESTS_ON = {
    "life": ("insert", "inserts"),
    "late": ("insert that went off", "inserts that went off"),
    "settling": ("inspected part", "inspected parts"),
    "scrap": ("inspected part", "inspected parts"),
    "cycle_s": ("shot", "shots"),
    "changeover_min": ("change", "changes"),
}
_SOURCES = {"given": "given by hand", "configuration": "from the configuration", "assumed": "ASSUMED, no source"}
_OPTIONS = {
    "life": "--life", "late": "--late", "settling": "--settling", "scrap": "--scrap", "breakage": "--breakage",
    "cycle_s": "--cycle-s", "changeover_min": "--changeover-min",
}  # fmt: skip


def headline(plan: Plan) -> str:
    """Return what to print, in one sentence."""
    most = plan.chosen.stocks[-1]
    if any(count is None for count in (*most.inserts.values(), *most.pieces.values())):
        return (
            f"No stock is enough for {some(plan.parts, 'accepted part')} of {plan.design}: hardly an insert outlives "
            "its settling shots."
        )
    return f"For {some(plan.parts, 'accepted part')} of {plan.design}, print {_counts(most)}: enough in 9 trials of 10."


def _counts(stock: Stock) -> str:
    words = [f"{_count(n, 'insert')} of {design or 'no design'}" for design, n in stock.inserts.items()]
    words += [f"{_count(n, 'single-use piece')} of {design or 'no design'}" for design, n in stock.pieces.items()]
    return " and ".join(words)


def _count(n: int | None, noun: str) -> str:
    return f"no {noun}" if n is None else some(n, noun)


def stock_text(stock: Stock) -> str:
    """Return what is enough with one certainty, and when the last part is out.

    Examples
    --------
    >>> stock_text(Stock(0.9, {"cap-r2": 6}, {}, 480, 12.3, None))
    '90 %: 6 inserts of cap-r2; 480 shots, 12.3 h at the press; its parts must not go into a bath'
    """
    words = f"{100 * stock.certainty:.0f} %: {_counts(stock)}"
    if stock.shots is None or stock.press_h is None or None in (*stock.inserts.values(), *stock.pieces.values()):
        return f"{100 * stock.certainty:.0f} %: no stock is enough"
    return f"{words}; {some(stock.shots, 'shot')}, {hours_text(stock.press_h)} at the press; {bath_text(stock)}"


def bath_text(stock: Stock) -> str:
    """Return when the last part leaves the bath."""
    if stock.bath_h is None:
        return "its parts must not go into a bath"
    if not stock.pieces:
        return f"if parts go into the bath, the last leaves it {hours_text(stock.bath_h)} after the first shot"
    return f"the last part leaves the bath {hours_text(stock.bath_h)} after the first shot"


def count_text(count: int | None) -> str:
    """Return a count, or that no stock is enough."""
    return "none" if count is None else str(count)


def beside_text(plan: Plan) -> str:
    """Return what the design is mounted with; empty for nothing."""
    return f"Mounted together with {', '.join(plan.beside)}, as in the last shot on record." if plan.beside else ""


def unread_text(why: str) -> str:
    """Return that the log was not read, and why; empty where it was."""
    return f"Nothing of the log counts here: {why}." if why else ""


def hours_text(hours: float | None) -> str:
    """Return hours, to the tenth below a hundred."""
    return "\N{EN DASH}" if hours is None else f"{hours:.1f} h" if hours < 100 else f"{hours:.0f} h"


def planned_text(row: PlanRow) -> str:
    """Return when an insert is swapped."""
    return "when it has gone off" if row.planned is None else f"after {row.planned}"


def figure_text(one: PlanFigure) -> str:
    """Return one figure that a plan rests on, with where it is from.

    Examples
    --------
    >>> figure_text(PlanFigure("breakage", "", 0.05, 0.01, 0.11, "given"))
    'pieces that break before they make a part: 5.0 % (8 in 10: 1.0 to 11.0 %), given by hand'
    >>> figure_text(PlanFigure("cycle_s", "", 90, 90, 90, "assumed"))
    'cycle time: 90 s, ASSUMED, no source (--cycle-s gives another)'
    """
    name, unit = (f"cost of {one.name}", "") if one.costs else _NAMES[one.name]
    shown = [_shown(value, unit) for value in (one.value, one.low, one.high)]
    words = f"{name}, {one.design}: " if one.design else f"{name}: "
    words += f"{shown[0]} {unit}".strip()
    words += f" (8 in 10: {shown[1]} to {shown[2]} {unit})" if one.low < one.high else ""
    words += f", {_source(one)}"
    if one.source == "assumed" and one.name in _OPTIONS and not one.costs:
        words += f" ({_OPTIONS[one.name]} gives another)"
    return words


def _source(one: PlanFigure) -> str:
    if one.source == "log":
        bad = "" if one.n_bad is None else f", {one.n_bad} {'gone off' if one.name == 'life' else 'not accepted'}"
        if one.elsewhere:
            bad += (
                ", all of them on other presses"
                if one.elsewhere == one.n
                else f", {one.elsewhere} of them on other presses"
            )
        settle = "" if one.settling is None else f", of {some(one.settling, 'shot')} that settle"
        return f"from {some(one.n, *_RESTS_ON[one.name])} in this log{bad}{settle}"
    return _SOURCES[one.source] + _more(one)


def _more(one: PlanFigure) -> str:
    if one.shape is not None:
        return f", Weibull shape {one.shape:g}" + (", which is ASSUMED" if one.shape_assumed else "")
    if one.moulded:
        return f", for {one.moulded} on {one.family or 'unfilled photopolymer'}"
    if one.name == "settling" and one.source != "given":
        return ", all that settle, too few of their parts were looked at"
    return ""


def _shown(value: float, unit: str) -> str:
    if unit == "%":
        return f"{100 * value:.1f}"
    if unit == "shots":
        return f"{value:.0f}"
    return f"{value:.1f}" if value != int(value) else f"{value:.0f}"


def assumed_text(plan: Plan) -> str:
    """Return which figures are assumed because neither log nor person nor configuration gives them; empty for none."""
    if not plan.on_record:
        known = f"Nothing is on record of {plan.design}, and the configuration does not name it"
        return f"{known}: what is not given is assumed."
    names = dict.fromkeys(_assumed_name(one) for one in plan.figures if one.source == "assumed")
    return "" if not names else f"Assumed, because this log has none yet: {'; '.join(names)}."


def _assumed_name(one: PlanFigure) -> str:
    return "costs" if one.costs else _NAMES[one.name][0]


def cost_text(plan: Plan) -> str:
    """Return what an accepted part costs."""
    if plan.chosen.cost is None:
        return "Cost per accepted part: not known, no stock is enough."
    high = "" if plan.cost_high is None else f", and in 9 of 10 no more than {cost(plan.cost_high)}"
    return f"Cost per accepted part: {cost(plan.chosen.cost)} expected{high}."
