"""What the log holds beside the shots of a press: connections, faults, weighings, pictures, calls judged again."""

from dataclasses import dataclass
from datetime import datetime

from shotlog.parts.picture import Picture
from shotlog.records import EVER, Fault, Link
from shotlog.review.rejudged import Rejudged, rejudged
from shotlog.store.asked.faults import faults_since
from shotlog.store.asked.history import judged_again_from, judgings
from shotlog.store.asked.links import links
from shotlog.store.log.log import Log
from shotlog.store.parts.pictures import pictures
from shotlog.store.parts.weights import Weighed, weighings_between

__all__ = ["Beside", "read_beside"]


@dataclass(frozen=True, slots=True)
class Beside:
    """Of one press, each in the order it was noted; only the review of a period tells of it."""

    faults: tuple[Fault, ...]
    links: tuple[tuple[Link, float], ...]
    rejudged: tuple[Rejudged, ...]
    weighings: tuple[Weighed, ...]
    pictures: tuple[Picture, ...] = ()


def read_beside(log: Log, press: str, first: int = 0, since: datetime | None = None) -> Beside:
    """Read what lies beside the shots from `first` on; faults since a time, and connections from the first.

    Told is of the calls changed by judging again that reach to shot `first` or later, there may be some before.
    """
    again = judged_again_from(log, press, first)
    return Beside(
        tuple(faults_since(log, press, since)),
        tuple(links(log, press)),
        () if again is None else rejudged(press, judgings(log, press, again)),
        tuple(weighings_between(log, press, first, EVER)),
        tuple(pictures(log, press, first)),
    )
