"""How a press stands now, read from the log for every screen that shows it. Gives plain view data, no figures.

A view is read anew only when the log has gained something of that press; otherwise asking every second costs one small
query, however long the log and however many the presses.
"""

import hashlib
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import isnan

from dashboard.shared.forecast import forecast
from dashboard.shared.held_against import drawn_levels, drawn_marks
from dashboard.shared.source import Source
from dashboard.shared.timelines import Timelines
from dashboard.shared.views import EntryLine, EventLine, Mounted, PressView, Strip, Strips
from shotlog.answers.judged_now import half_looked_at, open_question
from shotlog.channels import ALWAYS_CHARTED
from shotlog.entries import KINDS, MAP
from shotlog.parts.found import FoundWrong
from shotlog.records import Event, Stay, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.store.asked import state
from shotlog.store.asked.cycle import usual_cycle_s
from shotlog.store.asked.entries_made import newest_entries
from shotlog.store.asked.faults import faults
from shotlog.store.asked.heartbeat import heard
from shotlog.store.asked.missed import unseen
from shotlog.store.asked.tally import Counts, Tally
from shotlog.store.asked.unjudged import as_told
from shotlog.store.log.clock_steps import clock_steps
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.doubts import held_for_call
from shotlog.store.parts.found import found_on
from shotlog.store.parts.pictures import pictures_of_findings
from shotlog.store.undo import UNDO
from shotlog.wording.entries import entry_text, made_what, tells_of_life
from shotlog.wording.incoming import one_line

__all__ = ["LONGEST", "Fresh", "PressReader"]

LONGEST = 600
"""Shots shown at once: more are no longer told apart on a screen (common practice)."""

_RECENT = 4


@dataclass(frozen=True, slots=True)
class Fresh:
    """A view with digests of what it holds: a browser that shows a digest already needs nothing sent."""

    view: PressView
    strips_digest: str
    digest: str


@dataclass(frozen=True, slots=True)
class _Kept:
    """What was read of a press, and of which counts it is true."""

    counts: Counts
    fresh: Fresh


class PressReader:
    """Reads the views of the presses of one configuration and keeps the newest of each."""

    def __init__(self, source: Source, longest: int = LONGEST) -> None:
        self._source, self._longest = source, longest
        self._tally, self._timelines = Tally(), Timelines()
        self._reading = threading.Lock()
        self._kept: dict[str, _Kept] = {}
        self._log: Log | None = None

    def fresh(self, press: str) -> Fresh:
        """Return how a press stands.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        return self.look([press])[0][press]

    def look(self, presses: Sequence[str]) -> tuple[dict[str, Fresh], datetime | None]:
        """Return how presses stand, in their order, and when the logger last said that it was at work.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        log = self._source.reading()
        with self._reading:  # so that what is new is read once, however many viewers ask for it
            if log is not self._log:  # another file may lie in its place
                self._log, self._tally, self._timelines, self._kept = log, Tally(), Timelines(), {}
            found, seen = self._tally.all(log, presses)
            if self._source.heard is not None:
                seen = self._source.heard.logger_seen(seen, self._source.clock.now())
            fresh = {press: self._read(log, press, counts) for press, counts in found.items()}
        return self._with_told(log, fresh), seen

    def _with_told(self, log: Log, fresh: dict[str, Fresh]) -> dict[str, Fresh]:
        """Return views with what the logger tells of shots that wait for their verdict: it moves on while they do."""
        if all(one.view.unjudged is None for one in fresh.values()):
            return fresh
        sign = heard(log)
        told = {press: as_told(one.view.unjudged, press, sign) for press, one in fresh.items()}
        return {press: replace(one, view=replace(one.view, unjudged=told[press])) for press, one in fresh.items()}

    def _read(self, log: Log, press: str, counts: Counts) -> Fresh:
        kept = self._kept.get(press)
        if kept is not None and kept.counts.changes == counts.changes:
            return kept.fresh
        timeline = self._timelines.of(log, press, counts)
        view = read_view(log, press, self._source.settings.designs, counts, timeline, self._longest)
        fresh = Fresh(view, _digest(view.strips), _digest(view))
        self._kept[press] = _Kept(counts, fresh)
        return fresh


