"""What the answers are made from: the review of the presses asked about, and where their parts are."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from shotlog.parts.part import Part
from shotlog.parts.where import Whereabouts
from shotlog.review.chain import PartChain
from shotlog.review.ledger import Ledger
from shotlog.review.press import PressReview
from shotlog.store.parts.places import WhereIs
from shotlog.wording.numbers import some
from shotlog.wording.where import NOWHERE, where_text

__all__ = ["Asked"]


@dataclass(frozen=True, slots=True)
class Asked:
    """The presses asked about at `now`; `chain` reads the chain of a part, `ledger` is None where it is not read."""

    presses: tuple[PressReview, ...]
    now: datetime
    chain: Callable[[Part], PartChain]
    ledger: Ledger | None = None
    _where: dict[str, WhereIs] = field(default_factory=dict)

    def where(self, press: PressReview, first: int, last: int, n: int) -> str:
        """Return where the `n` parts of shots `first` to `last` are, each place with how many."""
        if press.press not in self._where:
            self._where[press.press] = WhereIs(press.places, press.soaks)
        found: dict[Whereabouts, int] = {}
        for where in self._where[press.press].known(press.press, first, last):
            found[where] = found.get(where, 0) + 1
        told = [f"{where_text(where, self.now)}: {some(m, 'part')}" for where, m in found.items()]
        left = n - sum(found.values())
        if not told:
            return NOWHERE
        return "; ".join([*told, *([f"{some(left, 'part')}: {NOWHERE}"] if left > 0 else [])])
