"""What people are told away from the screen: a short sentence first, then since when, where the parts are, what next.

A message tells who stands nowhere near the press, so it names the press, gives times with their offset, and says what
no screen has to say: that it stops coming once somebody has seen it.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime

from shotlog.parts.where import Whereabouts
from shotlog.records import Verdict
from shotlog.wording.blame import headline
from shotlog.wording.left import Left
from shotlog.wording.numbers import label, shots, some
from shotlog.wording.times import ago, clock_time
from shotlog.wording.told_about import short_of
from shotlog.wording.verdicts import told
from shotlog.wording.where import bath_named

__all__ = [
    "NO_SAFETY_DEVICE",
    "STILL",
    "TEST",
    "backup_message",
    "bath_message",
    "call_message",
    "disk_message",
    "hold_message",
    "how_to_stop",
    "limit_message",
    "logger_message",
    "lost_message",
    "over_by_now",
    "over_message",
    "rest_of",
    "short_of",
    "unwritten_message",
    "where_held",
]

NO_SAFETY_DEVICE = (
    "This comes from a logger that only reads. It is no safety device: it stops no press, and that no message comes is "
    "no permission for anything."
)
"""Stands below a mail."""

TEST = (
    "shotlog: a message to try the way",
    "Somebody asked for it at the logger, to see whether messages come here. Nothing has happened at any press.",
)
"""Subject and text of a message that is sent only because somebody asked for it."""

STILL = "Still so. "
"""Begins a message that is sent again."""

_LOOK = "Look before you touch: stop the cycle by the press's own controls, guards as designed"


def rest_of(said: str) -> str:
    """Return what a message says below its subject; all of it where it is no more than that.

    >>> rest_of("P25: connection lost. Since 14:30."), rest_of("hall-2: a disk is low.")
    ('Since 14:30.', 'hall-2: a disk is low.')
    """
    return said.partition(". ")[2] or said


def over_by_now(said: str) -> str:
    """Return the subject of one message that tells that something began and is over.

    >>> over_by_now("P25: connection lost. Since 14:30.")
    'P25: connection lost, and over by now'
    """
    return f"{short_of(said)}, and over by now"


def call_message(press: str, verdict: Verdict, at: datetime, held: str) -> str:
    """Say that the verdict is to watch or to swap, since which shot, and what is held for it."""
    why = _sentence(told(verdict))
    return (
        f"{press}: {headline(verdict)}. {why}Said of shot {verdict.shot}, made at {clock_time(at)}. "
        f"{_sentence(held)}{_LOOK}."
    )


def limit_message(press: str, channel: str, said: str, shot: int, at: datetime, held: str) -> str:
    """Say that a channel is beyond an action limit; `said`: by how much."""
    by = said.removeprefix("limit passed: ")
    return (
        f"{press}: {label(channel)} beyond its action limit. Since shot {shot}, made at {clock_time(at)}"
        f"{f': {by}' if by else ''}. {_sentence(held)}{_LOOK}."
    )


def hold_message(
    press: str, held: Sequence[int], at: datetime, why: str, where: str, look_first: Sequence[int], grows: bool = True
) -> str:
    """Say which parts are held now, why or by whom, where they are, and which to inspect first.

    `grows`: whether further shots may join them, of which no message is sent.

    Examples
    --------
    >>> print(short_of(hold_message("P25", (152, 153, 155), datetime(2026, 1, 5), "", "", (151, 152))))
    P25: parts of 3 shots held, shots 152 to 153, 155
    """
    spans = ", ".join(shots(first, last) for first, last in runs_of(held))
    word = "shot" if len(held) == 1 else "shots"
    first = f"; inspect {' and '.join(str(shot) for shot in look_first)} first" if look_first else ""
    more = "; further shots may join without another message, see Parts and baths" if grows else ""
    return (
        f"{press}: parts of {some(len(held), 'shot')} held, {word} {spans}. "
        f"Since {clock_time(at)}{f': {why}' if why else ''}. {_sentence(where)}Put them aside{first}{more}."
    )


def where_held(known: Iterable[Whereabouts], n_parts: int) -> str:
    """Say where held parts are, as far as anybody said.

    Examples
    --------
    >>> at = datetime(2026, 1, 5)
    >>> where_held([Whereabouts("in bath", "B1", at, None), Whereabouts("placed", "bag-7", at, None)], 5)
    'of these 1 in bath B1, 1 in bag-7; of 3 nobody has said where they are'
    >>> where_held([], 2)
    'nobody has said where they are'
    """
    counts = Counter(f"in {bath_named(one.name)}" if one.how == "in bath" else _placed(one) for one in known)
    if not counts:
        return "nobody has said where they are"
    rest = n_parts - sum(counts.values())
    said = ", ".join(f"{n} {place}" for place, n in counts.items())
    return f"of these {said}" + (f"; of {rest} nobody has said where they are" if rest > 0 else "")


def _placed(one: Whereabouts) -> str:
    return f"out of {bath_named(one.name)}" if one.how == "out of bath" else f"in {one.name}"


def lost_message(press: str, at: datetime, detail: str, last_shot: int | None) -> str:
    """Say that a press does not answer."""
    shot = "" if last_shot is None else f", after shot {last_shot}"
    return (
        f"{press}: connection lost. Since {clock_time(at)}{shot}: {_closed(detail)} What it makes meanwhile may be "
        "missed, and is counted; the logger goes on trying. Look at the press's interface, the cable and the switch."
    )


def logger_message(site: str, at: datetime, why: str, presses: Sequence[str], is_dead: bool = True) -> str:
    """Say that the logger is dead, or that it does not read some presses."""
    short = "the logger is dead" if is_dead else f"{', '.join(presses)} not read"
    return (
        f"{site}: {short}. Since {clock_time(at)}: {_closed(why)} Nothing is logged of "
        f"{', '.join(presses) or 'anything'}. Look on the logger's computer whether it comes back by itself, else "
        "start shotlog run again. A press goes on without it."
    )


def unwritten_message(site: str, at: datetime, why: str, waits: str) -> str:
    """Say that the log cannot be written; `waits`: what is said of the shots that wait."""
    return (
        f"{site}: the log cannot be written. Since {clock_time(at)}: {_closed(why or 'it is out of reach')} "
        f"{_sentence(waits)}"
    ).rstrip()


def disk_message(site: str, said: str) -> str:
    """Say that a disk is low; `said`: how much room there is."""
    return f"{site}: a disk is low. {_sentence(said)}".rstrip()


def bath_message(bath: str, n_parts: int, presses: Sequence[str], due: datetime) -> str:
    """Say that parts should be out of a bath."""
    named = bath_named(bath)
    return (
        f"{named[:1].upper()}{named[1:]}: {some(n_parts, 'part')} overdue. Due since {clock_time(due)}, of "
        f"{', '.join(presses)}. Take them out with goggles, face shield, gloves and apron, rinse them, and enter it."
    )


def backup_message(site: str, said: str) -> str:
    """Say that no backup is made."""
    return f"{site}: no backup. {_sentence(said)}".rstrip()


def over_message(
    begun: str,
    about: str,
    press: str | None,
    began: datetime,
    ended: datetime,
    became: str = "",
    swapped: bool = False,
    joined: bool = False,
    left: Left | None = None,
) -> str:
    """Say that a state is over: when, what it was, and what is `left` of it: the insert is in, parts are held.

    `joined`: held parts are held on, as part of another hold.

    Examples
    --------
    >>> at = datetime(2026, 1, 5)
    >>> said = over_message("P25: connection lost. Since 06:00.", "lost", "P25", at, at.replace(second=7))
    >>> short_of(said), said.partition(", ")[2]
    ('P25: connection back', 'after 7 s. What was told before: P25: connection lost.')
    >>> left = Left(("B-11, moving half",), 3, "put them aside: shots 3 to 5")
    >>> print(short_of(over_message("P25: Watch. Why.", "watch", "P25", at, at, left=left)))
    P25: nothing is called any more, but B-11, moving half, is still in, and 3 parts stay held
    """
    seconds = max(0.0, (ended - began).total_seconds())
    # an age that is shown anew may be rough; this stays as it was sent, and "after 0 s" would be no time at all
    what, lasted = _OVER[about], ago(seconds) if seconds >= 60 else f"{seconds:.2g} s"
    if became:
        what = f"{about} has become {became}"
    elif joined:
        what = "these parts are held with others now, or for another reason"
    elif swapped:
        what = "another insert is in the mould"
    short = short_of(begun)
    place = press or short.partition(":")[0]
    stays, more = ("", "") if left is None else (left.in_short, left.in_full)
    more = f" {more}" if more else ""
    return f"{place}: {what}{stays}. Since {clock_time(ended)}, after {lasted}.{more} What was told before: {short}."


_OVER = {
    "watch": "nothing is called any more",
    "swap": "nothing is called any more",
    "hold": "no part of these is held any more",
    "limit": "within its action limit again",
    "lost": "connection back",
    "logger": "the logger is at work again",
    "log": "the log is written again",
    "disk": "there is room on the disk again",
    "bath": "nothing is overdue there any more",
    "backup": "a backup was made again",
}


def how_to_stop(press: str | None, about: str) -> str:
    """Say how further messages of a state are stopped.

    Examples
    --------
    >>> how_to_stop(None, "logger")
    'shotlog acknowledge CONFIG --about logger --initials XY: then no more is sent of it until it is over.'
    """
    word = f"shotlog acknowledge CONFIG {press or ''} --about {about} --initials XY".replace("  ", " ")
    page = "" if about == "logger" else "Touch Seen at the press, or "  # with the logger its pages are gone
    return f"{page}{word}: then no more is sent of it until it is over."


def runs_of(numbers: Sequence[int]) -> list[tuple[int, int]]:
    """Return the unbroken runs of numbers in order, each by its first and last.

    >>> runs_of((1, 2, 4))
    [(1, 2), (4, 4)]
    """
    found: list[tuple[int, int]] = []
    for one in numbers:
        if found and one == found[-1][1] + 1:
            found[-1] = found[-1][0], one
        else:
            found.append((one, one))
    return found


def _closed(text: str) -> str:
    """Return a text with the mark that closes it, one of its own or a full stop.

    >>> _closed("no answer"), _closed("may it be read?")
    ('no answer.', 'may it be read?')
    """
    plain = text.strip().rstrip(".")
    return plain if plain.endswith(("?", "!")) else f"{plain}."


def _sentence(text: str) -> str:
    """Return a text as a sentence with a blank behind it, nothing for none."""
    plain = text.strip().rstrip(".")
    return f"{plain[0].upper()}{plain[1:]}. " if plain else ""
