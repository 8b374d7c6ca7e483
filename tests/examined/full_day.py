"""A whole made-up day whose truth is known: what every page, command and report of it has to say.

| shots | halves | what is true |
|---|---|---|
| 1-60 | A-07 + B-09 | a crack seen at 56 on the moving half, 54 known to be good; taken out for it |
| 61-120 | A-07 + B-10 | sound, taken out as planned; a pause of 34 min before shot 101 |
| 121-190 | A-07 + B-11 | lot L2 from 140; its core breaks at 171, seen at 184; 165 measured within tolerance, 180 not |
| 191-230 | A-07 + B-12 | sound |

Shots 30 and 31 were never seen. Parts lie in box-1 (1-120), box-2 (121-190) and on shelf-3 (191-230).
"""

from datetime import timedelta
from random import Random

from tests.examined.shop import MORNING, Row, Shop, sound_values

__all__ = ["AFTER", "HELD", "N_SHOTS", "SCRAPPED", "fill"]

N_SHOTS = 230
AFTER = MORNING + timedelta(hours=36)
"""When all of it is entered."""

SCRAPPED = range(55, 61)
HELD = range(166, 191)
"""Since the last known good one, up to the swap."""

_MISSED = (30, 31)
_BROKE, _PAUSE = 171, 101
_LIVES = ((1, "B-09"), (61, "B-10"), (121, "B-11"), (191, "B-12"))
_PLACED = (("1-29", "box-1"), ("32-120", "box-1"), ("121-190", "box-2"), ("191-230", "shelf-3"))
_NOTED = {
    1: "lot:L1;setup:recipe 4",
    101: "pause:34 min",
    140: "lot:L2",
    150: "note:hopper lid found open",
}


def _row(shot: int, noise: Random) -> Row:
    since, serial = max(life for life in _LIVES if life[0] <= shot)
    values = sound_values(shot, noise, since)
    if _BROKE <= shot < 191:
        values["cushion"] = round(values["cushion"] - 0.45, 2)
        values["peak_pressure"] = round(values["peak_pressure"] - 14, 1)
    if _PAUSE <= shot < _PAUSE + 5:
        values["peak_pressure"] = round(values["peak_pressure"] + 2 * (_PAUSE + 5 - shot), 1)
    return Row(shot, values, moving=serial, event=_NOTED.get(shot, ""), late_s=2040.0 if shot >= _PAUSE else 0.0)


_COST = "[design.cap-r2.cost]\npart = 2.0\ninsert = 18.0\nchangeover = 12.0\nlate_find = 8.0\n"


def fill(shop: Shop) -> None:
    """Take the day in and enter what people saw, measured, put away and decided, then and on the day after."""
    shop.config.write_text(shop.config.read_text(encoding="utf-8") + _COST, encoding="utf-8")
    noise = Random(37)
    shop.take([_row(shot, noise) for shot in range(1, N_SHOTS + 1) if shot not in _MISSED])
    for serial, batch in (("A-07", "HB-1"), ("B-09", "PB-1"), ("B-10", "PB-1"), ("B-11", "PB-2"), ("B-12", "PB-2")):
        shop.do("insert", serial, "--print-batch", batch)
    shop.do("note", "P1", "good", "looked through a loupe", "--at-shot", 54, "--initials", "kq")
    shop.do("note", "P1", "finding", "crack", "--half", "moving", "--at-shot", 56, "--initials", "kq")
    shop.do("note", "P1", "finding", "core blade gone", "--half", "moving", "--at-shot", 184, "--initials", "kq")
    for parts, place in _PLACED:
        shop.do("place", "P1", parts, place, "--initials", "mt")
    shop.now = AFTER
    shop.do("inspect", "P1", 165, "--dimension", "wall=1.21", "--initials", "mt", "--instrument", "caliper 3")
    shop.do("inspect", "P1", 180, "--dimension", "wall=1.42", "--half", "moving", "--initials", "mt")
    shop.do("parts", "P1", f"{SCRAPPED[0]}-{SCRAPPED[-1]}", "--scrap", "--reason", "cracked", "--initials", "mt")
