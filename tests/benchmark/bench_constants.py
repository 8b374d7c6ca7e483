"""What the call does at half and at double of each of its constants, on a few simulated lives.

`python -m tests.benchmark.bench_constants [NAME ...] [--presses N] [--write]`

For each constant the package of the call is loaded anew with that one value changed, and judges the same lives: presses
make seven each as in the benchmark of the call, half with three channels and half with nine, from seeds of their own.
The same noise under every value, so a difference is the constant's; but so few lives tell coarse differences only.
Halves and doubles of whole numbers are rounded; a share above one half is doubled by halving what is left to one. With
`--write` the table goes into `shotlog/wear/constants.md`.
"""

import argparse
import importlib
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np

from tests.benchmark.lives.press import Life, Press
from tests.benchmark.lives.score import score

ROOM = "shotlog.wear"
SEED = 81_000_001
HERE = Path(__file__).resolve().parents[2] / "shotlog" / "wear"
DOCUMENT = HERE / "constants.md"

Change = Callable[[ModuleType], None]
"""Changes the freshly loaded `constants`, or a table beside it, before anything else of the package is loaded."""


@dataclass(frozen=True)
class Effect:
    """What the call did: healthy lives called, faults missed, mean delay of those found in shots, right groups, and the
    share of verdicts (keep, watch, swap; cause; shots left) that are not what they are with the table as it is.
    """

    false: int
    missed: int
    delay: float
    right: int
    other: float = 0.0


def sample(presses: int) -> list[list[Life]]:
    """The lives of each press, half of them faulty, half of the press faults outliving the swap."""
    out = []
    for i in range(presses):
        rng = np.random.default_rng([SEED, i])
        press = Press(rng, f"press-{i}", 9 if i % 2 else 3)
        out.append([press.life(bool(rng.random() < 0.5), carry=bool(rng.random() < 0.5)) for _ in range(7)])
    return out


def loaded(change: Change | None) -> ModuleType:
    """Load the package of the call anew, changed, and return its monitor; compiled loops hold no constant and stay."""
    for name in [name for name in sys.modules if name.startswith(ROOM) and not name.startswith(f"{ROOM}.compiled")]:
        del sys.modules[name]
    constants = importlib.import_module(f"{ROOM}.constants")
    if change is not None:
        change(constants)
    return importlib.import_module(f"{ROOM}.monitor")


def judged(room: ModuleType, presses: list[list[Life]]) -> tuple[Effect, list[tuple[Any, ...]]]:
    """Judge every life; return what came of it, and each verdict in short."""
    rows, said = [], []
    for lives in presses:
        monitor = room.Monitor(lives[0].shots[0].press, {})
        for life in lives:
            verdicts = [monitor.step(shot) for shot in life.shots]
            said += [(v.verdict, v.cause, v.left_median) for v in verdicts]
            if life.carried is None:
                rows.append(score(life, verdicts))
    found = [row["delay"] for row in rows if "delay" in row]
    return (
        Effect(
            sum(row["false"] for row in rows),
            sum(row.get("missed", False) and not row["false"] for row in rows),
            float(np.mean(found)) if found else float("nan"),
            sum(bool(row.get("group_end")) for row in rows),
        ),
        said,
    )


def scaled(value: Any, unit: str, factor: float) -> Any:
    """Return half or double of a constant, as the head of this file says."""
    if isinstance(value, tuple):
        return tuple(scaled(one, unit, factor) for one in value)
    if isinstance(value, int):
        return max(round(value * factor), 1)
    if unit in ("share", "lag-1", "cosine") and factor > 1 and value > 0.5:
        return 1.0 - (1.0 - value) / factor
    return value * factor


def changes(table: dict[str, Any]) -> Iterator[tuple[str, str, str, str, Callable[[float], Change]]]:
    """Yield name, value, unit and source of everything that can be halved and doubled, and what does it."""

    def constant(name: str, row: Any) -> Callable[[float], Change]:
        return lambda factor: lambda module: setattr(module, name, scaled(row.value, row.unit, factor))

    for name, row in table.items():
        yield name, shown(row.value), row.unit, row.source, constant(name, row)
    causes = importlib.import_module(f"{ROOM}.change.causes").CAUSES
    for name, cause in causes.items():
        yield f"prior of {name}", shown(cause.prior), "share", "judgement", _prior(name)
    signatures = importlib.import_module(f"{ROOM}.change.signatures").SIGNATURES
    for name in signatures:
        yield f"ranges of {name}", "table", "width", "judgement, after mass balance and flow", _ranges(name)
    yield "factors of entries", "table", "1", "judgement", _factors


