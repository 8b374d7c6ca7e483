"""How things stand that people are told of, as spells: a state for as long as it lasts. Pure: facts in, spells out.

Two rules make one message out of one change. A state begins at once, and is over only when it has stayed away: a call
and a limit after `QUIET_SHOTS` judged shots without it, a lost connection once it is back for good (`shotlog.lost`).
A shot that settles is shown and not judged: after a set-up, a lot or a wait a call stands until shots are judged again.
And a spell keeps its name: `named` gives one that is known to the log the name it has there, also where shots were
judged again meanwhile and it began a few shots earlier or later by now.

A swap is an answer to a call. What is said of the press once another reused half is in the mould is a spell of its
own, for whoever has seen the one before has swapped because of it. A call that gets worse, from watch to swap, is
another state; one that gets better is not, until nothing is called.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from shotlog.lost import is_brief
from shotlog.notify.spells import QUIET_OF, QUIET_SHOTS, Known, Spell

__all__ = ["JudgedShot", "LinkRow", "call_spells", "limit_spells", "lost_spells", "withdrawn"]


@dataclass(frozen=True, slots=True)
class JudgedShot:
    """A shot with its verdict in force; `mould`: the shot at which the newest reused half in the mould came in.

    `settling`: nothing is called of it, as after a set-up or a wait, so that it says nothing of a call before it.
    """

    shot: int
    time: datetime
    verdict: str
    limits: tuple[str, ...] = ()
    mould: int = 0
    settling: bool = False


@dataclass(frozen=True, slots=True)
class LinkRow:
    """A change of the connection to a press, by the number of its row."""

    number: int
    time: datetime
    state: str
    detail: str = ""


def call_spells(press: str, judged: Sequence[JudgedShot]) -> list[Spell]:
    """Return the spells of ``watch`` and ``swap`` in the shots judged, in order of shot."""
    found: list[Spell] = []
    for run, quiet in _runs(judged, [one.verdict != "keep" for one in judged], QUIET_SHOTS):
        unjudged = _unjudged(judged, run)
        worst = next((n for n, one in enumerate(run) if one.verdict == "swap"), len(run))
        if worst:
            found.append(_seen(press, "watch", run[:worst]))
        if worst < len(run):
            if worst:
                found[-1] = replace(found[-1], ended=run[worst].time, became="swap")
            found.append(_seen(press, "swap", run[worst:]))
        found[-1] = replace(found[-1], unjudged=unjudged)
        if quiet is not None:
            found[-1] = replace(found[-1], ended=quiet.time, swapped=quiet.mould > run[-1].mould)
    return found


def limit_spells(press: str, judged: Sequence[JudgedShot]) -> list[Spell]:
    """Return the spells of each channel beyond an action limit in the shots judged."""
    found = []
    for channel in sorted({name for one in judged for name in one.limits}):
        beyond = [channel in one.limits for one in judged]
        for run, quiet in _runs(judged, beyond, QUIET_OF["limit"]):
            one = replace(_seen(press, "limit", run), of=channel, unjudged=_unjudged(judged, run))
            if quiet is not None:
                one = replace(one, ended=quiet.time, swapped=quiet.mould > run[-1].mould)
            found.append(one)
    return found


def withdrawn(known: Known, judged: Sequence[JudgedShot]) -> bool:
    """Say whether a call that is found no more is over by that: shots were judged anew, and nobody calls it now.

    It is not where the shots since it began settle by now, as where somebody entered a set-up or a wait in the past.
    """
    since = [one for one in judged if one.shot >= known.anchor]
    n_judged = sum(not one.settling for one in since)
    return n_judged == len(since) or n_judged >= QUIET_OF.get(known.name.partition(" ")[0], 0)


def _unjudged(judged: Sequence[JudgedShot], run: Sequence[JudgedShot]) -> int:
    return sum(one.settling for one in judged if one.shot > run[-1].shot)


def _seen(press: str, about: str, run: Sequence[JudgedShot]) -> Spell:
    return Spell(press, about, run[0].shot, run[-1].shot, run[0].time)


def _runs(
    judged: Sequence[JudgedShot], holds: Sequence[bool], enough: int
) -> list[tuple[list[JudgedShot], JudgedShot | None]]:
    """Return the runs of shots for which something holds, each with the first shot without it where it is over.

    `enough`: how many shots without it end a run.
    """
    found: list[tuple[list[JudgedShot], JudgedShot | None]] = []
    run: list[JudgedShot] = []
    quiet: list[JudgedShot] = []
    for one, it_holds in zip(judged, holds, strict=True):
        if run and one.mould > run[-1].mould:  # it was answered by a swap, whatever is said next
            found.append((run, one))
            run, quiet = [], []
        if it_holds:
            run.append(one)
            quiet = []
        elif run and not one.settling:
            quiet.append(one)
            if len(quiet) >= enough:
                found.append((run, quiet[0]))
                run, quiet = [], []
    return [*found, (run, None)] if run else found


def lost_spells(press: str, rows: Sequence[LinkRow], now: datetime) -> list[Spell]:
    """Return the spells without a connection, of changes in the order of the log.

    That the logger stopped says nothing of the press: what was lost before stays so until it is connected again.
    """
    found: list[Spell] = []
    lost: Spell | None = None
    for row in rows:
        if row.state == "lost":
            if lost is None or (lost.ended is not None and not is_brief(lost.ended, row.time)):
                found += [] if lost is None else [lost]
                lost = Spell(press, "lost", row.number, row.number, row.time, detail=row.detail)
            lost = replace(lost, last=row.number, ended=None)
        elif row.state == "connected" and lost is not None and lost.ended is None:
            lost = replace(lost, last=row.number, ended=row.time)
    if lost is not None:
        found.append(replace(lost, ended=None) if lost.ended is not None and is_brief(lost.ended, now) else lost)
    return found
