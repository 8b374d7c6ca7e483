"""What people were told by messages, when and who took which, and who said at the press that it was seen."""

from collections.abc import Iterator, Sequence
from datetime import tzinfo

from shotlog.report.html import Html, note, section, table
from shotlog.review import Review
from shotlog.store.asked.told import NOTED, ToldOnce
from shotlog.wording.numbers import counted, unbroken
from shotlog.wording.times import moment
from shotlog.wording.who import who_said

__all__ = ["told_section"]

_LISTED = 400
"""Messages listed in one report, the newest; the frame `told` has all (own)."""


def told_section(review: Review, zone: tzinfo) -> Html:
    """Return the section; nothing where nobody was told of anything."""
    told: dict[tuple[str, str, str], list[ToldOnce]] = {}
    for one in sorted(_messages(review.told), key=lambda one: one.time):  # what came together is written down together
        told.setdefault((one.spell, one.phase, one.said), []).append(one)
    shown = list(told.values())[-_LISTED:]
    rows = [(_taken(alike, zone), alike[0].said, _seen(alike[0], zone)) for alike in shown]
    if not rows:
        return Html("")
    left = len(told) - len(shown)
    more = f" The newest {_LISTED}; {counted(left, 'message')} more: the frame told, or review --json." if left else ""
    return section(
        "told",
        "What people were told",
        table(("told", "message", "seen at the press"), rows),
        note(
            "A receiver has taken the message; whether anybody read it there is not known. Seen is of the state that "
            f"the message is about, and stopped further messages of it.{more}"
        ),
    )


def _messages(told: tuple[ToldOnce, ...]) -> Iterator[ToldOnce]:
    """Yield what receivers took, and the beginning of a state of which none took anything."""
    taken = {one.spell for one in told if one.receiver != NOTED}
    for one in told:
        if one.receiver != NOTED or (one.phase == "begins" and one.spell not in taken):
            yield one


def _taken(alike: Sequence[ToldOnce], zone: tzinfo) -> str:
    """Return who took a message, and when; what went to several is one row."""
    return "; ".join(f"{one.receiver or 'nobody took it'}, {unbroken(moment(one.time, zone))}" for one in alike)


def _seen(one: ToldOnce, zone: tzinfo) -> str:
    return "" if one.seen is None else f"{unbroken(moment(one.seen.time, zone))}, {who_said(one.seen.who)}"
