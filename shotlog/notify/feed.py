"""What came into a log as documents, in its order: what is sent to a broker and what the live feed writes, alike.

An entry that people make is no document of its own. Where it may change what stands at its press, as a finding does and
an inspection, the newest verdict of that press comes once more, with what stands now. Whether it comes is asked of the
log alone, and never of what was handed out before: so whoever goes on from anywhere is told just the rest.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from shotlog.notify.documents import Document, document
from shotlog.parts.found import FoundWrong
from shotlog.settings import DesignSettings
from shotlog.store.asked.came import Bearing, Came, Following, VerdictMade
from shotlog.store.asked.log_place import Place
from shotlog.store.asked.told import NOTED, ToldRow, is_of_site
from shotlog.store.log.log import Log
from shotlog.store.parts.found import found_on

__all__ = ["Feed", "Item"]


@dataclass(frozen=True, slots=True)
class Item:
    """A document of a press, None for one of the logger itself, and the place in the log behind it."""

    place: Place
    press: str | None
    document: Document


class Feed:
    """What came into one log of some presses, with what is told at a `site`; None: that is left out."""

    def __init__(
        self, log: Log, presses: Collection[str], designs: Mapping[str, DesignSettings], site: str | None = None
    ) -> None:
        self._log, self._presses, self._designs, self._site = log, presses, designs, site
        self._following = Following(log)
        self._found: dict[str, list[FoundWrong]] = {}

    def after(self, place: Place, most: int = 100) -> tuple[list[Item], Place]:
        """Return what came after a place, of `most` rows at most, and the place to go on from.

        Raises
        ------
        StoreError
            The log cannot be read now.
        """
        came, behind = self._following.after(place, most)
        self._found.clear()
        items: list[Item] = []
        for one in came:
            items += self._renewed(one.place, one.record) if isinstance(one.record, Bearing) else self._items(one)
        return items, behind

    def standing(self, press: str) -> list[Item]:
        """Return the connection to a press and its verdict as they stand.

        Raises
        ------
        StoreError
            The log cannot be read now.
        """
        self._found.clear()
        return [item for one in self._following.standing(press) for item in self._items(one)]

    def _items(self, came: Came) -> list[Item]:
        record = came.record
        if isinstance(record, ToldRow):
            return [Item(came.place, record.press, document(came.place, record))] if self._is_ours(record) else []
        if isinstance(record, Bearing):
            return []
        press = record.verdict.press if isinstance(record, VerdictMade) else record.press
        if press not in self._presses:
            return []
        found = self._found_on(press) if isinstance(record, VerdictMade) else ()
        return [Item(came.place, press, document(came.place, record, found))]

    def _is_ours(self, row: ToldRow) -> bool:
        """Whether a row is a change of state as such, and not that somebody was told of it, and of this site."""
        if row.receiver != NOTED or self._site is None:
            return False
        return row.press in self._presses or (row.press is None and is_of_site(row.spell, self._site))

    def _renewed(self, place: Place, entry: Bearing) -> list[Item]:
        """Return the newest verdict of a press once more, where an entry may have changed what stands beside it.

        One that came later than the entry is told by itself, and one that waits to be made again is not told. Where
        nothing was ever found wrong, and nothing was taken back, there is nothing that could have changed.
        """
        press = entry.press
        if press not in self._presses or not (entry.takes_back or self._found_on(press)):
            return []
        return [
            Item(place, press, document(place, replace(one.record, again=True), self._found_on(press)))
            for one in self._following.standing(press)
            if isinstance(one.record, VerdictMade) and one.record.newest and one.place < place
        ]

    def _found_on(self, press: str) -> list[FoundWrong]:
        if press not in self._found:
            self._found[press] = found_on(self._log, press, self._log.timeline(press), self._designs)
        return self._found[press]
