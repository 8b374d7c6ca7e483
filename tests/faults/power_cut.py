"""What a power cut may leave of files, worked out from what a process did to them.

The model: what was synchronised stands. Of what was written, cut short or renamed since the last synchronisation of
that file, any part may have reached the disk, in any order, by sectors of 512 bytes, one in the middle of a write
as well. A new name lasts once its file or its folder was synchronised (POSIX asks for the folder; ext4, XFS and NTFS
journal the name with the file), and one that was taken away may be there again until then. The index of a write-ahead
log (`-shm`) is memory and is left out: SQLite makes it anew.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from tests.faults.outside import Write
from tests.faults.soak.logger import told

__all__ = ["Disk", "cut_points", "told_before"]

SECTOR = 512


@dataclass
class _File:
    """A file: what stands on the disk for certain (None: not even its name), and what was done since."""

    sure: bytes | None = None
    since: list[Write] = field(default_factory=list)


def _applied(content: bytes, one: Write, chance: Random | None) -> bytes:
    """Return the content with a write or a new length in it; by `chance`, only some of its sectors arrive."""
    if one.what == "T":
        return content[: one.offset].ljust(one.offset, b"\0")
    if one.what != "W":
        return content
    out = bytearray(content)
    at = 0
    while at < len(one.data):
        place = one.offset + at
        n = min(SECTOR - place % SECTOR, len(one.data) - at)
        if chance is None or chance.random() < 0.5:
            out.extend(bytes(max(0, place + n - len(out))))
            out[place : place + n] = one.data[at : at + n]
        at += n
    return bytes(out)


class Disk:
    """The folder as the disk may have it. `do` what the process did, in order; then ask what a cut would leave."""

    def __init__(self) -> None:
        self._files: dict[str, _File] = {}
        self._gone: dict[str, _File] = {}

    def do(self, one: Write) -> None:
        """Take one thing that was done."""
        if one.what == "E" or one.file.endswith("-shm"):
            return
        if one.what == "D":
            self._gone.clear()
            for file in self._files.values():
                file.sure = b"" if file.sure is None else file.sure
            return
        file = self._files.setdefault(one.file, _File())
        if one.what == "S":
            for done in file.since:
                file.sure = _applied(file.sure or b"", done, None)
            file.sure, file.since = file.sure or b"", []
        elif one.what == "R":
            self._files[Path(one.data.decode()).name] = self._files.pop(one.file)
        elif one.what == "U":
            self._gone[one.file] = self._files.pop(one.file)
        else:
            file.since.append(one)

    def left(self, chance: Random | None, every: bool) -> dict[str, bytes]:
        """Return the files after a cut: nothing that was not synchronised, all of it (`every`), or some by `chance`."""
        out: dict[str, bytes] = {}
        back = {name: file for name, file in self._gone.items() if chance is not None and chance.random() < 0.5}
        for name, file in (back | self._files).items():
            if file.sure is None and not every and (chance is None or chance.random() < 0.5):
                continue
            content = file.sure or b""
            if every or chance is not None:
                for one in file.since:
                    if chance is None or every or chance.random() < 0.7:
                        content = _applied(content, one, None if every else chance)
            out[name] = content
        return out


def cut_points(writes: Sequence[Write], n: int, chance: Random) -> list[int]:
    """Return where to cut: after the i-th thing done, beginning once the log stands."""
    first = next(i for i, one in enumerate(writes) if one.what == "E" and b"logging " in one.data)
    return sorted(chance.sample(range(first, len(writes)), min(n, len(writes) - first)))


def told_before(writes: Iterable[Write], waiting: bool = False) -> list[tuple[str, int]]:
    """Return the shots that were told as logged in what was said; with `waiting`, those told as waiting too."""
    text = b"".join(one.data for one in writes if one.what == "E").decode("utf-8", "replace")
    shots = [told(line) for line in text.split("\n")[:-1]]
    meant = ("logged", "waiting") if waiting else ("logged",)
    return [shot[:2] for shot in shots if shot is not None and shot[2] in meant]
