"""How the record stands: set-ups, levels and limits used, versions, the hash of the log."""

from datetime import tzinfo

from shotlog.report.html import Html, definition, note, paragraph, section, table, text
from shotlog.review import Review
from shotlog.review.choices import Choice
from shotlog.wording.chart_rate import chart_rate
from shotlog.wording.numbers import label, span, unbroken, unit, value
from shotlog.wording.times import moment

__all__ = ["record_section"]

_KEPT_ELSEWHERE = (
    "Kept elsewhere, this digest shows any later change of what was written up to now: "
    "shotlog verify --expect compares."
)


def record_section(review: Review, zone: tzinfo) -> Html:
    """Return the section on settings, versions, starts, the clock, and the state of the log."""
    return section(
        "record", "The record", _log(review), _starts(review, zone), _steps(review, zone), _designs(review),
        _baselines(review), _versions(review),
    )  # fmt: skip


def _starts(review: Review, zone: tzinfo) -> Html:
    rows = [
        (moment(one.time, zone), one.release, one.host, one.process, Html(f"<code>{text(one.digest)}</code>"))
        for one in review.starts
    ]
    if not rows:
        return Html("")
    said = note(
        "The text of each configuration, without its passwords, is in the log: shotlog entries --starts --json."
    )
    heads = ("started", "release", "host", "process", "digest of the configuration in force")
    return table(heads, rows, name="Starts of the logger") + said


def _steps(review: Review, zone: tzinfo) -> Html:
    rows = [(moment(one.time, zone), one.detail) for one in review.clock_steps]
    return table(("at", "what it did"), rows, name="The clock of the computer") if rows else Html("")


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
    ) + note(_recomputed(log.from_transaction), " ", _KEPT_ELSEWHERE)


def _recomputed(first: int) -> str:
    """Say over which rows the chain of digests was recomputed."""
    if not first:
        return "The chain of digests over every row was recomputed for this report and holds."
    return (
        f"The chain of digests was recomputed for this report over every row written since transaction {first}, and "
        "over what people and the logger entered before it, and holds; as many rows are there as the chain names. The "
        "shots and verdicts before it were not read back: shotlog verify recomputes every row."
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
    heads = ("design", "print material", "settling shots", "baseline shots", "action limits")
    return table(heads, rows, numbers=(2, 3), name="Insert designs as configured")


def _baselines(review: Review) -> Html:
    """Return the levels the charts were set from, a row for each insert and the shots it was learnt from."""
    channels = list(dict.fromkeys(choice.baseline.channel for one in review.presses for choice in one.choices))
    learnt: dict[tuple[str, str, int, int], dict[str, Choice]] = {}
    for one in review.presses:
        for choice in one.choices:
            b = choice.baseline
            learnt.setdefault((one.press, b.insert, b.first, b.last), {})[b.channel] = choice
    rows = [
        (press, unbroken(insert) or "–", span(first, last), *(_level(mine.get(name)) for name in channels))
        for (press, insert, first, last), mine in learnt.items()
    ]
    heads = ("press", "insert", "learnt from", *(f"{label(name)}, {unit(name)}" for name in channels))
    if not rows:
        return Html("")
    said = chart_rate([choice.baseline.per_100 for one in review.presses for choice in one.choices])
    return table(heads, rows, name="Levels the charts were set from") + (
        note(f"By these limits, {said}") if said else ""
    )


def _level(choice: Choice | None) -> str:
    if choice is None:
        return "–"
    b = choice.baseline
    ends = unbroken(f"({value(b.channel, b.lower, 1)} to {value(b.channel, b.upper, 1)})")
    outside = "none" if choice.first_outside is None else choice.first_outside
    return f"{value(b.channel, b.centre, 1)} {ends}; {outside}{_otherwise(choice)}"


def _otherwise(choice: Choice) -> str:
    """Say what other baselines would have shown, where it is another first signal."""
    if not choice.alters:
        return ""
    tried = (("five later", choice.later, choice.later_known), ("twice as many", choice.longer, choice.longer_known))
    told = [f"{name}: {'none' if shot is None else shot}" for name, shot, known in tried if known]
    return f" (learnt otherwise, {'; '.join(told)})"


def _versions(review: Review) -> Html:
    return note("Written with ", ", ".join(f"{name} {version}" for name, version in review.versions.items()), ".")
