"""The ledger of inserts as the page shows it: worked out apart, from the newest shots of each press.

Every number is the review's own. What a log of years holds beyond the newest shots is listed by what was entered, and
left out of curves and costs: its verdicts are not read again.
"""

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from dashboard.shared.apart import apart
from dashboard.shared.latest import Latest, Result
from dashboard.shared.source import Source
from shotlog.parts.ends import InsertEnd
from shotlog.review.costs import Bill
from shotlog.review.groups import Group
from shotlog.review.ledger import LedgerEntry, ledger_of
from shotlog.review.lives import Life
from shotlog.review.lives_read import read_lives
from shotlog.review.states import counted_through, read_parts
from shotlog.review.survival import Comparison
from shotlog.settings import Settings
from shotlog.store.asked import state
from shotlog.store.inserts.lives_told import lives_counted
from shotlog.store.inserts.making import Making, makings
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.ends import insert_ends
from shotlog.wording.parts import life_end, life_text, why_out

__all__ = ["CostRow", "GroupLives", "LedgerReader", "LedgerRow", "Reason", "Worked", "work_out", "worked_out"]

WINDOW = 32_000
"""Shots, the newest of each press, that curves and costs are worked out from: 400 lives of 80 shots in all."""

_AT_ONCE_S = 0.9
"""How long an answer waits for the first ledger, in seconds."""

