"""What was offered against what each receiver had: told once, missing, twice."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from tests.faults.messages.receivers import Heard
from tests.faults.messages.shop import Shop

Changes = Counter[tuple[str, str]]
"""About what, and whether it begins or ends."""

_IN_A_TEXT = {
    ("watch", "begins"): r"P1: Watch\. (?!P1)",
    ("watch", "ends"): r"nothing is called any more\b.*?\. Since",
    ("limit", "begins"): r"beyond its action limit\. Since",
    ("limit", "ends"): r"within its action limit again\b.*?\. Since",
    ("hold", "begins"): r"parts of \d+ shots? held, shot.*?\. Since",
    ("logger", "begins"): r"the logger is dead\. Since",
    ("logger", "ends"): r"the logger is at work again\. Since",
    ("log", "begins"): r"the log cannot be written\b.*?\. Since",
    ("log", "ends"): r"the log is written again\. Since",
    ("lost", "begins"): r"connection lost\. Since",
    ("lost", "ends"): r"connection back\. Since",
}
"""How a person knows what a message says; one that tells of a beginning and of its end has both in it."""


@dataclass(frozen=True, slots=True)
class Row:
    """Counts of one receiver in one fault; `delays_s`: from the shot, or the change, to the message."""

    fault: str
    receiver: str
    offered: int
    once: int
    missing: int
    twice: int
    delays_s: tuple[float, ...] = ()
    remark: str = ""

    @property
    def line(self) -> str:
        delays = sorted(self.delays_s)
        told = f"{delays[len(delays) // 2]:8.2f} {delays[-1]:8.2f}" if delays else f"{'':17}"
        counts = f"{self.offered:8} {self.once:6} {self.missing:8} {self.twice:6}"
        return f"{self.fault:44} {self.receiver:16} {counts} {told}  {self.remark}".rstrip()


def counted(fault: str, shop: Shop, offered: Changes) -> list[Row]:
    """Count what each receiver had by now."""
    return [shots_row(fault, shop), mqtt_row(fault, shop, offered), people_row(fault, shop, offered)]


def live(heard: Iterable[Heard], kind: str) -> list[Heard]:
    """Return the documents of a kind as they were sent, without what the broker kept for who comes late."""
    return [one for one in heard if not one.kept and one.topic.rsplit("/", 1)[1] == kind]


def shots_row(fault: str, shop: Shop) -> Row:
    """Hold the shots that were heard against those in the log, by their number and by their id."""
    sent = live(shop.heard(), "shot")
    ids = Counter(one.document["id"] for one in sent)
    numbers = Counter({one.document["id"]: one.document["shot"] for one in sent}.values())
    in_log = shop.logged()
    first: dict[str, Heard] = {}
    for one in sent:
        first.setdefault(one.document["id"], one)
    order = [one.document["shot"] for one in first.values()]
    begun = shop.offered
    remarks = [] if order == sorted(order) else ["out of order"]
    again = sum(ids.values()) - len(ids)
    remarks += [f"{again} with an id heard before"] if again else []
    remarks += (
        [f"{len(set(shop.offered) - set(in_log))} offered and not in the log"]
        if set(shop.offered) - set(in_log)
        else []
    )
    return Row(
        fault, "mqtt shots", len(in_log),
        sum(numbers[shot] == 1 for shot in in_log), sum(numbers[shot] == 0 for shot in in_log),
        sum(numbers[shot] > 1 for shot in in_log),
        tuple(one.at - begun[number] for one in first.values() if (number := one.document["shot"]) in begun),
        ", ".join(remarks),
    )  # fmt: skip


def mqtt_row(fault: str, shop: Shop, offered: Changes) -> Row:
    """Hold the messages that were heard against the changes that were offered; the same id twice is one message."""
    sent = {one.document["id"]: one.document for one in live(shop.heard(), "message")}
    again = len(live(shop.heard(), "message")) - len(sent)
    had = Counter((one["about"], "begins" if one["phase"] == "becomes" else one["phase"]) for one in sent.values())
    return _row(fault, "mqtt messages", offered, had, f"{again} with an id heard before" if again else "")


def people_row(fault: str, shop: Shop, offered: Changes) -> Row:
    had: Changes = Counter()
    unknown = 0
    for one in shop.inbox.taken():
        found = changes_in(one)
        unknown += not found
        had.update(found)
    return _row(fault, "people", offered, had, f"{unknown} of something else" if unknown else "")


def changes_in(message: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Return what a message to people tells."""
    read = f"{message['title']}. {message['message']}"  # the text goes on where the subject ends
    return [what for what, words in _IN_A_TEXT.items() if re.search(words, read, re.DOTALL)]


def _row(fault: str, receiver: str, offered: Changes, had: Changes, remark: str) -> Row:
    known = Counter({what: had[what] for what in offered})
    other = ", ".join(f"{n} {about} {phase}" for (about, phase), n in (had - known).items())
    differing = [
        f"{' '.join(what)}: {had[what]} for {n}" for what, n in offered.items() if had[what] != n
    ]  # fmt: skip
    return Row(
        fault, receiver, offered.total(),
        sum(min(n, had[what]) for what, n in offered.items()),
        sum(max(0, n - had[what]) for what, n in offered.items()),
        sum(max(0, had[what] - n) for what, n in offered.items()),
        remark="; ".join(filter(None, [remark, *differing, other and f"beside: {other}"])),
    )  # fmt: skip
