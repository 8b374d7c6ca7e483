"""How the record stands: set-ups, levels and limits used, versions, the hash of the log."""

from collections.abc import Sequence

from shotlog.entries import KINDS
from shotlog.report.html import Html, definition, note, paragraph, section, table, text
from shotlog.review import Review
from shotlog.review.choices import Choice
from shotlog.wording.chart_rate import chart_rate
from shotlog.wording.numbers import label, span, unit, value

__all__ = ["record_section"]


def record_section(review: Review) -> Html:
    """Return the section on settings, versions and the state of the log."""
    return section(
        "record", "The record", _log(review), _designs(review), _setups(review), _baselines(review), _versions(review)
    )


def _log(review: Review) -> Html:
    log = review.log
    if log.damage:
        return paragraph(f"The log {log.store} does not verify: {log.damage}.")
    return definition(
        [
            ("log", log.store),
            ("transactions", log.n_transactions),
            ("last digest", Html(f"<code>{text(log.digest)}</code>")),
        ]
    ) + note(
        "The chain of digests over every row was recomputed for this report and holds. Kept elsewhere, this digest "
        "shows any later change of what "
        "was written up to now."
    )


def _designs(review: Review) -> Html:
    rows = []
    for name, known in review.designs.items():
        limits = ", ".join(
            f"{label(ch)} {' to '.join('' if e is None else f'{e:g}' for e in (b['low'], b['high']))}"
            for ch, b in known["limits"].items()
        )
        rows.append(
            (
                name,
                known["resin_family"] or "–",
                known["settling_shots"],
                known["baseline_shots"],
                limits or "none given",
            )
        )
    heads = ("design", "resin family", "settling shots", "baseline shots", "action limits")
    return table(heads, rows, numbers=(2, 3), name="Insert designs as configured")


def _setups(review: Review) -> Html:
    rows = [
        (one.press, e.event.kind, e.event.at_shot, e.event.text)
        for one in review.presses
        for e in one.entries
        if KINDS[e.event.kind].effect.moves and not e.taken_back
    ]
    if not rows:
        return paragraph("No set-up or lot change was noted in this period.")
    return table(
        ("press", "kind", "from shot", "what"), rows, numbers=(2,), name="Set-ups and lots noted in the period"
    )


def _baselines(review: Review) -> Html:
    rows = [
        (
            one.press, b.insert or "–", label(b.channel), span(b.first, b.last), b.n_shots,
            f"{value(b.channel, b.centre, 1)}\u00a0{unit(b.channel)}",
            value(b.channel, b.spread, 2), f"{value(b.channel, b.lower, 1)} to {value(b.channel, b.upper, 1)}",
            "none" if choice.first_outside is None else choice.first_outside, _otherwise(choice),
        )
        for one in review.presses
        for choice in one.choices
        for b in (choice.baseline,)
    ]  # fmt: skip
    heads = (
        "press", "insert", "value", "shots", "n", "level", "spread", "limits of the chart", "first shot outside",
        "learnt otherwise",
    )  # fmt: skip
    return (
        table(heads, rows, numbers=(4, 5, 6), name="Levels the charts were set from")
        + note(
            "Frozen by the tool after the settling shots, from the shots named. The limits are statistical: they "
            "are no tolerances of a part. Learnt otherwise: the first shot outside, had the limits been learnt from "
            "as many shots beginning five later, or from twice as many. The calls do not rest on these limits."
            + _rate([choice.baseline.per_100 for one in review.presses for choice in one.choices])
        )
        if rows
        else Html("")
    )


def _rate(per_100: Sequence[int | None]) -> str:
    """Say how often such limits signal for nothing, where an earlier release has not left it open."""
    said = chart_rate(per_100)
    return f" By these limits, {said}." if said else ""


def _otherwise(choice: Choice) -> str:
    """Say what other baselines would have shown."""
    tried = (("five later", choice.later, choice.later_known), ("twice as many", choice.longer, choice.longer_known))
    told = [f"{name}: {'none' if shot is None else shot}" for name, shot, known in tried if known]
    if not told:
        near = choice.first_outside is not None
        return "not to be told so close to the first signal" if near else "too few shots to say"
    return "; ".join(told) + (" (it matters)" if choice.alters else "")


def _versions(review: Review) -> Html:
    return definition((name, version) for name, version in review.versions.items())
