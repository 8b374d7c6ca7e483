"""What was asked of presses that give files, and what was written into their folders: only words that read may be."""

import re
from collections.abc import Sequence
from pathlib import Path

from tests.faults import outside
from tests.faults.files.played import Place

__all__ = ["asked", "written"]

COMMANDS = {"JOB", "REPORT", "EVENT", "GETID", "GETINFO", "ABORT"}
"""What may stand in a job; ABORT only of a job that was ordered from here."""

THEIRS = {
    "OLD01.DAT",
    "OLD01.JOB",
    "SESS0007.RSP",
    "readme.txt",
    "OTHERS.LOG",
    "OTHERS.DAT",
    "THEIRS.LOG",
    "THEIRS.DAT",
}
"""Files of the press and of other people, whatever lies beside ours."""

_OWN = re.compile(r"SESS0001\.(REQ|RSP|TMP)|S01[A-Z0-9]+\.(JOB|LOG|DAT|TMP)", re.IGNORECASE)
"""The files that the README says are ours, in session 1; a file gets its name when it is whole."""

_REQUEST = re.compile(r'\d{8} (CONNECT|EXECUTE "[A-Za-z0-9_]+\.JOB");\s*', re.IGNORECASE)


def asked(place: Place) -> list[str]:
    """Return what was asked of a press that it may not be asked, or that came half, or in other words."""
    wrong: list[str] = []
    own: set[str] = set()
    for entry in place.noted():
        if "refused" in entry:
            wrong.append(f"asked for {entry['refused']}")
        if "asked" in entry and (place.passive or not _REQUEST.fullmatch(entry["asked"])):
            wrong.append(f"asked {entry['asked']!r}")
        if "job" in entry:
            wrong += _ordered(entry["text"], own)
    return wrong


def _ordered(text: str, own: set[str]) -> list[str]:
    wrong = []
    for statement in filter(None, (part.strip() for part in text.split(";"))):
        said = statement.split()
        if said[0] == "JOB":
            own.add(said[1])
        if said[0] not in COMMANDS or (said[0] == "ABORT" and (said[1:2] != ["JOB"] or said[2] not in own)):
            wrong.append(f"ordered {statement!r}, own jobs are {sorted(own)}")
    return wrong


def written(record: Path, places: Sequence[Place]) -> list[str]:
    """Return what the logger wrote, made, renamed or deleted in folders and should not have: in passive mode anything,
    else what is not its own. `record` is that of its process, where there is one.
    """
    wrong = []
    touched: dict[str, set[str]] = {}
    for one in outside.read_record(record, places[0].folder.parent) if record.exists() else []:
        folder, _, file = one.file.partition("/")
        if one.what in "WTCUR":
            touched.setdefault(folder, set()).add(file)
        if one.what == "R":
            touched[folder].add(Path(one.data.decode()).name)
    for place in places:
        files = touched.get(place.name, set())
        if place.passive and files:
            wrong.append(f"{place.name}: written in passive mode: {sorted(files)[:10]}")
        if not place.passive and (foreign := sorted(file for file in files if not _OWN.fullmatch(file))):
            wrong.append(f"{place.name}: touched {foreign}")
        if "others=yes" in place.ways:
            there = {one.name.upper() for one in place.folder.iterdir()}
            gone = {file for file in THEIRS if file.upper() not in there} - {"THEIRS.LOG", "THEIRS.DAT"}
            wrong += [f"{place.name}: gone: {sorted(gone)}"] if gone else []
    return wrong
