"""Who tells people: works out what changed, notes it in the log once, and hands each receiver what is due to it.

A change is noted in the log before anybody is told of it, so that it is told after a restart too; that a receiver took
a message is noted once it has. Killed between the two, a message is sent once more when the logger is started again,
and never more than that. While the log cannot be written, and above all then, people are told all the same: what was
noted meanwhile waits here, and goes into the log when it can be written.
"""

import json
import logging
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime

from shotlog.clock import Clock
from shotlog.errors import StoreError
from shotlog.notify.courier import Courier, Parcel
from shotlog.notify.due import Due, Stories
from shotlog.notify.people import Message, Send, sender
from shotlog.notify.press_facts import Passed, look_at_press
from shotlog.notify.said import left_of, over_said, spell_said
from shotlog.notify.shop_facts import Gone, ShopState, logger_states, named_here, shop_states, soaking_now
from shotlog.notify.spells import Known, Spell
from shotlog.settings import ReceiverSettings, Settings
from shotlog.store.asked.judged import press_mark
from shotlog.store.asked.kept import kept_now
from shotlog.store.asked.telling import ReceiverNow, Telling, note_telling, telling
from shotlog.store.asked.told import (
    NOTED,
    ToldRow,
    is_of_site,
    newest_told,
    position_of,
    seen_spells,
    told_rows,
    write_told,
)
from shotlog.store.log.log import Log
from shotlog.wording.messages import STILL, how_to_stop, over_by_now, over_message, rest_of, short_of

__all__ = ["Teller"]

_SHOP_S = 5.0
"""How often the shop, the logger and the connections are looked at; a press at once when something of it came."""
_NOTE_S = 10.0
_PATIENT_S = 30.0
"""How long what is told of a press waits for judging to catch up (own)."""
_PASSED_EVERY = 20
"""Shots after which it is kept how far was looked: what began since is known to the log by then anyhow."""

logger = logging.getLogger(__name__)


