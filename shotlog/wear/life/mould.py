"""What is in the mould: which half was changed when, and the print batches of single-use halves."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shotlog.records import HALVES, InForce, LoggedShot, half_judged

__all__ = ["Mould"]


@dataclass
class Mould:
    """Serial and first shot of the reused insert in each half, and the print batch of the others."""

    since: dict[str, tuple[str, int]] = field(default_factory=dict)
    batch: dict[str, str] = field(default_factory=dict)

    def newest(self) -> str:
        """Return the half that was changed last, empty where no reused insert is on record."""
        if len(self.since) == 1:
            return next(iter(self.since))
        return half_judged({half: since for half, (_, since) in self.since.items()})

    def take(self, shot: LoggedShot) -> tuple[Mapping[str, InForce], bool]:
        """Take in the halves of a shot.

        Return the reused inserts in the mould by half, and whether a new print batch of single-use halves began. Where
        no reused one is on record the half has no name, nor its insert.
        """
        changed = False
        for half in HALVES:
            held = shot.halves.get(half)
            if held is None:
                self.since.pop(half, None)
            elif held.single_use:
                self.since.pop(half, None)
                if held.print_batch:
                    changed |= self.batch.get(half, held.print_batch) != held.print_batch
                    self.batch[half] = held.print_batch
            elif self.since.get(half, ("", 0))[0] != held.serial:
                self.since[half] = (held.serial, shot.shot)
        if not self.since:
            return {"": InForce("", next((h.design for h in shot.halves.values()), ""))}, changed
        return {half: shot.halves[half] for half in HALVES if half in self.since}, changed
