"""``shotlog explain``: the evidence behind one verdict, worked out again from the shots up to it."""

import argparse
import sys
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from shotlog.channels import CHANNELS
from shotlog.cli.opening import Subparsers, add_command, opened, print_json
from shotlog.cli.progress import Progress
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.wording.numbers import plain, some
from shotlog.wording.parts import doubt_text
from shotlog.wording.verdicts import (
    announced,
    checked,
    lives_counted,
    question,
    stands_below,
    swap_weighed,
    told,
    weights_rest_on,
)

if TYPE_CHECKING:
    from shotlog.records import Verdict
    from shotlog.wear.verdict.evidence import Evidence

__all__ = ["add"]

_WEIGHT_SHOWN = 0.01
_SOON = 2_000
"""Shots that are gone through in a second or less: of more it is said before."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "explain", "show the evidence behind the verdict on one shot", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("shot", metavar="SHOT", type=int, help="number of the shot, as the log counts")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    with opened(arguments.config) as (settings, log):
        from shotlog.recorder import Judge
        from shotlog.store.asked.state import verdicts
        from shotlog.store.keeping.archived import archive_of_shot
        from shotlog.store.parts.doubts import said_of_parts

        press = settings.press(arguments.press).name
        stored = verdicts(log, press, arguments.shot, arguments.shot)
        if not stored:
            kept = archive_of_shot(log, press, arguments.shot)
            where = f"; what was said of it is in the archive {kept.file}" if kept else ""
            raise UsageError(
                f"shot {arguments.shot} of {press}: given a shot without a verdict, allowed: one in the log{where}"
            )
        doubts, _ = said_of_parts(log, press, arguments.shot, arguments.shot, designs=settings.designs)
        people = [doubt_text(one) for one in doubts if one.wrong is not None and arguments.shot in one.since]
        judge = Judge(log, press, settings.designs, SystemClock(), settings.false_calls)
        evidence = judge.evaluator_after(arguments.shot, _Seen(press, arguments.shot)).evidence()
    if arguments.json:
        print_json({"verdict": _plain(stored[0]), "people": people, "evidence": _finite(_with_words(evidence))})
    else:
        for said in people:
            print(f"FOUND BY PEOPLE, part held: {said}")
        _print(stored[0], evidence)
    return 0


class _Seen:
    """Tells how far the shots up to the one asked about are gone through, where that takes a while."""

    def __init__(self, press: str, upto: int) -> None:
        self._press, self._upto = press, upto
        self._tell: Progress | None = None

    def __call__(self, shot: int) -> None:
        if self._tell is None:
            self._tell = Progress()
            if self._upto - shot > _SOON:
                print(
                    f"{self._press}: no state of before is kept near shot {self._upto}: shots are gone through again "
                    f"from {shot} on",
                    file=sys.stderr,
                    flush=True,
                )
        self._tell(f"{self._press}: shot {shot} of {self._upto}")


def _plain(verdict: "Verdict") -> dict[str, Any]:
    return {**asdict(verdict), "sentence": told(verdict), "signals": list(verdict.signals)}


def _with_words(evidence: "Evidence") -> dict[str, Any]:
    return {
        **asdict(evidence),
        "question": "" if evidence.question is None else question(evidence.question),
        "swaps": [{**asdict(swap), "text": swap_weighed(swap)} for swap in evidence.swaps],
    }


def _finite(value: Any) -> Any:
    """Return the same data with numbers that JSON cannot write as None."""
    if isinstance(value, dict):
        return {key: _finite(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(item) for item in value]
    if isinstance(value, float) and (value != value or value in (float("inf"), float("-inf"))):
        return None
    return value


def _set_for(evidence: "Evidence") -> str:
    """Say what the odds at which a change is called are set for, and from what."""
    beside = f"beside {some(evidence.n_sisters, 'sister')}" if evidence.n_sisters else "without sisters"
    said = f"set for {evidence.false_calls:.2g} false calls in 100 sound inserts, by simulated presses {beside}"
    if not evidence.cleared:
        return said
    return f"{said}; higher by what {evidence.cleared} calls showed that people answered with sound"


def _print(verdict: "Verdict", evidence: "Evidence") -> None:
    print(f"{verdict.press}, shot {verdict.shot}, {verdict.insert or 'unnamed insert'} shot {verdict.shots_on_insert}")
    print(announced(verdict))
    sisters = some(evidence.n_sisters, "sister") if evidence.n_sisters else "its own shots only, so less sharp"
    below = "" if verdict.facts is None else stands_below(verdict.facts, evidence.log_odds, evidence.threshold)
    print(
        f"\nlog odds of a change {evidence.log_odds:.1f}, called from {evidence.threshold:.1f}{below}; "
        f"level and noise from {sisters}; judged from shot {evidence.settled_at} on the insert\n{_set_for(evidence)}\n"
    )
    print(
        f"  {'channel':<20} {'level':>10} {'spread':>8} {'lag 1':>6} {'matters':>8} {'change':>9} {'a shot':>9}  unit"
    )
    for name, level in evidence.level.items():
        channel = CHANNELS[name]
        print(
            f"  {channel.label:<20} {plain(name, level):>10} {evidence.spread[name]:>8.3g} "
            f"{evidence.lag_1[name]:>6.2f} {evidence.least_change[name]:>8.3g} "
            f"{evidence.change.get(name, 0.0):>+9.3g} {evidence.slope.get(name, 0.0):>+9.2g}  {channel.unit}"
        )
    if evidence.lives_elsewhere:
        print(f"\n  how long it will do rests on the {lives_counted(evidence.lives_here, evidence.lives_elsewhere)}")
    if evidence.labelled:
        print(f"\n  {weights_rest_on(evidence.labelled)}")
    print("\n  weight  cause (group)                              log likelihood  onset  look at")
    for cause in evidence.causes:
        if cause.weight >= _WEIGHT_SHOWN:
            named = f"{cause.cause} ({cause.group})"
            check = checked(cause.cause, verdict.facts) or cause.check
            print(f"  {cause.weight:>6.2f}  {named:<42} {cause.log_likelihood:>14.1f}  {cause.onset:>5}  {check}")
    left = 1.0 - sum(cause.weight for cause in evidence.causes)
    if left >= _WEIGHT_SHOWN:
        print(f"  {left:>6.2f}  something else")
    for swap in evidence.swaps:
        print(f"\n  {swap_weighed(swap)}")
    if evidence.question is not None:
        print(f"\n  {question(evidence.question)}")
