"""Whether messages get out: how it stands with each receiver and with the broker, and what is told now."""

from datetime import datetime

from dashboard.shared.source import Source
from shotlog.store.asked.cursors import broker_stands
from shotlog.store.asked.telling import ReceiverNow, telling
from shotlog.store.asked.told import spells_now
from shotlog.wording.getting_out import broker_said, idle_said, receiver_said, told_in_short
from shotlog.wording.times import at_time

__all__ = ["messages_told"]


def messages_told(source: Source, now: datetime) -> list[tuple[str, bool]]:
    """Return a sentence for each receiver, and for each state that people are told of; none where nobody is told.

    With each: whether it says that something does not get out. The states come in the order in which they began.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    messages = source.settings.messages
    if messages is None:
        return []
    log = source.reading()
    noted = telling(log, messages.site)
    idle = noted is None or noted.is_idle(now)
    said = [(idle_said("" if noted is None else at_time(noted.time, now)), True)] if idle else []
    if messages.broker is not None:
        broker = broker_stands(log)
        since, why = ("", "") if broker is None else (at_time(broker[0], now), broker[1])
        said.append(
            (
                _sentence(broker_said(messages.broker.shown, since, why, idle)),
                bool(why) or (idle and broker is not None),
            )
        )
    for one in messages.receivers:
        stands = ReceiverNow() if noted is None else noted.receivers.get(one.name, ReceiverNow())
        times = (stands.last, stands.failing_since, stands.next_try)
        last, failing, again = ("" if at is None else at_time(at, now) for at in times)
        words = receiver_said(one.name, last, failing, stands.waits, stands.why, again)
        said.append((_sentence(words), stands.failing_since is not None))
    for state in sorted(spells_now(log, source.presses, messages.site), key=lambda one: one.since):
        seen = state.seen
        by = None if seen is None else (seen.who.initials, at_time(seen.time, now))
        said.append((_sentence(told_in_short(state.said, at_time(state.since, now), by)), False))
    return said


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}"