class Teller:
    """Tells people of one configuration.

    `log`: hands out the log, open for writing, as it is by now; it raises a StoreError where there is none. `send`:
    makes what sends to a receiver. `threads`: whether each receiver gets a thread of its own; a test sends by hand.
    """

    def __init__(
        self,
        log: Callable[[], Log],
        settings: Settings,
        clock: Clock,
        send: Callable[[ReceiverSettings], Send] = sender,
        threads: bool = True,
    ) -> None:
        if settings.messages is None:
            raise ValueError("a configuration without [messages] tells nobody")
        self._log, self._settings, self._clock = log, settings, clock
        self._site, self._receivers = settings.messages.site, settings.messages.receivers
        self.couriers = {one.name: Courier(one.name, send(one), clock) for one in self._receivers}
        self._stories: Stories | None = None
        self._read = 0
        self._unwritten: list[ToldRow] = []
        self._positions: dict[str, str] = {}
        self._passed: dict[str, Passed] = {}
        self._kept: dict[str, Passed] = {}
        self._since: dict[str, int] = {}
        self._marks: dict[str, object] = {}
        self._behind_since: dict[str, float] = {}
        self._seen: frozenset[str] = frozenset()
        self._shop_at = self._noted_at = -_NOTE_S
        self._noted: Mapping[str, ReceiverNow] | None = None
        if threads:
            for courier in self.couriers.values():
                courier.start()

    def look(self, gone: Gone | None = None) -> list[ToldRow]:
        """Look how things stand, and send what is due; return the changes of state that were new.

        Called about once a second. It never waits for a receiver, and for the log no longer than any who reads it.
        `gone`: that the logger is dead, None where it is at work.
        """
        now = self._clock.now()
        log = self._opened()
        if self._stories is None:
            if log is None:
                return []  # what was told before is not known, and would be told again
            self._begin(log)
        new = self._changes(log, gone, now)
        taken = [row for courier in self.couriers.values() for row in courier.collect()]
        for row in (*new, *taken):
            self._told.add(row)
        self._unwritten += [*new, *taken]
        if log is not None:
            self._write(log, now)
        self._offer(now)
        if log is not None:
            self._note(log, now)
        return new

    def close(self, wait_s: float = 0.0) -> None:
        """End. What is on its way gets so many seconds, and what was taken is noted."""
        for courier in self.couriers.values():
            courier.finish(wait_s)
        log = self._opened()
        self._unwritten += [row for courier in self.couriers.values() for row in courier.collect()]
        if log is not None and self._stories is not None:
            self._positions |= {self._place_of(press): _position(one) for press, one in self._passed.items()}
            self._write(log, self._clock.now())
            self._note(log, self._clock.now())

    @property
    def waits(self) -> bool:
        """Whether a message is still to be taken by somebody."""
        return any(one.standing.waits for one in self.couriers.values())

    @property
    def _told(self) -> Stories:
        if self._stories is None:
            raise RuntimeError("nothing is told before the log was read")
        return self._stories

    def _opened(self) -> Log | None:
        try:
            return self._log()
        except StoreError as error:
            logger.debug("the log cannot be asked: %s", error)
            return None

    def _begin(self, log: Log) -> None:
        """Read what was told before, and since when each receiver is told at all."""
        newest = newest_told(log)
        for receiver in self.couriers:
            kept = position_of(log, f"told {receiver} at {self._site}")
            self._since[receiver] = newest if kept is None else int(kept)
            if kept is None:
                self._positions[f"told {receiver} at {self._site}"] = f"{newest}"
        for press in self._settings.presses:
            kept = position_of(log, self._place_of(press.name))
            self._passed[press.name] = self._kept[press.name] = Passed() if kept is None else _passed(kept)
        before = telling(log, self._site)
        self._noted = None if before is None else before.receivers
        self._stories = Stories()
        self._read_on(log)

    def _read_on(self, log: Log) -> None:
        for row in told_rows(log, self._read):
            self._told.add(row)
            self._read = row.number
        self._seen = frozenset(seen_spells(log))

    def _changes(self, log: Log | None, gone: Gone | None, now: datetime) -> list[ToldRow]:
        new: list[ToldRow] = []
        is_time = self._clock.monotonic() - self._shop_at >= _SHOP_S
        try:
            if log is not None:
                for press in self._settings.presses:
                    new += self._press(log, press.name, is_time, now)
        except StoreError as error:
            logger.debug("the log cannot be asked: %s", error)
        if is_time or gone is not None:
            self._shop_at = self._clock.monotonic()
            new += self._shop(log, gone, now)
        return new

    def _press(self, log: Log, press: str, is_time: bool, now: datetime) -> list[ToldRow]:
        mark = press_mark(log, press)
        is_news = self._marks.get(press) != mark
        if not is_news and not is_time:
            return []
        with log.one_moment():
            return self._looked_at(log, press, mark, is_news, now)

    def _looked_at(self, log: Log, press: str, mark: object, is_news: bool, now: datetime) -> list[ToldRow]:
        known = [Known(name, over) for name, over in self._told.known if self._is_of(name, press)]
        at = self._clock.monotonic()
        patient = at - self._behind_since.get(press, at) < _PATIENT_S
        seen = look_at_press(log, self._settings, press, known, self._passed[press], now, is_news, patient)
        names = {one.name for one in known}
        new = []
        for spell in seen.spells:
            if spell.name not in names:
                new.append(_noted(spell, "begins", spell_said(log, self._settings, spell, now), spell.began))
            if spell.ended is not None and (began := self._said(spell.name, new)) is not None:
                phase = "becomes" if spell.became else "ends"
                new.append(_noted(spell, phase, over_said(log, self._settings, spell, began.said), spell.ended))
        for one in seen.gone:
            if (began := self._told.lasting(one.name)) is not None:
                joined = any(spell.about == "hold" and one.anchor in spell.held for spell in seen.spells)
                said = over_message(
                    began.said,
                    began.about,
                    press,
                    began.time,
                    now,
                    joined=began.about == "hold" and joined,
                    left=left_of(log, self._settings, press, began.about, one.anchor),
                )
                new.append(ToldRow(press, began.about, one.name, "ends", NOTED, said, now))
        self._passed[press] = seen.passed
        if seen.is_whole:
            self._marks[press] = mark
            self._behind_since.pop(press, None)
        else:
            self._behind_since.setdefault(press, at)
        is_decided = seen.passed.decision != self._kept[press].decision
        if (
            new
            or is_decided
            or seen.passed.shot - self._kept[press].shot >= _PASSED_EVERY
            or self._kept[press] == Passed()
        ):
            self._kept[press] = seen.passed
            self._positions[self._place_of(press)] = _position(seen.passed)
        return new

    def _said(self, name: str, new: Sequence[ToldRow]) -> ToldRow | None:
        """Return how a spell began that lasts so far, as the log knows it or as was worked out just now."""
        return next((row for row in new if row.spell == name and row.phase == "begins"), self._told.lasting(name))

    def _shop(self, log: Log | None, gone: Gone | None, now: datetime) -> list[ToldRow]:
        lasting = [name for name, over in self._told.known if not over and is_of_site(name, self._site)]
        states = logger_states(self._settings, self._site, kept_now(self._settings, now), gone, lasting, now)
        looked_at = {"logger", "log", "disk"}
        try:
            if log is not None:
                states += shop_states(log, self._settings, self._site, soaking_now(log), now)
                looked_at |= {"bath", "backup"}
        except StoreError as error:
            logger.debug("the log cannot be asked: %s", error)
        found = named_here(self._site, states, lasting)
        new = [_of_shop(name, one) for name, one in found.items() if name not in lasting]
        for name in lasting:
            began = self._told.lasting(name)
            if name not in found and began is not None and began.about in looked_at:
                said = over_message(began.said, began.about, None, began.time, now)
                new.append(ToldRow(None, began.about, name, "ends", NOTED, said, now))
        return new

    def _write(self, log: Log, now: datetime) -> None:
        try:
            if self._unwritten or self._positions:
                write_told(log, self._unwritten, self._positions, now)
                self._unwritten, self._positions = [], {}
            self._read_on(log)
        except StoreError as error:
            logger.debug("what was told waits, for the log cannot be written: %s", error)

    def _offer(self, now: datetime) -> None:
        own = {name for name, _ in self._told.known if is_of_site(name, self._site)}
        for receiver in self._receivers:
            due = self._told.due(receiver, self._seen, self._since[receiver.name], own, now)
            self.couriers[receiver.name].offer([Parcel(one, _message(one)) for one in due])

    def _note(self, log: Log, now: datetime) -> None:
        """Note how it stands with the receivers, when that is another way than before."""
        stands = {name: one.standing for name, one in self.couriers.items()}
        before = self._noted or {}
        state = {
            name: ReceiverNow(
                one.last or (before[name].last if name in before else None),
                one.failing_since,
                one.waits,
                one.why,
                one.next_try,
            )
            for name, one in stands.items()
        }
        if state == self._noted and self._clock.monotonic() - self._noted_at < 6 * _NOTE_S:
            return
        try:
            note_telling(log, self._site, Telling(now, state))
            self._noted, self._noted_at = state, self._clock.monotonic()
        except StoreError as error:
            logger.debug("the log cannot be written: %s", error)

    def _is_of(self, name: str, press: str) -> bool:
        began = self._told.began(name)
        return began is not None and began.press == press

    def _place_of(self, press: str) -> str:
        return f"states of {press}"


def _noted(spell: Spell, phase: str, said: str, at: datetime) -> ToldRow:
    return ToldRow(spell.press, spell.about, spell.name, phase, NOTED, said, at)


def _of_shop(name: str, state: ShopState) -> ToldRow:
    return ToldRow(None, state.about, name, "begins", NOTED, state.said, state.began)


def _message(due: Due) -> Message:
    """Return what is sent: what began, and what is over of it. What the subject says the text does not say again."""
    if due.over is None and due.began is not None:
        still = STILL if due.phase == "again" else ""
        said = due.began.said
        return Message(short_of(said), f"{still}{rest_of(said)} {how_to_stop(due.press, due.about)}")
    over = "" if due.over is None else due.over.said
    if due.began is None:
        return Message(short_of(over), rest_of(over))
    return Message(over_by_now(due.began.said), f"{due.began.said} {over}")


def _position(passed: Passed) -> str:
    return json.dumps([passed.shot, passed.link, passed.decision])


def _passed(kept: str) -> Passed:
    try:
        return Passed(*(int(number) for number in json.loads(kept)))
    except (ValueError, TypeError):
        return Passed()