_SLOT_MIN = 5


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One insert in the ledger; None and empty where not known. `gone_off` is None where it was not worked out."""

    serial: str
    design: str
    half: str
    print_batch: str
    resin: str
    material: str
    press: str
    first: int | None
    n_shots: int
    sound: int | None
    gone_off: bool | None
    state: str
    ground: str
    reason: str
    cost_low: float | None
    cost_high: float | None


@dataclass(frozen=True, slots=True)
class GroupLives:
    """A group of lives with its curve; `censored`: shots after which a life was no longer seen, still sound."""

    group: Group
    censored: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Reason:
    """A reason for removal as it was entered, on how many inserts, and how many of those had gone off."""

    text: str
    n: int
    n_gone_off: int


@dataclass(frozen=True, slots=True)
class CostRow:
    """What the inserts of a design cost together, and per accepted part; free of currency.

    `low`: should every held part be accepted, `high`: should every one be bad; None where no part is accepted.
    """

    design: str
    n_inserts: int
    accepted: int
    held: int
    scrapped: int
    part: float
    insert: float
    changeover: float
    late_find: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Worked:
    """The whole ledger. `upto`: last shot of each press; `n_older`: inserts left out of all but the rows. `counted`: by
    press and design, on how many lives there and on other presses it rests how long an insert will do.
    """

    rows: tuple[LedgerRow, ...]
    groups: tuple[GroupLives, ...]
    comparisons: tuple[Comparison, ...]
    reasons: tuple[Reason, ...]
    costs: tuple[CostRow, ...]
    upto: tuple[tuple[str, int], ...]
    n_older: int
    counted: tuple[tuple[tuple[str, str], tuple[int, int]], ...] = ()


class LedgerReader:
    """Keeps the newest ledger of one configuration."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self._latest = Latest(lambda: apart(work_out, source.settings))

    def ask(self, wait_s: float = 0.0) -> Result[Worked] | None:
        """Return the newest ledger, None while it is worked out for the first time; waits `wait_s` at most for it.

        Raises
        ------
        StoreError
            There is no log.
        """
        log = self._source.reading()
        now = self._source.clock.now()
        slot: Hashable = (now.date(), now.hour, now.minute // _SLOT_MIN)
        mark = state.change_mark(log), slot
        return self._latest.ask(mark) or (self._latest.ask(mark, wait_s) if wait_s else None)

    def at_once(self) -> Result[Worked] | None:
        """Return what `ask` does, the first ledger as well where it comes soon enough."""
        return self.ask(_AT_ONCE_S)


def work_out(settings: Settings) -> Worked:
    """Return the ledger of a log."""
    with open_log(settings.store) as log:
        return worked_out(log, settings)


def worked_out(log: Log, settings: Settings, window: int = WINDOW) -> Worked:
    """Return the ledger of an open log, from the newest `window` shots, of each press as many."""
    timelines = {press: log.timeline(press) for press in log.presses()}
    upto = {press: newest[0] for press in timelines if (newest := log.last_shot(press))}
    each = window // max(len(upto), 1)
    since = {press: last - each + 1 if last > each else 0 for press, last in upto.items()}
    histories = [
        read_lives(log, press, since.get(press, 0), timeline=timeline) for press, timeline in timelines.items()
    ]
    states = {
        press: read_parts(
            log,
            press,
            settings.designs,
            [(since.get(press, 0), counted_through(log, press))],
            timeline=timeline,
        )
        for press, timeline in timelines.items()
    }
    ends = sorted(insert_ends(log, None, timelines), key=lambda end: end.stays[-1].mounting.came, reverse=True)
    within = {end.serial for end in ends if all(one.first >= since.get(one.mounting.press, 0) for one in end.stays)}
    ledger = ledger_of(log, settings, histories, states, None, within, timelines)
    known = {one.life.serial: one for one in ledger.entries}
    return Worked(
        (
            *(_row(end, known.get(end.serial), settings) for end in ends),
            *_not_mounted(timelines.values(), makings(log), settings),
        ),
        tuple(GroupLives(group, _censored(group, known)) for group in ledger.groups),
        ledger.comparisons,
        _reasons(ledger.entries),
        tuple(
            _cost(design, ledger.entries) for design in sorted({one.life.design for one in known.values() if one.bill})
        ),
        tuple(upto.items()),
        sum(end.serial not in known and end.shots_made > 0 for end in ends),
        tuple(lives_counted(log).items()),
    )


def _censored(group: Group, known: Mapping[str, LedgerEntry]) -> tuple[int, ...]:
    lives = [known[serial].life for serial in group.serials if serial in known]
    return tuple(sorted(life.sound for life in lives if not life.failed))


def _row(end: InsertEnd, entry: LedgerEntry | None, settings: Settings) -> LedgerRow:
    design = settings.designs.get(end.design)
    mounted = max(end.stays, key=lambda stay: stay.mounting.came).end == inf
    life, bill = (None, None) if entry is None else (entry.life, entry.bill)
    gone = None if life is None else life.failed
    # an insert beyond the newest shots was not worked out: all that is known of it is where it is
    state = ("still mounted" if mounted else "taken out") if life is None else life_end(life)
    return LedgerRow(
        end.serial,
        end.design,
        end.half,
        end.print_batch,
        design.resin_family if design is not None else "",
        "" if entry is None else entry.material,
        end.stays[-1].mounting.press,
        end.first,
        end.shots_made,
        None if life is None else life.sound,
        gone,
        state if end.shots_made else "still mounted, no shot yet" if mounted else "taken out, no shot made",
        "" if life is None else life_text(life),
        "" if mounted else why_out(end.stays[-1].reason, end.stays[-1].replaced_by),
        None if bill is None else bill.per_accepted,
        None if bill is None else bill.per_accepted_if_held_bad,
    )


def _not_mounted(timelines: Iterable[Timeline], made: Mapping[str, Making], settings: Settings) -> list[LedgerRow]:
    """Return the inserts that were made and never mounted; single-use pieces that wait in a queue are none."""
    met: set[str] = set()
    for timeline in timelines:
        for stay in timeline.stays:
            met.add(stay.mounting.insert.serial)
            met.update(one.serial for one in timeline.queue(stay) or ())
    found = []
    for one in made.values():
        if one.serial not in met:
            design = settings.designs.get(one.design)
            resin = design.resin_family if design is not None else ""
            about = (one.serial, one.design, "", one.print_batch, resin, "", "", None, 0, None, None)
            found.append(LedgerRow(*about, "not mounted yet", "", "", None, None))
    return found


def _reasons(entries: Sequence[LedgerEntry]) -> tuple[Reason, ...]:
    """Return why inserts came out, the commonest reason first."""
    out = [(_reason(one.life), one.life.failed) for one in entries if not one.life.mounted]
    shown = {text.casefold(): text for text, _ in reversed(out)}
    counted = Counter(text.casefold() for text, _ in out)
    gone_off = Counter(text.casefold() for text, gone in out if gone)
    return tuple(Reason(shown[key], n, gone_off[key]) for key, n in counted.most_common())


def _reason(life: Life) -> str:
    replaced = "replaced by the next insert, " if life.replaced_by else ""
    return life.reason.strip() or f"{replaced}no reason entered"


def _cost(design: str, entries: Sequence[LedgerEntry]) -> CostRow:
    mine = [(one, one.bill) for one in entries if one.life.design == design and one.bill is not None]
    bills: list[Bill] = [bill for _, bill in mine]
    accepted = sum(one.parts.open + one.parts.released for one, _ in mine)
    held, scrapped = sum(one.parts.held for one, _ in mine), sum(one.parts.scrapped for one, _ in mine)
    total, feared = sum(bill.total for bill in bills), sum(bill.late_find_if_held_bad for bill in bills)
    return CostRow(
        design,
        len(mine),
        accepted,
        held,
        scrapped,
        sum(bill.part for bill in bills),
        sum(bill.insert for bill in bills),
        sum(bill.changeover for bill in bills),
        sum(bill.late_find for bill in bills),
        total / (accepted + held) if accepted + held else None,
        (total + feared) / accepted if accepted else None,
    )
