"""The journal: a file that holds what the log would not take, until it does.

It exists for the worst hour, when the disk is full and the power may go next. So its space is taken beforehand: the
file is filled with zeros once, on disk for real, and lines are written into them in place. A batch is acknowledged only
after its line is synchronised, and a line whose batch is not in the log is never written over:

* the head of the file names a *generation*, and every line the generation it was written in;
* lines follow each other; zeros come after the last one;
* when every batch is in the log, the head is written anew with the next generation and synchronised. It lies within one
  sector, which a disk writes whole or not at all. A power cut between the log's commit and this mark delivers batches a
  second time, which their origins make harmless. The head says that lines begin behind the old ones, until these are
  zeros: no new line comes to lie over half an old one, whose rest would look like damage;
* a line that does not read (cut by a power failure, damaged on the disk) hides no other: what lies between two ends of
  lines is read by itself. It is set aside beside the journal, and said. Where the head does not read, every whole line
  counts: most are in the log already, and go in no second time.

On a file system that never writes in place (copy-on-write) or that compresses, the zeros keep no space free; there the
journal belongs on a disk of its own, which the log does not fill.
"""

import hashlib
import json
import logging
import os
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from sqlalchemy.engine import make_url

from shotlog.outputs import sync_folder
from shotlog.records import Shot
from shotlog.store.log.journal_line import Batch, Spooled, line_of, read_line
from shotlog.store.log.journal_note import Note, write_note
from shotlog.store.log.journal_space import LINES_AT, JournalSpace

__all__ = ["Batch", "Damage", "Journal", "Spooled", "Waiting", "journal_path", "spool_path"]

_TAIL = 1 << 16
"""By so many bytes before the end of its lines, at most, a file is known again."""
_PRESS = re.compile(rb'"press": ("(?:[^"\\]|\\.)*")')

logger = logging.getLogger(__name__)


def journal_path(store: str, config: Path, folder: Path | None = None) -> Path:
    """Return where the journal of a log lives: in `folder`, else beside an SQLite file, else beside the configuration.

    Each configuration has its own: two of them may log to one log, and one must not clear what the other keeps. In a
    folder where the journals of several logs may meet, its name tells the log as well.
    """
    beside = _beside(store, config)
    if folder is None:
        return beside.with_name(f"{beside.name}.{config.stem}.journal")
    told = hashlib.blake2b(make_url(store).render_as_string().encode(), digest_size=4).hexdigest()
    return folder / f"{beside.name}.{config.stem}.{told}.journal"


def spool_path(store: str, config: Path) -> Path:
    """Return where releases before this one kept their journal: beside the log, as lines without a checksum."""
    beside = _beside(store, config)
    return beside.with_name(f"{beside.name}.{config.stem}.spool")


def _beside(store: str, config: Path) -> Path:
    url = make_url(store)
    return Path(url.database or "shotlog") if url.get_backend_name() == "sqlite" else config


@dataclass(frozen=True, slots=True)
class Damage:
    """A piece of the journal that does not read: its bytes, and what is wrong with it."""

    piece: bytes
    why: str

    @property
    def origin(self) -> str:
        """What tells this piece from every other, wherever it is met again."""
        return f"set aside:{hashlib.blake2b(self.piece, digest_size=8).hexdigest()}"

    @property
    def presses(self) -> list[str]:
        """The presses that the piece seems to tell of; it is damaged, and may tell wrong."""
        found = set()
        for name in _PRESS.findall(self.piece):
            with suppress(ValueError):
                found.add(str(json.loads(name)))
        return sorted(found - {""})