def _digest(what: object) -> str:
    return hashlib.blake2b(repr(what).encode(), digest_size=12).hexdigest()


def read_view(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    counts: Counts,
    timeline: Timeline,
    longest: int = LONGEST,
) -> PressView:
    """Read the view of one press from the log, of its newest `longest` shots."""
    now = state.press_state(log, press, counts, timeline)
    upcoming = 1 if now.shot is None else now.shot + 1
    mounted = tuple(_mounted(half, stay, timeline, upcoming) for half, stay in sorted(now.mounted.items()))
    half = half_looked_at(now.mounted, now.verdict)
    judged = next((one for one in mounted if one.half == half), None)
    start = _start(judged, now.verdict, upcoming, longest)
    found = tuple(one for one in found_on(log, press, timeline, designs) if one.stands or one.asks)
    strips, cycle_s = _strips(log, press, timeline, judged, start, now.verdict, designs, longest)
    strips = replace(strips, held_from=_held_from(strips.held_from, found))
    newest = faults(log, press, limit=1)
    return PressView(
        press=press,
        shot=now.shot,
        time=now.time,
        values=now.values,
        verdict=now.verdict,
        judged=judged,
        mounted=mounted,
        link=now.link,
        n_shots=now.n_shots,
        n_missed=now.n_missed,
        uncertain=now.uncertain,
        faults=counts.faults,
        last_fault=one_line(f"{newest[0].kind}: {newest[0].detail}") if newest else "",
        cycle_s=cycle_s,
        strips=strips,
        recent=_recent(log, press),
        question=open_question(log, press, now.verdict, now.mounted.get(half), upcoming),
        found=found,
        set_since_s=now.set_since_s,
        map_changed=_map_changed(log, press, start, upcoming),
        unjudged=now.unjudged,
        clock_step=next(iter(clock_steps(log, 1)), None),
    )


def _held_from(called: int | None, found: Sequence[FoundWrong]) -> int | None:
    """Return since which shot parts are held for what is called or stands now, None where nothing is."""
    firsts = [held.first for one in found if one.stands for held in one.held if held.goes_on]
    firsts += [one.wrong.shot for one in found if one.stands and not one.held]
    return min([*firsts, *([] if called is None else [called])], default=None)


def _mounted(half: str, stay: Stay, timeline: Timeline, upcoming: int) -> Mounted:
    mounting, serial = stay.mounting, stay.mounting.insert.serial
    before = [one for one in timeline.stays if one.mounting.insert.serial == serial and one.end <= stay.first]
    held, made = timeline.halves(upcoming).get(half), timeline.halves(upcoming - 1).get(half)
    queue = timeline.queue(stay) if mounting.single_use else None
    rest = None if queue is None else tuple(one.serial for one in queue[timeline.n_taken(stay, upcoming) :])
    return Mounted(
        half,
        serial,
        mounting.insert.design,
        stay.first,
        upcoming - stay.first,
        mounting.single_use,
        0 if mounting.single_use else sum(int(one.end) - one.first for one in before),
        held.print_batch if held else "",
        held.serial if held and mounting.single_use else "",
        rest,
        made.serial if made else "",
    )


def _start(judged: Mounted | None, verdict: Verdict | None, upcoming: int, longest: int) -> int:
    """Return the first shot of the stretch that the strips cover."""
    if judged is not None:
        return judged.since
    if verdict is not None and not verdict.insert:
        return verdict.shot - verdict.shots_on_insert + 1
    return max(1, upcoming - longest) if verdict is None else upcoming


