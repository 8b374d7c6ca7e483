"""Insert lives over the whole log: the ledger, life curves, comparisons, planned swaps, costs."""

from shotlog.parts.renewal import SwapPlan
from shotlog.report.curves import curves
from shotlog.report.html import Html, items, note, paragraph, section, table, text
from shotlog.review import Review
from shotlog.review.costs import Bill
from shotlog.review.groups import Group
from shotlog.review.ledger import Ledger, LedgerEntry
from shotlog.review.survival import Comparison
from shotlog.wording.numbers import cost, number, span, unbroken
from shotlog.wording.parts import factor_named, life_end, life_text

__all__ = ["inserts_section", "swap_text"]


def inserts_section(review: Review) -> Html:
    """Return the section on inserts."""
    ledger = review.ledger
    if not ledger.entries:
        return section("inserts", "Insert lives", paragraph("No reused insert has made a shot yet."))
    return section(
        "inserts",
        "Insert lives",
        _ledger(ledger),
        note(
            "All reused inserts in the log, whatever the period of this report."
            if review.since is None
            else "The reused inserts that made a shot in the period of this report, each with its whole life."
        ),
        _curves(ledger),
        _groups(ledger),
        _comparisons(ledger),
        _costs(review),
    )


def _ledger(ledger: Ledger) -> Html:
    rows = [_life(entry) for entry in ledger.entries]
    heads = ("insert", "design", "half", "where and when", "shots", "sound shots", "end", "how that is known, dated by")
    return table(heads, rows, numbers=(4, 5))


def _life(entry: LedgerEntry) -> tuple[object, ...]:
    life = entry.life
    sound = str(life.sound)
    if life.sound_low != life.sound_high:
        sound += f" ({life.sound_low} to {life.sound_high})"
    where = "; ".join(f"{press} {span(first, last)}" for press, first, last in life.stays)
    end = life_end(life)
    known = life_text(life) + (f"; dated by: {life.dated_by}" if life.dated_by else "")
    return (
        unbroken(life.serial), unbroken(life.design) or "–", life.half,
        unbroken(where) if len(life.stays) == 1 else where, life.n_shots, unbroken(sound), end, known,
    )  # fmt: skip


def _curves(ledger: Ledger) -> Html:
    drawn = curves([group for group in ledger.groups if group.factor == "design"], ledger.entries)
    caption = (
        "Share of inserts still sound, by design (Kaplan-Meier). Dotted: 95 % interval. Upright ticks: lives "
        "that were not over. Dashed: fitted Weibull "
        "life. Dash-dotted upright: planned swap."
    )
    return Html(f"<figure>{drawn}<figcaption>{text(caption)}</figcaption></figure>\n") if drawn else Html("")


def _groups(ledger: Ledger) -> Html:
    fitted = [group for group in ledger.groups if group.weibull is not None]
    heads = (
        "by",
        "group",
        "lives",
        "gone off",
        "10 % are over by (95 %)",
        "half are over by (95 %)",
        "shape (95 %)",
        "planned swap",
    )
    few = [f"{group.name} ({group.n_failed} of {group.curve.n})" for group in ledger.groups if group.weibull is None]
    return table(heads, [_group(one) for one in fitted], numbers=(2, 3), name="Life distributions, in shots") + (
        note(f"Too few have gone off to tell how long they live: {', '.join(few)}.") if few else ""
    )


def _group(group: Group) -> tuple[object, ...]:
    place = (factor_named(group.factor), group.name, group.curve.n, group.n_failed)
    fitted = group.weibull
    if fitted is None:
        return (*place, "–", "–", "–", "–")
    b10, b50 = (f"{number(q.value, 0)} ({number(q.low, 0)} to {number(q.high, 0)})" for q in (fitted.b10, fitted.b50))
    shape = f"{number(fitted.shape.value, 2)} ({number(fitted.shape.low, 2)} to {number(fitted.shape.high, 2)})"
    return (*place, b10, b50, shape, _plan(group))


def _plan(group: Group) -> str:
    if group.plan is None or group.blind_plan is None:
        return "no costs configured" if group.factor == "design" else "–"
    return f"{swap_text(group.plan)}; unwatched after {group.blind_plan.shots}"


def swap_text(plan: SwapPlan) -> str:
    """Return a planned swap in words."""
    if plan.shots is None:
        return "no plan beats running until the call"
    return f"after {plan.shots} shots"


def _comparisons(ledger: Ledger) -> Html:
    if not ledger.comparisons:
        return Html("")
    return items(_compared(one) for one in ledger.comparisons)


def _compared(one: Comparison) -> str:
    told = "live differently" if one.p < 0.05 else "are not shown to live differently"
    return f"By {factor_named(one.factor)}: {', '.join(one.groups)} {told} (log-rank, p = {one.p:.3f})."


def _costs(review: Review) -> Html:
    ledger = review.ledger
    if not ledger.costs:
        return section(
            "", "Costs", paragraph("No costs are configured (design.NAME.cost), so none are reckoned."), level=3
        )
    rows: list[tuple[object, ...]] = [
        (f"{one.press}, this period", one.parts.made, *_bill(one.bill), "", "") for one in review.presses if one.bill
    ]
    rows += [_cost(entry, entry.bill) for entry in ledger.entries if entry.bill is not None]
    configured = [(name, ", ".join(f"{k} {v:g}" for k, v in costs.items())) for name, costs in ledger.costs.items()]
    heads = (
        "press or insert",
        "parts",
        "part",
        "insert",
        "changeover",
        "late finds",
        "per accepted part",
        "shots too late",
        "sound shots given up",
    )
    return section(
        "",
        "Costs",
        table(heads, rows, numbers=(1, 2, 3, 4, 5)),
        note(
            "In the unit of the configured costs: ",
            "; ".join(f"{name}: {told}" for name, told in configured),
            ".",
        ),
        _plans(ledger),
        level=3,
    )


def _bill(bill: Bill) -> tuple[str, ...]:
    best, worst = bill.per_accepted, bill.per_accepted_if_held_bad
    each = cost(best) if best == worst else f"{cost(best)} to {cost(worst) if worst else 'none accepted'}"
    return (cost(bill.part), cost(bill.insert), cost(bill.changeover), cost(bill.late_find), each)


def _cost(entry: LedgerEntry, bill: Bill) -> tuple[object, ...]:
    seen = entry.hindsight
    late = early = "–"
    if seen is not None:
        price = f", {cost(seen.late_cost)}" if seen.late_cost else ""
        late = f"{seen.late} ({seen.late_low} to {seen.late_high}){price}" if seen.late_high else "none"
        early = (
            "not known"
            if seen.early is None
            else "none"
            if not seen.early
            else f"about {seen.early:.0f}, {cost(seen.early_cost)}"
        )
    return (entry.life.serial, entry.parts.made, *_bill(bill), late, early)


def _plans(ledger: Ledger) -> Html:
    told = [
        f"{group.name}: {swap_text(group.plan)} costs {cost(group.plan.cost)} a shot in inserts, changeovers and "
        "bad parts, against "
        f"{cost(group.plan.cost_unplanned)} without a plan; a failure is reckoned at "
        f"{number(group.bad_a_failure, 1)} bad parts, as these lives had."
        for group in ledger.groups
        if group.plan is not None
    ]
    return items(told) if told else Html("")
