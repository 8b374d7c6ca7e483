"""Whatever comes first at the edge and whatever the clocks say: every pairing of what is entered at both ends.

Each pairing has a press of its own in one log. The copy at the centre is played by the link that it had.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta

import pytest

from shotlog.clock import iso_utc
from shotlog.parts.part import Part
from shotlog.records import Gap, Insert, Mounting, Signature
from shotlog.settings import DesignSettings
from shotlog.store.asked.entries_made import made_entry
from shotlog.store.centre.entered import WaitingEntry
from shotlog.store.centre.taking import Taken
from shotlog.store.centre.taking import take as take_from
from shotlog.store.inserts.entries import note
from shotlog.store.log.identity import Head, read_head
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.signed import at_this_computer
from shotlog.store.parts.dispositions import enter_decision, part_standings
from shotlog.store.parts.inspections import inspect
from shotlog.store.undo import take_back
from shotlog.wording.waiting import newer_said
from shotlog.wording.who import who_said
from tests.made_shots import START, moulded, shot, shots

MR = Signature("m.roth", "quality", "page", "10.0.0.7", "MR")
"""Who enters at the centre; KB enters at the edge."""

FIRST, MIDDLE, LAST, NEWEST = 10, 15, 20, 30
"""What the centre decides on are the parts of shots `FIRST` to `LAST`, what it looks at is that of `MIDDLE`."""

HOURS = (-9, 0, 9)
"""By how much the clock of the centre is off."""


def parts(press: str, first: int, last: int) -> list[Part]:
    return [Part(press, shot) for shot in range(first, last + 1)]


def decided(log: Log, press: str, first: int, last: int, decision: str) -> int:
    reason = "" if decision == "held" else "looked at"
    made = enter_decision(log, parts(press, first, last), decision, moulded(300), reason=reason, initials="KB")
    return made[0].entry_id


def inspected(log: Log, press: str, first: int, finding: str) -> int:
    return inspect(log, Part(press, first), moulded(300), finding=finding, initials="KB").entry_id


def noted(log: Log, press: str, first: int, kind: str, text: str) -> int:
    return note(log, press, kind, text, moulded(300), at_shot=first, initials="KB").entry_id


def taken_back(log: Log, table: str, number: int) -> None:
    take_back(log, table, number, moulded(300), "wrong part", "KB")


Edge = Callable[[Log, str, int, int], object]

AT_EDGE: dict[str, Edge] = {
    "hold": lambda log, press, first, last: decided(log, press, first, last, "held"),
    "release": lambda log, press, first, last: decided(log, press, first, last, "released"),
    "scrap": lambda log, press, first, last: decided(log, press, first, last, "scrapped"),
    "inspection, fine": lambda log, press, first, last: inspected(log, press, last, ""),
    "inspection, bad": lambda log, press, first, last: inspected(log, press, last, "flash"),
    "finding": lambda log, press, first, last: noted(log, press, last, "finding", "crack"),
    "hold taken back": lambda log, *about: taken_back(log, "dispositions", decided(log, *about, "held")),
}  # fmt: skip
"""What people enter at the edge about the last of some parts at least."""

ALSO: dict[str, Edge] = {
    "release taken back": lambda log, *about: taken_back(log, "dispositions", decided(log, *about, "released")),
    "inspection, fine, taken back": lambda log, press, first, last: taken_back(
        log, "inspections", inspected(log, press, last, "")
    ),
    "inspection, bad, taken back": lambda log, press, first, last: taken_back(
        log, "inspections", inspected(log, press, last, "flash")
    ),
    "finding taken back": lambda log, press, first, last: taken_back(
        log, "events", noted(log, press, last, "finding", "crack")
    ),
    "found sound": lambda log, press, first, last: noted(log, press, last, "sound", "R. K., gate"),
}  # fmt: skip
"""What they enter seldom."""

AGAINST = {"hold", "scrap", "inspection, bad", "finding", "release taken back", "inspection, fine, taken back"}
"""What of it speaks against letting those parts go."""

BESIDE: dict[str, Edge] = {
    "lot": lambda log, press, first, last: noted(log, press, last, "lot", "4711"),
    "note of no damage": lambda log, press, first, last: noted(log, press, last, "note", "vents cleaned"),
    "shots": lambda log, press, first, last: log.append(shots(NEWEST + 1, NEWEST + 5, press)),
}
"""What is nothing about how parts stand."""

AT_CENTRE = ("hold", "release", "scrap", "inspection, fine", "inspection, bad", "finding", "take the hold back",
             "take the release back", "take the inspection back", "take the finding back")  # fmt: skip

LETS_GO = {"release", "take the hold back", "take the inspection back", "take the finding back"}

MADE_BEFORE = {"take the hold back": "hold", "take the release back": "release",
               "take the inspection back": "inspection, bad", "take the finding back": "finding"}  # fmt: skip


def said(press: str, what: str, hours: float, taken: Taken | None = None) -> list[dict[str, object]]:
    """What waits at the centre, about the parts of some shots of a press."""
    time = iso_utc(moulded(400) + timedelta(hours=hours))
    common: dict[str, object] = {"press": press, "time": time, "initials": "MR"}
    if taken is not None:
        table, _, number = next(one for one in taken.entries if not one.startswith("judgings")).partition(":")
        return [{"table": "corrections", "entry": table, "entry_id": int(number), "reason": "wrong", **common}]
    decisions = {"hold": "held", "release": "released", "scrap": "scrapped"}
    if what in decisions:
        row = {"first": FIRST, "last": LAST, "cavity": 1, "decision": decisions[what], "reason": "the copy says so"}
        return [{"table": "dispositions", **row, **common}]
    if what == "finding":
        return [{"table": "events", "at_shot": MIDDLE, "kind": "finding", "text": "crack", "half": None, **common}]
    row = {"shot": MIDDLE, "cavity": 1, "quantity": "look", "value": None, "low": None, "high": None, "unit": ""}
    row |= {"given": "", "finding": "" if what == "inspection, fine" else "burn", "half": "", "instrument": ""}
    return [{"table": "inspections", **row, "inspected": time, **common}]


def entry(n: int, content: list[dict[str, object]], basis: Head) -> WaitingEntry:
    """Return an entry as it waits at the centre."""
    return WaitingEntry(n, f"e{n}", tuple(content), MR, basis, moulded(400), "taking", "", (), None)


def take(log: Log, waiting: WaitingEntry, designs: dict[str, DesignSettings]) -> Taken:
    """Take in an entry of the one centre."""
    return take_from(log, "c0", waiting, designs, newer_said)


class Played:
    """One log of an edge, with a press for each play, and a centre that has some links of it."""

    def __init__(self, log: Log) -> None:
        self.log, self.n = log, 0

    def press(self) -> str:
        """Return a new press with some shots on one insert, all but the last missed, which makes parts all the same."""
        self.n += 1
        name = f"P{self.n}"
        missed = Gap(name, 1, NEWEST - 1, START, "nobody was there")
        self.log.append([Mounting(name, "moving", Insert(f"B-{self.n}"), 1, START), missed, shot(NEWEST, name)])
        return name

    def head(self) -> Head:
        """Return the newest link."""
        with self.log.reading() as connection:
            found = read_head(connection)
        assert found is not None
        return found

    def at_centre(self, press: str, what: str, hours: float, basis: Head, before: Taken | None = None) -> WaitingEntry:
        """Return what somebody enters at the centre."""
        self.n += 1
        return entry(self.n, said(press, what, hours, before), basis)

    def states(self, press: str, first: int = FIRST, last: int = LAST) -> set[str]:
        """Return how some parts stand."""
        return {one.state for one in part_standings(self.log, press, {}, first, last)}


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Played]:
    path = tmp_path_factory.mktemp("rule") / "edge.db"
    with open_log(f"sqlite:///{path.as_posix()}", read_only=False) as log:
        yield Played(log)


def entered(played: Played, press: str, what: str, edge: Edge | None, where: tuple[int, int], known: bool) -> Taken:
    """Play one pairing: the edge enters something about shots `where`, known to the centre or not."""
    hours = HOURS[played.n % 3]
    before = None
    if what in MADE_BEFORE:  # what is to be taken back came from the centre as well, earlier
        before = take(played.log, played.at_centre(press, MADE_BEFORE[what], hours, played.head()), {})
        assert before.entries
    played.log.signature = at_this_computer("command", "KB")
    seen = played.head()
    if edge is not None:
        edge(played.log, press, *where)
    basis = played.head() if known else seen
    return take(played.log, played.at_centre(press, what, hours, basis, before), {})


def about(edge: str, first: int, last: int) -> tuple[int, int]:
    """Return the parts that an entry at the edge is about: what is found wrong is about all that the insert makes."""
    if edge in ("finding", "inspection, bad"):
        return last, NEWEST
    return (last, last) if edge.startswith("inspection, fine") else (first, last)


def let_go(what: str) -> tuple[int, int]:
    """Return the parts that an entry at the centre would let go; none where the first is after the last."""
    if what not in LETS_GO:
        return 1, 0
    return (MIDDLE, NEWEST) if what in ("take the inspection back", "take the finding back") else (FIRST, LAST)


LETTING_GO = [pytest.param(what, marks=() if what in LETS_GO else pytest.mark.long) for what in AT_CENTRE]


def pairings(where: tuple[tuple[int, int], ...]) -> list[object]:
    """Return what is entered at the centre with each `where`; that what lets nothing go always goes in is said once."""
    return [
        pytest.param(what, at, marks=() if what in LETS_GO or at == (FIRST, LAST) else pytest.mark.long)
        for what in AT_CENTRE
        for at in where
    ]


@pytest.mark.parametrize(("what", "where"), pairings(((FIRST, LAST), (LAST, LAST + 4), (1, 2))))
def test_what_the_edge_entered_against_parts_since_keeps_them_from_being_let_go_and_nothing_else(
    played: Played, what: str, where: tuple[int, int]
) -> None:
    for edge, enter in AT_EDGE.items():
        taken = entered(played, played.press(), what, enter, where, known=False)
        (low, high), (first, last) = about(edge, *where), let_go(what)
        refused = edge in AGAINST and max(low, first) <= min(high, last)
        assert bool(taken.refused) == refused, (edge, taken)
        assert bool(taken.entries) != refused


@pytest.mark.parametrize("edge", ALSO)
def test_only_what_speaks_against_parts_keeps_them(played: Played, edge: str) -> None:
    taken = entered(played, played.press(), "release", ALSO[edge], (FIRST, LAST), known=False)
    assert bool(taken.refused) == (edge in AGAINST), taken
    assert ("taken back there since" in taken.refused) == (edge in AGAINST)


@pytest.mark.parametrize("what", LETTING_GO)
def test_what_was_known_at_the_centre_stands_against_nothing(played: Played, what: str) -> None:
    for edge, enter in AT_EDGE.items():
        taken = entered(played, played.press(), what, enter, (FIRST, LAST), known=True)
        assert taken.entries, (edge, taken.refused)


@pytest.mark.parametrize("what", LETTING_GO)
def test_what_says_nothing_of_parts_stands_against_nothing(played: Played, what: str) -> None:
    for edge, enter in BESIDE.items():
        taken = entered(played, played.press(), what, enter, (FIRST, LAST), known=False)
        assert taken.entries, (edge, taken.refused)


def test_a_hold_from_the_centre_holds_the_parts_it_names_and_none_that_were_made_meanwhile(played: Played) -> None:
    press = played.press()
    basis = played.head()
    played.log.append(shots(NEWEST + 1, NEWEST + 5, press))
    assert take(played.log, played.at_centre(press, "hold", 0, basis), {}).entries
    assert played.states(press) == {"held"}
    assert played.states(press, LAST + 1, NEWEST + 5) == {"made"}


def test_the_order_of_the_edges_log_decides_who_said_the_last(played: Played) -> None:
    """A release at the edge that the centre did not know of: its hold goes in later, and holds the parts again."""
    press = played.press()
    basis = played.head()
    played.log.signature = at_this_computer("command", "KB")
    decided(played.log, press, FIRST, LAST, "released")
    assert take(played.log, played.at_centre(press, "hold", -9, basis), {}).entries
    assert played.states(press) == {"held"}
    assert take(played.log, played.at_centre(press, "scrap", -9, basis), {}).entries
    assert played.states(press) == {"scrapped"}


def test_what_waited_at_the_centre_before_was_known_there(played: Played) -> None:
    """Who holds parts there and releases them before the edge was asked, knew of the hold."""
    press = played.press()
    basis = played.head()
    hold, release, blind = (played.at_centre(press, what, 0, basis) for what in ("hold", "release", "release"))
    assert take(played.log, hold, {}).entries
    refused = take(played.log, blind, {}).refused  # made when the edge had the hold, and the centre not yet its row
    assert "were held there since, by MR" in refused
    assert take(played.log, replace(release, waited=(hold.uid,)), {}).entries
    assert played.states(press) == {"released"}
    assert take(played.log, played.at_centre(press, "hold", 0, basis), {}).entries
    other = replace(played.at_centre(press, "release", 0, basis), waited=(hold.uid,))
    assert "were held there since, by MR" in take_from(played.log, "another", other, {}, newer_said).refused


def test_an_entry_goes_in_once_however_often_it_is_asked(played: Played) -> None:
    press = played.press()
    hold = played.at_centre(press, "hold", 0, played.head())
    first = take(played.log, hold, {})
    head = played.head()
    assert take(played.log, hold, {}) == first
    assert played.head() == head


def test_a_log_that_goes_on_otherwise_lets_nothing_go_and_holds_all_the_same(played: Played) -> None:
    press = played.press()
    basis = replace(played.head(), digest="0" * 64)
    assert "goes on otherwise" in take(played.log, played.at_centre(press, "release", 0, basis), {}).refused
    assert take(played.log, played.at_centre(press, "hold", 0, basis), {}).entries


def test_it_is_signed_by_who_made_it_there(played: Played) -> None:
    press = played.press()
    number = int(take(played.log, played.at_centre(press, "hold", 0, played.head()), {}).entries[0].split(":")[1])
    made = made_entry(played.log, "decision", number)
    assert made is not None
    assert made.signature == replace(MR, via="centre")
    assert made.initials == "MR"
    assert who_said(made.who) == "MR, logged in as m.roth, at the centre"


def test_a_shot_noted_as_dry_since_lets_no_other_part_go(played: Played) -> None:
    press = played.press()
    basis = played.head()
    noted(played.log, press, MIDDLE, "dry", "purge")
    assert take(played.log, played.at_centre(press, "hold", 0, basis), {}).entries
    assert played.states(press) == {"held"}
    assert "noted as dry" in take(played.log, played.at_centre(press, "inspection, bad", 0, basis), {}).refused


@pytest.mark.parametrize("said", [
    {"table": "mountings", "press": "P1", "time": "2026-01-05T06:00:00Z"},
    {"table": "events", "press": "P1", "at_shot": 3, "kind": "setup", "text": "hold 350 bar", "half": None,
     "time": "2026-01-05T06:00:00Z", "initials": "MR"},
    {"table": "corrections", "entry": "mountings", "entry_id": 1, "reason": "x", "time": "2026-01-05T06:00:00Z",
     "initials": "MR"},
    {"table": "corrections", "entry": "dispositions", "entry_id": 1, "reason": "x", "time": "2026-01-05T06:00:00Z",
     "initials": "MR"},
    {"table": "events"}, {},
    {"table": "dispositions", "press": "P1", "first": 1, "last": 2**62, "cavity": 1, "decision": "held", "reason": "",
     "time": "2026-01-05T06:00:00Z", "initials": "MR"},
    {"table": "events", "press": "P1", "at_shot": 99, "kind": "finding", "text": "crack", "half": None,
     "time": "2026-01-05T06:00:00Z", "initials": "MR"},
    {"table": "events", "press": "nowhere", "at_shot": 1, "kind": "note", "text": "seen", "half": None,
     "time": "2026-01-05T06:00:00Z", "initials": "MR"},
    {"table": "dispositions", "press": "P1", "first": 1, "last": 3, "cavity": 1, "decision": "held", "reason": "",
     "initials": "MR"},
])  # fmt: skip
def test_the_edge_takes_nothing_else_whatever_a_centre_holds(played: Played, said: dict[str, object]) -> None:
    press = played.press()
    number = decided(played.log, press, FIRST, LAST, "held")
    if said.get("entry") == "dispositions":
        said = said | {"entry_id": number}  # one that the edge made, whatever came before it in the log
    played.n += 1
    taken = take(played.log, entry(played.n, [said], played.head()), {})
    assert taken.refused
    assert not taken.entries