def _strips(
    log: Log,
    press: str,
    timeline: Timeline,
    judged: Mounted | None,
    start: int,
    verdict: Verdict | None,
    designs: Mapping[str, DesignSettings],
    longest: int,
) -> tuple[Strips, float | None]:
    last = log.last_shot(press)
    end = start - 1 if last is None else last[0]
    first = max(start, end - longest + 1)
    with log.reading() as connection:
        shots, _, values = columns(connection, press, ALWAYS_CHARTED, first, end)
    numbers = tuple(int(shot) for shot in shots)
    verdicts = state.verdicts(log, press, first, end)
    levels = state.baselines(log, press, start, end)
    signals = state.signals(log, press, first, end)
    design = designs.get(judged.design) if judged else None
    by_channel = {
        name: tuple(None if isnan(value) else float(value) for value in values[:, n])
        for n, name in enumerate(ALWAYS_CHARTED)
    }
    drawn = tuple(
        Strip(
            name,
            row,
            drawn_levels([level for level in levels if level.channel == name], first, end),
            design.limits.get(name, Bound()) if design else Bound(),
            drawn_marks([signal for signal in signals if signal.channel == name], dict(zip(numbers, row, strict=True))),
        )
        for name, row in by_channel.items()
    )
    strips = Strips(
        insert=judged.serial if judged else "",
        start=start,
        earlier=judged.earlier if judged else 0,
        shots=numbers,
        settling=frozenset(numbers) - {row.shot for row in verdicts if not row.settling},
        gaps=tuple((max(gap.first, first), min(gap.last, end)) for gap in unseen(log, press, first, end)),
        events=_events(log, press, timeline, start, first, end + 1),
        onset=_onset(verdict, start),
        strips=drawn,
        forecast=forecast(verdict, judged, numbers, drawn),
        held_from=None if verdict is None else held_for_call(log, press, verdict.shot),
        chart_limits=(design or DesignSettings()).chart_limits,
    )
    return strips, usual_cycle_s(log, press, end)


def _onset(verdict: Verdict | None, start: int) -> tuple[int, int, int] | None:
    """Return (early edge, onset, late edge) of the change the verdict speaks of, if any."""
    if verdict is None or verdict.onset is None or verdict.verdict == "keep" or verdict.onset < start:
        return None
    low = verdict.onset if verdict.onset_low is None else verdict.onset_low
    high = verdict.onset if verdict.onset_high is None else verdict.onset_high
    return low, verdict.onset, high


def _events(log: Log, press: str, timeline: Timeline, start: int, first: int, last: int) -> tuple[EventLine, ...]:
    entries = [row.event for row in state.entries(log, press, first, last) if not row.taken_back]
    lines = [_event_line(one) for one in entries if not tells_of_life(one.kind, one.text)]
    for stay in timeline.stays:
        if max(first, start + 1) <= stay.first <= last:
            text = f"{stay.mounting.insert.serial} in {stay.mounting.half}"
            lines.append(EventLine(stay.first, text, text))
    return tuple(sorted(lines, key=lambda line: line.shot))


def _map_changed(log: Log, press: str, start: int, last: int) -> tuple[int, str] | None:
    """Return since which shot channels are read otherwise, and how, where that was changed while the insert was in."""
    for row in reversed(state.entries(log, press, start, last)):
        if row.event.kind == MAP and not row.taken_back:
            return row.event.at_shot, row.event.text
    return None


def _event_line(event: Event) -> EventLine:
    """Return an entry as it stands over the strip; what changed in a channel map is too long to stand there."""
    words = entry_text(event.kind, event.text)
    return EventLine(event.at_shot, entry_text(event.kind, event.kind) if event.kind == MAP else words, words)


def _recent(log: Log, press: str) -> tuple[EntryLine, ...]:
    """Return the newest entries about a press that stands there, those taken back included, newest first."""
    newest = newest_entries(log, press, ("mounting", "removal", "event"), _RECENT)
    findings = {one.number for one in newest if one.kind == "event" and KINDS[one.about].effect.found}
    pictures = pictures_of_findings(log, findings)
    return tuple(
        EntryLine(
            f"{UNDO[one.kind].name}:{one.number}",
            one.first or 0,
            made_what(one),
            one.time,
            one.taken_back is not None,
            one.who,
            one.who_back,
            one.number if one.kind == "event" and one.number in findings else None,
            tuple(pictures.get(one.number, ())) if one.kind == "event" else (),
        )
        for one in reversed(newest)
    )