def _prior(name: str) -> Callable[[float], Change]:
    def change(factor: float) -> Change:
        def apply(_: ModuleType) -> None:
            causes = importlib.import_module(f"{ROOM}.change.causes").CAUSES
            causes[name] = replace(causes[name], prior=causes[name].prior * factor)

        return apply

    return change


def _ranges(name: str) -> Callable[[float], Change]:
    """Make each range of a signature half or twice as wide about its middle."""

    def change(factor: float) -> Change:
        def apply(_: ModuleType) -> None:
            table = importlib.import_module(f"{ROOM}.change.signatures").SIGNATURES
            ranges = {
                channel: ((low + high) / 2 - factor * (high - low) / 2, (low + high) / 2 + factor * (high - low) / 2)
                for channel, (low, high) in table[name].effect.items()
            }
            table[name] = replace(table[name], effect=ranges)

        return apply

    return change


def _factors(factor: float) -> Change:
    def apply(_: ModuleType) -> None:
        for one in importlib.import_module(f"{ROOM}.change.causes").EVENT_FACTORS.values():
            one[one != 1.0] *= factor

    return apply


def shown(value: Any) -> str:
    if isinstance(value, tuple):
        return ", ".join(shown(one) for one in value)
    return f"{value:.4g}"


def cell(effect: Effect | None, base: Effect) -> str:
    """Say what became of the call, as differences from the table as it is."""
    if effect is None:
        return "fails"
    if effect.other == 0.0:
        return "the same"
    delay = effect.delay - base.delay
    return (
        f"{effect.false - base.false:+d} false, {effect.missed - base.missed:+d} missed, {delay:+.1f} shots, "
        f"{effect.right - base.right:+d} right; {effect.other:.1%} other"
    )


def measured(change: Change, lives: list[list[Life]], usual: list[tuple[Any, ...]]) -> Effect | None:
    """Return what the call does under a change; None where it cannot be worked out at all."""
    try:
        effect, said = judged(loaded(change), lives)
    except (ArithmeticError, IndexError, ValueError, np.linalg.LinAlgError):
        return None
    return replace(effect, other=sum(a != b for a, b in zip(said, usual, strict=True)) / len(usual))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--presses", type=int, default=10)
    parser.add_argument("--write", action="store_true")
    wanted = parser.parse_args()
    lives = sample(wanted.presses)
    base, usual = judged(loaded(None), lives)
    flat = [life for press in lives for life in press if life.carried is None]
    faulty = sum(life.fault is not None for life in flat)
    out = [
        "# The constants of the call, and what it does at half and at double of each",
        "",
        "Made by `python -m tests.benchmark.bench_constants --write`; the values are those of `constants.py`. What is",
        "structure is no claim about presses and was not varied.",
        "",
        f"Measured on {len(flat)} simulated lives, {faulty} of them with a fault: so few tell coarse differences only.",
        f"With the table as it is: {base.false} false calls, {base.missed} faults missed, mean delay {base.delay:.1f}",
        f"shots, the group right in the end for {base.right}. Each cell says by how much that differs; `other` is the",
        "share of verdicts that differ in their word, cause or shots left.",
        "",
        "| name | value | unit | source | at half | at double |",
        "|---|---|---|---|---|---|",
    ]
    print("\n".join(out), flush=True)
    for name, value, unit, source, change in list(changes(sys.modules[f"{ROOM}.constants"].TABLE)):
        if wanted.names and name not in wanted.names:
            continue
        cells = ["", ""]
        if not source.startswith("structure"):
            cells = [cell(measured(change(factor), lives, usual), base) for factor in (0.5, 2.0)]
        out.append(f"| {' | '.join([name, value, unit, source, *cells])} |")
        print(out[-1], flush=True)
    if wanted.write:
        DOCUMENT.write_text("\n".join(out) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