@dataclass(slots=True)
class Waiting:
    """What a journal holds: how many batches and shots, since when, the last shot of each press; `after` as there.

    `by_press`: how many of the shots are of each.
    """

    batches: int = 0
    shots: int = 0
    since: datetime | None = None
    last: dict[str, Shot] = field(default_factory=dict)
    after: dict[str, tuple[int, int] | None] = field(default_factory=dict)
    by_press: Counter[str] = field(default_factory=Counter)

    def add(self, batch: Batch) -> None:
        """Count one more batch."""
        self.batches += 1
        self.shots += batch.n_shots
        if self.since is None:
            self.since = batch.time
        for record in batch.records:
            if isinstance(record, Shot):
                self.last[record.press] = record
                self.by_press[record.press] += 1
        self.after |= batch.after

    def take(self, batch: Batch) -> None:
        """Count one less."""
        self.batches -= 1
        self.shots -= batch.n_shots
        self.by_press.subtract(record.press for record in batch.records if isinstance(record, Shot))
        self.since = batch.time if self.batches else None


class Journal:
    """The file that holds batches of records until the log takes them; one process writes it.

    Parameters
    ----------
    path
        Of the file. What is set aside lies beside it, with ``.damaged`` after its name.
    reserve
        Bytes kept in reserve for lines.

    Notes
    -----
    The file is read once, line by line, and counted; memory does not grow with what waits.
    """

    def __init__(self, path: Path, reserve: int = 0) -> None:
        self.path = path
        self.damaged = path.with_name(f"{path.name}.damaged")
        self._space = JournalSpace(path, reserve)
        self._looked = False
        self._file: tuple[int, int] | None = None
        self._generation = 1
        self._from = self._end = LINES_AT
        self._newest = (LINES_AT, b"")
        self._waiting = Waiting()
        self._damage: dict[int, Damage] = {}

    def open(self) -> None:
        """Make the file where there is none.

        Raises
        ------
        OSError
            The file cannot be read or made.
        """
        self._look()
        if self._space.size() == 0:
            self._space.mark(self._generation)
            self._file = self._space.identity()

    def reserve(self) -> None:
        """Take the space that is to be kept for lines.

        Raises
        ------
        OSError
            There is no room for all of it; what there was is kept, and used.
        """
        self.open()
        self._space.fill()

    @property
    def reserved(self) -> int:
        """Bytes of lines that can still be written into space kept for them."""
        self._look()
        return max(0, self._space.size() - self._end)

    @property
    def waiting(self) -> Waiting:
        """What is in the journal and, as far as is known, not in the log.

        Raises
        ------
        OSError
            The file cannot be read.
        """
        self._look()
        return self._waiting

    @property
    def damage(self) -> list[Damage]:
        """The pieces that do not read, in their order."""
        self._look()
        return [self._damage[at] for at in sorted(self._damage)]

    @property
    def is_damaged(self) -> bool:
        """Whether a piece was met that does not read."""
        return bool(self._damage)

    def append(self, batch: Batch) -> None:
        """Add a batch; returns after it is on disk.

        Raises
        ------
        OSError
            The file cannot be written. The batch does not count as added, and the next is written in its place.
        """
        self._look()
        if self._space.size() == 0:
            # while its folder is away no file can be made: what waits in it comes back with it, and goes on to count
            self._space.mark(self._generation)
            if self._waiting.batches:
                logger.error("%s is gone, and %d shots in it with it", self.path, self._waiting.shots)
            self._begin(self._generation)
            self._file = self._space.identity()
            with suppress(OSError):
                self._space.fill()
        line = line_of(batch, self._generation)
        self._space.write(self._end, line)
        self._end += len(line)
        self._newest = (self._end, line[-_TAIL:])
        self._waiting.add(batch)

    def batches(self) -> Iterator[Batch]:
        """Yield every batch that waits, oldest first.

        Raises
        ------
        OSError
            The file cannot be read.
        """
        self._look()
        for _, batch in self._read(self._from):
            yield batch

    def note(self, note: Note, durable: bool = True) -> None:
        """Write down how things stand, for a start without the log and for those who only read.

        Raises
        ------
        OSError
            The file cannot be written.
        """
        write_note(self.path, note, durable)

    def hand_over(self) -> Iterator[Batch]:
        """Yield as `batches` does; one after which the next is asked for waits no longer."""
        self._look()
        for end, batch in self._read(self._from):
            yield batch
            self._from = end
            self._waiting.take(batch)

    def set_aside(self, more: Iterable[Damage] = ()) -> list[Damage]:
        """Write the pieces that do not read into a file beside the journal; return those it did not hold yet.

        `more`: what is to be set aside besides.

        Raises
        ------
        OSError
            That file cannot be written; the pieces stay where they are.
        """
        damage = [*self.damage, *more]
        kept = self.damaged.read_bytes() if damage and self.damaged.exists() else b""
        new = [one for one in damage if one.piece not in kept]
        if new:
            with self.damaged.open("ab") as file:
                file.writelines(one.piece + b"\n" for one in new)
                file.flush()
                os.fsync(file.fileno())
            sync_folder(self.damaged.parent)
        return new

    def clear(self) -> None:
        """Forget every batch, durably, and keep the space. What does not read is set aside first.

        Raises
        ------
        OSError
            That could not be written; what waited still does.
        """
        self._look()
        if self._space.size():
            self.set_aside()
            end = max(self._end, LINES_AT)
            self._space.mark(self._generation + 1, end)
            self._begin(self._generation + 1, end)
            self._space.wipe(end)
            self._space.mark(self._generation)
            self._begin(self._generation)

    def take_over(self, other: "Journal") -> None:
        """Add the batches of another journal, of an earlier release or from where this one lay before; then it is gone.

        Raises
        ------
        OSError
            One of the two cannot be read or written. What is in both by then is stored once all the same.
        """
        for batch in other.batches():
            self.append(batch)
        other.set_aside()
        other.path.unlink()

    def _begin(self, generation: int = 1, lines_at: int = LINES_AT) -> None:
        self._generation = generation
        self._from = self._end = lines_at
        self._newest = (lines_at, b"")
        self._waiting, self._damage = Waiting(), {}

    def _look(self) -> None:
        """Read the file, once: what waits, where the lines end, what does not read.

        A disk may be pulled and put back. While there is no file, what is known of it stands; another one is looked at
        anew, so that nothing that waits in it is written over.
        """
        file = self._space.identity()
        if self._looked and (file is None or (file == self._file and file[1]) or self._is_the_same()):
            self._file = file or self._file
            return
        if self._looked and self._waiting.batches:
            logger.error("%s is another file now, without the %d shots that waited", self.path, self._waiting.shots)
        self._looked = False
        self._begin(self._space.generation() or 1, self._space.lines_at())
        for end, batch in self._read(self._from):
            self._waiting.add(batch)
            self._end = end
        tail = min(self._end - self._from, _TAIL)
        self._newest = (self._end, self._space.read(self._end - tail, tail))
        self._end = max([self._end, *(at + len(one.piece) + 1 for at, one in self._damage.items())])
        self._looked, self._file = True, file

    def _is_the_same(self) -> bool:
        """Say whether the file that lies there is, by what is in it, the one that was read.

        On some shares no number tells a file from others, or it has another one at every look.
        """
        end, tail = self._newest
        if (self._space.generation() or 1) != self._generation or self._space.read(self._end, _TAIL).strip(b"\0"):
            return False
        return self._space.read(end - len(tail), len(tail)) == tail

    def _read(self, start: int) -> Iterator[tuple[int, Batch]]:
        """Yield each batch of this generation from `start` on, with where its line ends; note what does not read."""
        oldest = self._space.generation() or 0
        for at, piece in self._space.pieces(start):
            try:
                generation, batch = read_line(piece)
            except ValueError as error:
                self._damage[at] = Damage(piece.rstrip(b"\n"), str(error))
                continue
            self._generation = max(self._generation, generation)
            if generation >= oldest:
                yield at + len(piece), batch
