"""Whether messages get out: what a receiver took last, since when it takes none, and how it stands with the broker."""

from shotlog.wording.numbers import some
from shotlog.wording.told_about import seen_said, short_of

__all__ = ["broker_said", "idle_said", "receiver_said", "told_in_short"]


def told_in_short(said: str, since: str, seen: tuple[str, str] | None) -> str:
    """Say what people are told of, and who has seen it when, None where nobody has.

    Examples
    --------
    >>> told_in_short("P25: connection lost. Since 14:30.", "14:30", None)
    'told since 14:30: P25: connection lost; not seen yet'
    """
    return f"told since {since}: {short_of(said)}; {seen_said(*seen) if seen else 'not seen yet'}"


def receiver_said(name: str, last: str, failing: str, waits: int, why: str = "", next_try: str = "") -> str:
    """Say whether messages get out to a receiver: `last`: when it took one, `failing`: since when it takes none, `why`.

    Examples
    --------
    >>> receiver_said("mailto", "14:30", "", 0), receiver_said("json", "", "", 0)
    ('messages to mailto: took the last one at 14:30', 'messages to json: none was due yet')
    >>> receiver_said("mailto", "", "14:31", 2)
    'messages to mailto: NOT TAKEN since 14:31, 2 messages wait; tried again until they are taken'
    >>> receiver_said("mailto", "", "14:31", 1, "no answer in time", "14:36")
    'messages to mailto: NOT TAKEN since 14:31 (no answer in time), 1 message waits; the next try is at 14:36'
    """
    took = f"took the last one at {last}" if last else "none was due yet"
    wait = f"{some(waits, 'message')} wait{'s' if waits == 1 else ''}" if waits else ""
    if failing:
        them = "it is" if waits == 1 else "they are"
        again = f"the next try is at {next_try}" if next_try else f"tried again until {them} taken"
        rest = f", {wait}; {again}" if waits else ""
        return f"messages to {name}: NOT TAKEN since {failing}{f' ({why})' if why else ''}{rest}"
    return f"messages to {name}: {took}" + (f", {wait}" if waits else "")


def idle_said(looked: str) -> str:
    """Say that nothing tells people: since when, empty where nothing ever did.

    >>> idle_said("14:30")
    'NOBODY IS TOLD since 14:30: what sends messages is not at work; it runs beside shotlog run'
    """
    since = f"since {looked}" if looked else "yet"
    return f"NOBODY IS TOLD {since}: what sends messages is not at work; it runs beside shotlog run"


def broker_said(broker: str, since: str, why: str, idle: bool = False) -> str:
    """Say how it stands with the broker; `why` it cannot be reached, empty where it is connected.

    `idle`: what sends is not at work, and what was noted last holds no more.

    Examples
    --------
    >>> broker_said("mqtt://hall:1883", "14:30", "")
    'broker mqtt://hall:1883: connected since 14:30'
    >>> broker_said("mqtt://hall:1883", "14:30", "", idle=True)
    'broker mqtt://hall:1883: NOT CONNECTED: what sends messages is not at work; what it misses is sent from the log'
    >>> broker_said("mqtt://hall:1883", "14:30", "connection refused")
    'broker mqtt://hall:1883: NOT CONNECTED since 14:30: connection refused; what it misses is sent from the log'
    """
    if not since:
        return f"broker {broker}: nobody has tried to reach it yet"
    if idle:
        gone = "NOT CONNECTED: what sends messages is not at work"
        return f"broker {broker}: {gone}; what it misses is sent from the log"
    if not why:
        return f"broker {broker}: connected since {since}"
    return f"broker {broker}: NOT CONNECTED since {since}: {why.rstrip('.')}; what it misses is sent from the log"
