"""Who is told of what, and whether messages get out: what `check` and `status` say of it."""

import sys
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING, Any

from shotlog.clock import SystemClock, iso_utc
from shotlog.extras import has
from shotlog.settings import ReceiverSettings, Settings
from shotlog.wording.getting_out import broker_said, idle_said, receiver_said, told_in_short
from shotlog.wording.messages import TEST
from shotlog.wording.times import clock_time
from shotlog.wording.told_about import ABOUT_WORDS

if TYPE_CHECKING:
    from shotlog.store.asked.telling import Telling
    from shotlog.store.log.log import Log

__all__ = ["doubtful_addresses", "messages_document", "messages_said", "try_messages", "who_is_told"]


def who_is_told(settings: Settings) -> Iterator[str]:
    """Yield who is told of what, a line each."""
    for one in () if settings.messages is None else settings.messages.receivers:
        presses = ", ".join(one.presses)
        again = f", again after {one.repeat_min:g} min until it is seen" if one.repeat_min else ""
        yield f"messages: {one.name} is told of {presses}: {', '.join(ABOUT_WORDS[what] for what in one.about)}{again}"


def doubtful_addresses(settings: Settings) -> Iterator[str]:
    """Yield which address is none, or none that messages can be sent to; nothing is sent."""
    if settings.messages is None or not settings.messages.receivers or not has("messages"):
        return
    from shotlog.errors import ShotlogError
    from shotlog.notify.people import address_of, is_known

    for one in settings.messages.receivers:
        try:
            known = is_known(address_of(one))
        except ShotlogError as error:
            if one.address_file is not None and one.address_file.is_file():
                yield str(error)  # one that is not there is among the cautions
            continue
        if not known:
            yield f"messages: the address of {one.name} is of no service that is known, or lacks something it needs"


def try_messages(settings: Settings) -> int:
    """Send one message to each receiver, and knock at the broker, because somebody asked; return how many failed."""
    from shotlog.notify.not_taken import NotTaken
    from shotlog.notify.people import Message, sender

    receivers = () if settings.messages is None else settings.messages.receivers
    failed = 0
    for one in receivers:
        try:
            sender(one)(Message(*TEST))
            print(f"messages: {one.name} took the message")
        except NotTaken as error:
            failed += 1
            print(f"messages: {one.name} did NOT take the message: {error.why}")
    broker = None if settings.messages is None else settings.messages.broker
    if broker is not None:
        from shotlog.notify.broker_tried import why_not_in

        why = why_not_in(broker)
        failed += bool(why)
        print(f"messages: broker {broker.shown} {f'does NOT let us in: {why}' if why else 'lets us in'}")
    if not receivers and broker is None:
        print("shotlog check: there is nobody to tell: neither a receiver nor a broker in [messages]", file=sys.stderr)
        return 1
    return failed


def messages_document(log: "Log", settings: Settings) -> dict[str, Any] | None:
    """Return what is told now and whether it gets out, None where nobody is to be told.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    from shotlog.store.asked.cursors import broker_stands
    from shotlog.store.asked.telling import telling
    from shotlog.store.asked.told import spells_now

    if settings.messages is None:
        return None
    site = settings.messages.site
    noted, states = telling(log, site), spells_now(log, [one.name for one in settings.presses], site)
    broker, stands = settings.messages.broker, broker_stands(log)
    since, why = ("", "") if stands is None else (clock_time(stands[0]), stands[1])
    idle = noted is None or noted.is_idle(SystemClock().now())
    return {
        "site": site,
        "broker": None
        if broker is None
        else {
            "address": broker.shown,
            "since": None if stands is None else iso_utc(stands[0]),
            "connected": stands is not None and not why and not idle,
            "why": why,
            "said": broker_said(broker.shown, since, why, idle),
        },
        "idle": idle,
        "looked": None if noted is None else iso_utc(noted.time),
        "receivers": [_receiver(one, noted) for one in settings.messages.receivers],
        "states": [
            {
                "press": one.press,
                "about": one.about,
                "since": iso_utc(one.since),
                "text": one.said,
                "seen": None
                if one.seen is None
                else {"number": one.seen.number, "by": one.seen.who.initials, "time": iso_utc(one.seen.time)},
            }
            for one in states
        ],
    }


def _receiver(receiver: ReceiverSettings, noted: "Telling | None") -> dict[str, Any]:
    stands = None if noted is None else noted.receivers.get(receiver.name)
    last, failing = (None, None) if stands is None else (stands.last, stands.failing_since)
    waits, why, again = (0, "", None) if stands is None else (stands.waits, stands.why, stands.next_try)
    return {
        "name": receiver.name,
        "about": list(receiver.about),
        "last": None if last is None else iso_utc(last),
        "failing_since": None if failing is None else iso_utc(failing),
        "waits": waits,
        "why": why,
        "next_try": None if again is None else iso_utc(again),
        "said": receiver_said(receiver.name, clock_time(last), clock_time(failing), waits, why, clock_time(again)),
    }


def messages_said(document: dict[str, Any] | None) -> Iterator[str]:
    """Yield the lines of `status`: whether messages get out, and what is told now."""
    if document is None:
        return
    if document["broker"] is not None:
        yield document["broker"]["said"]
    for one in document["receivers"]:
        yield one["said"]
    if document["idle"]:
        yield idle_said(clock_time(None if document["looked"] is None else datetime.fromisoformat(document["looked"])))
    for state in document["states"]:
        seen = state["seen"]
        by = None if seen is None else (seen["by"], clock_time(datetime.fromisoformat(seen["time"])))
        yield told_in_short(state["text"], clock_time(datetime.fromisoformat(state["since"])), by)
