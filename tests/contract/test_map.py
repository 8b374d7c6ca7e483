"""The map of the house in DEVELOPERS.md names every room, and none that is not there."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROW = re.compile(r"^\| `((?:shotlog|dashboard|simulators)/[^`]*)` \|", re.MULTILINE)


def test_the_map_names_every_room_and_nothing_else() -> None:
    named = ROW.findall((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))
    rooms = {
        f"{file.parent.relative_to(ROOT).as_posix()}/"
        for top in ("shotlog", "dashboard", "simulators")
        for file in (ROOT / top).rglob("__init__.py")
    }
    assert sorted(named) == sorted(rooms - {"shotlog/"})


def test_every_room_says_what_is_in_it() -> None:
    silent = [
        file.relative_to(ROOT).as_posix()
        for top in ("shotlog", "dashboard", "simulators")
        for file in (ROOT / top).rglob("__init__.py")
        if not file.read_text(encoding="utf-8").startswith('"""')
    ]
    assert silent == []
