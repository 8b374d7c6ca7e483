"""The text of an entry that tells of a life: how long an insert lived, and how it ended, for the presses that did not
see it.

It says nothing of levels, which lie elsewhere on every press.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass, fields
from math import isfinite
from typing import Any

__all__ = ["LifeTold", "life_text", "life_told"]

_MOST_SHOTS = 10**9

_NO_LONGER = ("wore",)
"""What was said once and is read over: how fast it wore foretold nothing on another press."""


@dataclass(frozen=True, slots=True)
class LifeTold:
    """A life: the insert's serial and design, `made` shots on it in all, `sound` of them before it had gone off.

    `gone_off`: it had when it came out; else it was sound then, and would have lived longer. `sudden`: it went off
    without a course that led there. `press`: where that was, empty in the log of the very press; `site`: in which other
    log, empty for this one. `material`: what it was printed from. `course`: how likely it wore by each of
    `wear.life.worn.COURSES`, empty where no wear was followed.
    """

    serial: str
    design: str
    made: int
    sound: int
    gone_off: bool = False
    sudden: bool = False
    press: str = ""
    site: str = ""
    material: str = ""
    course: tuple[float, ...] = ()

    @property
    def known_by(self) -> tuple[str, str]:
        """The site and the serial: a serial names one insert within a log, and in another log another one."""
        return self.site, self.serial

    @property
    def where(self) -> str:
        """The press, with its site where that is another."""
        return f"{self.site}/{self.press}" if self.site else self.press


def life_text(life: LifeTold) -> str:
    """Return the text of an entry that tells of a life; what is not known is left out.

    Examples
    --------
    >>> life_text(LifeTold("B-12", "cap-r2", 92, 88, True, press="P15"))
    '{"serial":"B-12","design":"cap-r2","made":92,"sound":88,"gone_off":true,"press":"P15"}'
    """
    said = {one.name: getattr(life, one.name) for one in fields(life)}
    kept = {name: value for name, value in said.items() if value or name in ("serial", "design", "made", "sound")}
    return json.dumps(kept, separators=(",", ":"), ensure_ascii=False)


def life_told(text: str) -> LifeTold | None:
    """Return the life that the text of an entry tells of; None where it is no such text, as a person may type one.

    Examples
    --------
    >>> life_told('{"serial":"B-12","design":"cap-r2","made":92,"sound":92}').gone_off, life_told("lived long")
    (False, None)
    """
    try:
        said = json.loads(text)
    except (ValueError, RecursionError):  # also of more digits, or deeper brackets, than can be read
        return None
    if not isinstance(said, dict):
        return None
    said = {name: value for name, value in said.items() if name not in _NO_LONGER}
    if not said.keys() <= _CHECKS.keys():
        return None
    if not all(_CHECKS[name](value) for name, value in said.items()) or not {"serial", "design", "made"} <= said.keys():
        return None
    life = LifeTold(**{"sound": said["made"], **said, "course": tuple(map(float, said.get("course", ())))})
    return life if life.sound <= life.made else None


def _is_text(value: Any) -> bool:
    return isinstance(value, str)


def _is_bool(value: Any) -> bool:
    return isinstance(value, bool)


def _is_count(value: Any) -> bool:
    return isinstance(value, int) and not _is_bool(value) and 0 <= value <= _MOST_SHOTS


def _is_share(value: Any) -> bool:
    if isinstance(value, float) and not isfinite(value):
        return False
    return isinstance(value, int | float) and not _is_bool(value) and abs(value) <= _MOST_SHOTS


_CHECKS: dict[str, Callable[[Any], bool]] = {
    "serial": lambda value: _is_text(value) and bool(value.strip()),
    "design": _is_text,
    "made": _is_count,
    "sound": _is_count,
    "gone_off": _is_bool,
    "sudden": _is_bool,
    "press": _is_text,
    "site": _is_text,
    "material": _is_text,
    "course": lambda value: isinstance(value, list) and all(_is_share(one) and one >= 0 for one in value),
}
