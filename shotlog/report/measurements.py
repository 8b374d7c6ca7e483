"""What was measured on parts: capability, and how it goes with the values of the shots."""

from shotlog.report.html import Html, items, note, section, table
from shotlog.review import Review
from shotlog.review.capability import Index
from shotlog.review.measured import Measured
from shotlog.review.relation import Relation
from shotlog.wording.numbers import label, number

__all__ = ["measurements_section"]


def measurements_section(review: Review) -> Html:
    """Return the section on what was measured on parts."""
    measured = [(one.press, m) for one in review.presses for m in one.measured]
    related = [(one.press, r) for one in review.presses for r in one.relations]
    if not measured and not related:
        return Html("")
    cautions = [
        f"{press}, {label(m.quantity)}: {c}." for press, m in measured if m.capability for c in m.capability.cautions
    ]
    return section(
        "measured",
        "Measured on parts",
        _capability(measured),
        items(cautions) if cautions else "",
        _relations(related),
    )


def _capability(measured: list[tuple[str, Measured]]) -> Html:
    rows = [(press, *_row(m)) for press, m in measured]
    heads = (
        "press",
        "quantity",
        "n",
        "outside",
        "mean",
        "tolerance",
        "Cp (95 %)",
        "Cpk (95 %)",
        "Pp (95 %)",
        "Ppk (95 %)",
    )
    if not rows:
        return Html("")
    return table(heads, rows, numbers=(2, 3, 4)) + note(
        "Cp and Cpk from neighbouring parts, Pp and Ppk from all (ISO 22514-2). In a short run the interval is the "
        "message. The indices suppose one "
        "steady process; a wearing insert is none."
    )


def _row(m: Measured) -> tuple[object, ...]:
    c = m.capability
    if c is None:
        return (f"{label(m.quantity)}, {m.unit}", m.n, m.n_outside, "–", m.why_not, "–", "–", "–", "–")
    ends = f"{'' if c.lower is None else f'{c.lower:g}'} to {'' if c.upper is None else f'{c.upper:g}'}".strip()
    return (
        f"{label(m.quantity)}, {m.unit}", c.n, m.n_outside, number(c.mean, 3), ends,
        _index(c.cp), _index(c.cpk), _index(c.pp), _index(c.ppk),
    )  # fmt: skip


def _index(index: Index | None) -> str:
    return "–" if index is None else f"{number(index.value, 2)} ({number(index.low, 2)} to {number(index.high, 2)})"


def _relations(related: list[tuple[str, Relation]]) -> Html:
    if not related:
        return Html("")
    rows = [
        (
            press, label(r.quantity), label(r.channel), r.n, r.n_runs,
            f"{number(r.within, 2)} ({number(r.low, 2)} to {number(r.high, 2)})", number(r.between, 2),
        )
        for press, r in related
        if r.told
    ]  # fmt: skip
    heads = (
        "press",
        "on the part",
        "at the press",
        "n",
        "runs",
        "correlation within runs (95 %)",
        "between run means",
    )
    told = sum(r.told for _, r in related)
    return table(heads, rows, numbers=(3, 4, 6), name="How it goes with the values of the shot") + note(
        f"{told} of {len(related)} relations with the values of the shot are told from nil; about "
        f"{0.05 * len(related):.1f} of so many would be by chance alone. Within a run both are taken about their own "
        "mean, so that runs that differ do not count; a "
        "drift within a run still moves both. A relation between run means rests on few runs and on whatever else "
        "differed between them. A part cannot be judged by its shot's values on such a relation.",
    )
