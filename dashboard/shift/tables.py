"""The tables of the page: each is shown, and each can be downloaded as it is shown, whole."""

import csv
import io
from dataclasses import dataclass
from datetime import datetime

from dashboard.shift.life import LifeView, Sisters
from dashboard.shift.whole import PressShift, Shift, StayLine
from shotlog.answers.table import Cell, Table
from shotlog.cells import as_cell
from shotlog.channels import CHANNELS
from shotlog.entries import KINDS
from shotlog.records import Who
from shotlog.review.drift import Drift
from shotlog.review.suspects import Suspects
from shotlog.wording.entries import tells_of_life, text_shown
from shotlog.wording.incoming import missed_said
from shotlog.wording.numbers import heading, interval, number, shots, value
from shotlog.wording.parts import life_text, swap_showed
from shotlog.wording.times import clock_time
from shotlog.wording.verdicts import VERDICT_WORDS
from shotlog.wording.who import who_said

__all__ = [
    "Happening",
    "as_csv",
    "drift_table",
    "happened_table",
    "happenings",
    "life_table",
    "lives_table",
    "sisters_table",
    "suspects_table",
]


def as_csv(table: Table) -> str:
    """Return a table as CSV (RFC 4180), its numbers with plain minus signs and its texts as `cells` says."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(table.heads)
    numbers = [head in table.numbers for head in table.heads]
    writer.writerows([_plain(cell, one) for cell, one in zip(row, numbers, strict=True)] for row in table.rows)
    return out.getvalue()


def _plain(cell: Cell, number: bool) -> object:
    if isinstance(cell, int) or not number:
        return as_cell(cell)
    text = cell.replace("\N{MINUS SIGN}", "-")
    try:
        float(text)
    except ValueError:
        return as_cell(text)
    return text


def lives_table(shift: Shift) -> Table:
    """Return every life in a view with how it ended."""
    heads = (
        "Insert", "Press", "Half", "Design", "Print batch", "Shots of the press", "Shots on it",
        "Before it went off", "Gone off since", "Taken out because", "How that is known",
    )  # fmt: skip
    rows = tuple(_life_row(stay) for stay in shift.stays)
    return Table("lives", heads, rows, frozenset(heads[5:8]), "Insert")


def _life_row(stay: StayLine) -> tuple[Cell, ...]:
    life = stay.life
    sound = since = ground = ""
    if life is not None:
        ground = life_text(life)
        if life.failed:
            sound = f"{life.sound}" + (
                f" ({life.sound_low} to {life.sound_high})" if life.sound_high > life.sound_low else ""
            )
            since = f"{life.since_shot} ({life.dated_by})"
    elif stay.single_use:
        ground = "a new piece every shot"
    else:
        ground = "not all of its life is in this view"
    return (
        stay.serial, stay.press, stay.half, stay.design, stay.print_batch, shots(stay.first, stay.last), stay.n_shots,
        sound, since, "still mounted" if stay.mounted else stay.reason, ground,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Happening:
    """Something that happened at a shot of a press: its kind in one word, and the whole text.

    `entry`: which kind of entry it is, where a person noted it; empty of the rest. `who` entered it, empty where it is
    not an entry.
    """

    press: str
    shot: int
    time: datetime | None
    kind: str
    text: str
    entry: str = ""
    who: str = ""


def happenings(one: PressShift) -> list[Happening]:
    """Return what happened at a press over its window, in order of shot."""
    record, first, last = one.history.record, one.window.first, one.window.last
    found: list[Happening] = []

    def happened(shot: int, kind: str, text: str, entry: str = "", who: Who | None = None) -> None:
        if first <= shot <= last + 1:
            said = "" if who is None else who_said(who)
            found.append(Happening(one.press, shot, record.time_of(shot), kind, text, entry, said))

    for row in record.entries:
        if not row.taken_back and not tells_of_life(row.event.kind, row.event.text):
            happened(
                row.event.at_shot,
                KINDS[row.event.kind].word,
                text_shown(row.event.kind, row.event.text),
                row.event.kind,
                row.who,
            )
    for gap in record.gaps:
        n = gap.n_shots
        happened(gap.first, "gap", f"shots {shots(gap.first, gap.last)} missed ({missed_said(n, [gap])}): {gap.reason}")
    for stay in one.stays:
        if stay.first >= first:
            who = one.swapped_by.get(("mounting", stay.serial, stay.first))
            happened(stay.first, "mounted", f"{stay.serial} in {stay.half}", who=who)
        if not stay.mounted and stay.last < last:
            who = one.swapped_by.get(("removal", stay.serial, stay.last + 1))
            happened(stay.last + 1, "taken out", f"{stay.serial} of {stay.half}: {stay.reason}", who=who)
    for before, turn in zip([None, *one.turns], one.turns, strict=False):
        if before is None or before.verdict != turn.verdict:
            happened(
                turn.first, VERDICT_WORDS[turn.verdict], f"on {turn.insert or 'no insert on record'}: {turn.sentence}"
            )
    for swap in one.history.swaps:
        what = f"{swap.out} for {swap.into or 'nothing'}: {swap_showed(swap.outcome, swap.out)}; {swap.ground}"
        happened(swap.at_shot, "swap showed", what)
    return sorted(found, key=lambda item: item.shot)


def happened_table(shift: Shift) -> Table:
    """Return everything noted, missed, called and swapped in a view, in order."""
    heads = ("Press", "Shot", "Time", "What", "In words", "Entered by")
    rows = tuple(
        (item.press, item.shot, clock_time(item.time), item.kind, item.text, item.who)
        for one in shift.presses
        for item in happenings(one)
    )
    return Table("happened", heads, rows, frozenset({"Shot"}))


def drift_table(shift: Shift) -> Table:
    """Return the fitted change of each charted value over each stretch of shots with the same reused inserts."""
    heads = (
        "Insert", "Press", "Shots", "Part", "Value", "Change per shot", "95 % interval", "From", "To",
        "Limit ahead", "Limit from", "Share of the way, %",
    )  # fmt: skip
    rows = tuple(_drift_row(drift) for one in shift.presses for drift in one.drifts)
    return Table("drift", heads, rows, frozenset({heads[2], *heads[5:10], heads[11]}), "Insert")


def _drift_row(drift: Drift) -> tuple[Cell, ...]:
    line, decimals = drift.line, CHANNELS[drift.channel].decimals
    source = {"design": "design", "level": "its start"}.get(drift.limit_from, "")
    return (
        drift.insert, drift.press, shots(drift.first, drift.last), drift.part, heading(drift.channel),
        number(line.slope, decimals + 3), interval(line.low, line.high, decimals + 3),
        number(line.start, decimals + 1), number(line.end, decimals + 1), number(drift.limit, decimals + 1, ""), source,
        "" if drift.share is None else number(100.0 * drift.share, 0),
    )  # fmt: skip


def suspects_table(shift: Shift) -> Table:
    """Return the spans of parts in doubt, how they stand, and which to look at first."""
    heads = ("Insert", "Press", "Shots", "Missed", "Held", "Released", "Scrapped", "Onset", "Because", "Until",
             "Look first at")  # fmt: skip
    rows = tuple(_suspect_row(span_of) for one in shift.presses for span_of in one.suspects)
    return Table("suspects", heads, rows, frozenset(heads[2:8]), "Insert")


def _suspect_row(one: Suspects) -> tuple[Cell, ...]:
    onset = f"{one.onset}" + (f" ({one.onset_low} to {one.onset_high})" if one.onset_high > one.onset_low else "")
    parts = (one.parts.held, one.parts.released, one.parts.scrapped)
    first = "; ".join(f"{look.shot} ({look.why})" for look in one.look_first)
    return (
        one.insert, one.press, shots(one.first, one.last), one.n_missed, *parts, onset, one.reason, one.ended_by, first,
    )  # fmt: skip


def life_table(life: LifeView) -> Table:
    """Return the shots drawn of a life, with the values of the channels chosen and what was said of each."""
    strips = life.strips
    named = tuple(heading(strip.channel) for strip in strips.strips)
    heads = ("Insert", "Press", "Shot", "Shot on insert", *named, "Settling", "In doubt", "Signals")
    doubted = {shot for one in life.spans for shot in range(one.first, one.last + 1)}
    said: dict[int, list[str]] = {}
    for strip in strips.strips:
        for mark in strip.marks:
            said.setdefault(mark.shot, []).append(f"{CHANNELS[strip.channel].label}: {mark.text}")
    rows = tuple(
        (
            life.serial, life.press, shot, shot - life.first + 1,
            *(value(strip.channel, strip.values[n], none="") for strip in strips.strips),
            "settling" if shot in strips.settling else "", "in doubt" if shot in doubted else "",
            "; ".join(said.get(shot, ())),
        )
        for n, shot in enumerate(strips.shots)
    )  # fmt: skip
    return Table("life", heads, rows, frozenset(heads[2:-3]))


def sisters_table(sisters: Sisters) -> Table:
    """Return the values of the lives drawn over each other, one row a shot on an insert."""
    heads = ("Insert", "Press", "Shot", "Shot on insert", heading(sisters.channel))
    rows = tuple(
        (one.serial, one.press, shot, n, value(sisters.channel, level, none=""))
        for one in sisters.lives
        for n, shot, level in zip(one.numbers, one.shots, one.values, strict=True)
    )
    return Table("sisters", heads, rows, frozenset(heads[2:]))
