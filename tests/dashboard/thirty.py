"""A made-up plant: thirty presses in the states that a shop meets, each a few shots long."""

from dataclasses import replace
from datetime import timedelta

from hand_filled import Trial

from shotlog.facts import ChannelChange, Facts
from shotlog.parts.part import Part
from shotlog.records import Link, Shot, Verdict
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.inspections import inspect
from shotlog.store.parts.places import put_at

__all__ = ["NAMES", "SHOTS", "plant_config", "thirty"]

NAMES = [*(f"P{n:02d}" for n in range(1, 28)), "M\u00fchle 2", "hall 3/7", "long-named press 30"]
"""Also what has to be encoded in an address."""

SHOTS = 40
_PRESS = '[[press]]\nname = "{name}"\n  [press.collector]\n  kind = "recording"\n'
_CONFIG = '[log]\nstore = "sqlite:///trial.db"\n{presses}[design.cap-r2.limits]\ncushion = {{ low = 4.2 }}\n'


def plant_config(names: list[str]) -> str:
    return _CONFIG.format(presses="".join(_PRESS.format(name=name) for name in names))


def thirty(trial: Trial, *, calm: bool = False) -> None:
    """Let all presses make shots at a time; then some call for a swap, are watched, hold parts, or fall away.

    `calm`: none of them needs a person.
    """
    for n, name in enumerate(NAMES):
        trial.mount(f"A-{n + 1:02d}", "fixed", name)
        trial.mount(f"CAP-{n + 101}", "moving", name)
    trial.log.append([Link(name, trial.clock.now(), "connected", "the press answers") for name in NAMES])
    for shot in range(1, SHOTS + 1):
        trial.clock.advance(75)
        values = {"cushion": 4.94 - 0.01 * (shot % 3), "peak_pressure": 542.0, "fill_time": 0.72}
        trial.log.append([Shot(name, shot, shot, trial.clock.now(), values) for name in NAMES])
    for n, name in enumerate(NAMES):
        trial.say(_verdict(n, name, "" if calm else _CALLS.get(name, "")))
    if not calm:
        _hold(trial)
        _fall_away(trial)
    trial.alive()


_CALLS = {"P04": "swap", "long-named press 30": "swap", "P11": "limit", "P07": "watch", "hall 3/7": "watch",
          "P19": "material", "P22": "settling"}  # fmt: skip


def _verdict(n: int, name: str, what: str) -> Verdict:
    insert = f"CAP-{n + 101}"
    if what == "settling":
        return Verdict(name, SHOTS, insert, SHOTS, True, "keep", "", facts=Facts("settling", judged_from=SHOTS + 4))
    if not what:
        quiet = Facts("quiet", quiet_since=11, n_sisters=3)
        return Verdict(name, SHOTS, insert, SHOTS, False, "keep", "", statistic=1.0, threshold=5.0, facts=quiet)
    group = "material" if what == "material" else "insert"
    cause = "wetter material" if what == "material" else "parting-line wear"
    verdict = "swap" if what == "swap" else "watch"
    limits = ("cushion",) if what == "limit" else ()
    facts = Facts("called", changes=(ChannelChange("cushion", -0.31, 0.05),), half="moving")
    left = (8.0, 3.0, 20.0) if what == "swap" else (31.0, 12.0, 61.0)
    return Verdict(
        name, SHOTS, insert, SHOTS, False, verdict, "", (), cause, group, 0.86, 32, 30, 35, *left, 7.1, 5.0, facts,
        limits=limits,
    )  # fmt: skip


def _hold(trial: Trial) -> None:
    """Some parts lie about, some are in a box or a bath, some are overdue there."""
    now = trial.clock.now()
    inspect(trial.log, Part("P13", 38), now, finding="flash", initials="KB")
    for name, first in (("P15", 36), ("P07", 33)):
        parts = [Part(name, shot) for shot in range(first, SHOTS + 1)]
        enter_decision(trial.log, parts, "held", now, reason="short shot seen", initials="KB")
        put_at(trial.log, parts, "box 3", now, initials="KB")
    due = now + timedelta(minutes=30)
    put_at(trial.log, [Part("P17", shot) for shot in range(20, 24)], "cleaner 1", now, due=due, initials="KB")


def _fall_away(trial: Trial) -> None:
    now = trial.clock.now()
    trial.log.append([Link(name, now, "lost", "no answer within 1 s from 192.168.100.2") for name in ("P02", "P26")])
    trial.clock.advance(4000)
    values = {"cushion": 4.94, "peak_pressure": 542.0, "fill_time": 0.72}
    still = [name for name in NAMES if name not in ("P02", "P26", "P09", "P10")]
    trial.log.append([Shot(name, SHOTS + 1, SHOTS + 1, trial.clock.now(), values) for name in still])
    for n, name in enumerate(NAMES):
        if name in still and _CALLS.get(name) != "settling":
            said = _verdict(n, name, _CALLS.get(name, ""))
            trial.say(replace(said, shot=SHOTS + 1, shots_on_insert=SHOTS + 1))
