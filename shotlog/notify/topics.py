"""The topics of MQTT that what a press brings is sent under: ``shotlog/<site>/<press>/<what>``. Pure."""

import re
from collections.abc import Sequence

from shotlog.errors import UsageError

__all__ = ["all_below", "level", "refuse_alike", "topic"]

_NOT_IN_A_LEVEL = re.compile(r"[+#/\x00-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
"""What parts levels, stands for several of them, or may be refused by a broker (MQTT 3.1.1, 1.5.3 and 4.7)."""


def level(name: str) -> str:
    """Return a name as a level of a topic, each character that may not stand in one as ``_``.

    Examples
    --------
    >>> level("press 1/2 #3")
    'press 1_2 _3'
    """
    return _NOT_IN_A_LEVEL.sub("_", name)


def topic(site: str, press: str | None, what: str) -> str:
    """Return a topic; of the logger itself where there is no press.

    Examples
    --------
    >>> topic("hall-2", "P25", "verdict"), topic("hall-2", None, "online")
    ('shotlog/hall-2/P25/verdict', 'shotlog/hall-2/online')
    """
    return "/".join(["shotlog", level(site), *([] if press is None else [level(press)]), what])


def all_below(site: str, press: str) -> str:
    """Return the topics of a press as people are shown them."""
    return topic(site, press, "{online,link,shot,verdict,...}")


def refuse_alike(presses: Sequence[str]) -> None:
    """Refuse presses whose names are one level.

    Raises
    ------
    UsageError
        Two of them are; says which.
    """
    first: dict[str, str] = {}
    for press in presses:
        other = first.setdefault(level(press), press)
        if other != press:
            raise UsageError(
                f"messages.mqtt: given presses {other!r} and {press!r}, whose topics are one ({level(press)}), "
                "allowed: names that differ in more than + # / and what is not printed"
            )
