"""The edge of a process, from outside (`outside.c`): put its clock, or record what it writes, in order."""

import functools
import os
import shutil
import struct
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Write", "clock", "put_clock", "read_record", "recording", "shim"]


@functools.cache
def shim() -> Path | None:
    """Return the library, compiled; None where there is no C compiler or the system is not Linux."""
    compiler = shutil.which("cc")
    if compiler is None or not sys.platform.startswith("linux"):
        return None
    out = Path(tempfile.mkdtemp(prefix="outside-")) / "outside.so"
    source = Path(__file__).with_name("outside.c")
    command = [compiler, "-O1", "-shared", "-fPIC", "-w", "-o", str(out), str(source), "-ldl", "-lpthread"]
    subprocess.run(command, check=True)
    return out


def clock(file: Path) -> dict[str, str]:
    """Return the environment of a process whose wall clock `put_clock` can put."""
    put_clock(file, 0.0)
    return {"LD_PRELOAD": str(shim()), "OUTSIDE_CLOCK": str(file)} if shim() else {}


def put_clock(file: Path, off_s: float) -> None:
    """Put the clock: it is `off_s` off from now on."""
    with file.open("r+b" if file.exists() else "wb") as out:
        out.write(struct.pack("=d", off_s))


def recording(record: Path, folder: Path) -> dict[str, str]:
    """Return the environment of a process whose writes to files of `folder` are recorded."""
    return {"LD_PRELOAD": str(shim()), "OUTSIDE_RECORD": str(record), "OUTSIDE_FOLDER": os.fspath(folder.resolve())}


@dataclass(frozen=True, slots=True)
class Write:
    """One thing done, see `outside.c`."""

    what: str
    file: str
    offset: int
    data: bytes


def read_record(record: Path, below: Path | None = None) -> list[Write]:
    """Return what was recorded, in order; files by their names, or by their paths `below` a folder."""
    raw, at, out = record.read_bytes(), 0, []
    while at < len(raw):
        length, offset, n = struct.unpack_from("=IQQ", raw, at + 1)
        name, data = raw[at + 21 : at + 21 + length], raw[at + 21 + length : at + 21 + length + n]
        path = Path(os.fsdecode(name))
        inside = below is not None and path.is_relative_to(below.resolve())
        file = path.relative_to(below.resolve()).as_posix() if below and inside else path.name
        out.append(Write(chr(raw[at]), file, offset, data))
        at += 21 + length + n
    return out
