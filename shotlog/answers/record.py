"""What is missing from the record and why, and what the limits of the charts rest on."""

import numpy as np

from shotlog.answers.asked import Asked
from shotlog.answers.table import Cell, Table
from shotlog.channels import CHANNELS
from shotlog.entries import KINDS
from shotlog.records import Gap
from shotlog.review.choices import Choice
from shotlog.review.press import PressReview
from shotlog.store.asked.faults import FaultKind
from shotlog.wording.incoming import gap_said, kind_named, unread_said
from shotlog.wording.numbers import heading, interval, label, shots, some, value
from shotlog.wording.times import clock_time

__all__ = ["baselines", "missed"]


def missed(asked: Asked) -> list[Table]:
    """Return how many shots were missed, torn, weighed in doubt or not judged, and why; when nobody was looking;
    and when the log could not be written, where that was so.
    """
    rows = tuple(row for press in asked.presses for row in _counts(press))
    blind = tuple(
        (press.press, clock_time(one.start), "it lasts" if one.end is None else clock_time(one.end), one.how,
         one.n_missed, one.detail)
        for press in asked.presses
        for one in press.outages
    )  # fmt: skip
    away = tuple((press.press, clock_time(one.time), one.detail) for press in asked.presses for one in press.log_away)
    tables = [
        Table("missed", ("Press", "What", "How many", "Which and why"), rows, frozenset({"How many"}),
              title="Missed, torn, weighed in doubt, left out"),
        Table("blind", ("Press", "From", "To", "What", "Shots missed", "Detail"), blind, frozenset({"Shots missed"}),
              title="When nobody was looking", empty="Never: the connection stood and the logging ran."),
        Table("log-away", ("Press", "Until", "What"), away, title="When the log could not be written"),
    ]  # fmt: skip
    return tables if away else tables[:-1]


def _counts(press: PressReview) -> list[tuple[Cell, ...]]:
    gaps = "; ".join(f"{_which(gap)}: {gap.reason}" for gap in press.gaps)
    filled = "; ".join(shots(*span) for span in press.filled)
    n_filled = sum(last - first + 1 for first, last in press.filled)
    dry = [one for one in press.entries if KINDS[one.event.kind].effect.no_part and not one.taken_back]
    back = [one for one in press.entries if one.taken_back]
    rows: list[tuple[Cell, ...]] = [
        ("shots stored", press.n_seen, f"{shots(press.first, press.last)}"),
        ("shots missed", press.n_missed, gaps),
        ("missed first, taken in later", n_filled, filled),
        ("settling, not judged", press.n_settling, _settling(press)),
        ("dry shots, no part", len(dry), "; ".join(f"{one.event.at_shot}: {one.event.text}" for one in dry)),
        ("entries taken back", len(back), "; ".join(f"{one.event.kind} {one.entry_id}" for one in back)),
    ]
    rows += [(f"fault: {kind_named(one.kind)}", one.n, _fault(one)) for one in press.faults]
    rows += [] if any(one.kind == "torn" for one in press.faults) else [("fault: torn", 0, "")]
    weighed = press.weighed
    if weighed is None:
        rows.append(("weighings by a balance", 0, "no balance weighs for this press"))
    else:
        rows += [
            ("weighings", weighed.n, f"{some(weighed.n_shots, 'shot')} have a weight"),
            ("weighings without a shot", weighed.n_without_shot, "too late, doubled, or before the first shot"),
            ("weighings that may be of another shot", weighed.n_ambiguous, "late: more than one shot fitted"),
            ("weighings matched by hand", weighed.n_by_hand, ""),
        ]
    for channel, values in press.values.items():
        if missing := int(np.isnan(values).sum()):
            rows.append((f"no {label(channel).lower()}", missing, "the press or balance gave none for these shots"))
    return [(press.press, *row) for row in rows]


def _which(gap: Gap) -> str:
    return gap_said(gap) if gap.n_more or gap.n_fewer else shots(gap.first, gap.last)


def _fault(kind: FaultKind) -> str:
    if kind.channel:
        said = unread_said(kind.told, kind.n, clock_time(kind.first), kind.first_shot)
        return said if kind.n == 1 else f"{said}, last {clock_time(kind.last)}"
    return f"last {clock_time(kind.last)}: {kind.example}"


def _settling(press: PressReview) -> str:
    spans = [shots(turn.first, turn.last) for turn in press.turns if turn.settling]
    return f"at the start of an insert and after stops: {', '.join(spans)}" if spans else ""


def baselines(asked: Asked) -> list[Table]:
    """Return each baseline: its shots, whether they were settled, what froze it, and whether another would do."""
    heads = ("Insert", "Press", "Value", "Shots", "How many", "Warm-up in it", "Level", "Limits", "First signal",
             "Learnt 5 later", "Learnt from twice", "Would another alter it?")  # fmt: skip
    rows = tuple(_baseline(press, one) for press in asked.presses for one in press.choices)
    return [
        Table(
            "baselines", heads, rows, frozenset({"How many", "First signal"}), "Insert",
            title="Was the baseline any good?",
            about="The program froze each by itself once that many settled shots of the insert were there; nobody "
            "chose them. The call does not rest on these levels: it has its own from all sound shots and from sisters.",
            empty="No baseline was frozen yet.",
        )
    ]  # fmt: skip


def _baseline(press: PressReview, one: Choice) -> tuple[Cell, ...]:
    base = one.baseline
    warm = sum(
        min(turn.last, base.last) - max(turn.first, base.first) + 1
        for turn in press.turns
        if turn.settling and turn.first <= base.last and turn.last >= base.first
    )
    inside = "no" if not warm else f"{some(warm, 'settling shot')} lie between, left out"
    return (
        base.insert, press.press, heading(base.channel), shots(base.first, base.last), base.n_shots, inside,
        value(base.channel, base.centre, 1), interval(base.lower, base.upper, _digits(base.channel)),
        "none" if one.first_outside is None else one.first_outside,
        _first(one.later, one.later_known), _first(one.longer, one.longer_known),
        "yes, do not rest on it alone" if one.alters else "no",
    )  # fmt: skip


def _digits(channel: str) -> int:
    return CHANNELS[channel].decimals + 1


def _first(shot: int | None, known: bool) -> Cell:
    return "too few shots to tell" if not known else "none" if shot is None else shot
