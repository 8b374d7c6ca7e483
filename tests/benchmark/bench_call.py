"""The benchmark of the call: simulated lives, false calls, delay against the best possible detector, cause, onset.

`python -m tests.benchmark.bench_call [--seed N] [--presses N] [--channels 3 9] [--detail] [--no-best]`

A press makes seven lives one after the other; the first insert has no sisters, the second and third have one or two.
The weights stated are held against the share that was right, by tenth, also where faults leave the usual kinds.
Three charts judge the same lives, each with its limits set to the false calls per healthy life the monitor made.
"""

import argparse
import time
from collections.abc import Callable, Iterator

import numpy as np

from shotlog.wear.monitor import Monitor
from tests.benchmark.lives import best as best_possible
from tests.benchmark.lives import wearing
from tests.benchmark.lives.charts import CHARTS, bar
from tests.benchmark.lives.press import Life, Press
from tests.benchmark.lives.reliability import BEYOND, reliability_table
from tests.benchmark.lives.score import Row, score

GROUPS: dict[str, Callable[[Row], bool]] = {
    "first insert": lambda row: bool(row["n"] == 1),
    "1-2 sisters": lambda row: row["n"] in (2, 3),
    "3+ sisters": lambda row: bool(row["n"] > 3),
}
BANDS = ((0.0, 0.5), (0.5, 0.7), (0.7, 0.9), (0.9, 1.01))
LEAST_RATE, MOST_RATE = 0.01, 0.4
"""The best possible detector is asked for a false-call rate within these: so few lives tell no finer."""


def recordings(seed: int, n_presses: int, n_channels: int, lives: int = 7, beyond: float = 0.0) -> Iterator[list[Life]]:
    """The lives of each press; half of them faulty, half of the press faults outlive the swap. `beyond`: share of
    faults that leave the usual kinds."""
    for i in range(n_presses):
        rng = np.random.default_rng([seed, n_channels, i])
        press = Press(rng, f"press-{i}", n_channels, beyond=beyond)
        first_faulty = bool(rng.random() < 0.5)
        yield [
            press.life(first_faulty if j == 0 else bool(rng.random() < 0.5), carry=bool(rng.random() < 0.5))
            for j in range(lives)
        ]


def run(
    seed: int, n_presses: int, n_channels: int, best: bool = True, alpha: float | None = None, beyond: float = 0.0
) -> list[Row]:
    """Judge the lives; a row each. `best`: add the delay of the best possible detector and of the charts, at the
    monitor's own false calls per healthy life, or at `alpha`."""
    rows: list[Row] = []
    made: list[list[Life]] = []
    for lives in recordings(seed, n_presses, n_channels, beyond=beyond):
        press = lives[0].shots[0].press
        monitor = Monitor(press, {})
        made.append(lives)
        for life in lives:
            began = time.perf_counter()
            verdicts = [monitor.step(s) for s in life.shots]
            took = time.perf_counter() - began
            rows.append(score(life, verdicts) | {"press": press, "shots": len(verdicts), "seconds": took})
    if best:
        for keep in GROUPS.values():
            ours = [i for i, row in enumerate(rows) if keep(row) and not row["carried"]]
            rate = alpha if alpha is not None else false_rate([rows[i] for i in ours])
            _add_best(rows, made, ours, rate)
            _add_charts(rows, made, ours, rate)
    return rows


def false_rate(rows: list[Row]) -> float:
    """False calls per healthy life, counting the healthy part of faulty ones."""
    return float(sum(row["false"] for row in rows) / max(sum(row["healthy_share"] for row in rows), 1e-9))


def _add_best(rows: list[Row], made: list[list[Life]], ours: list[int], rate: float) -> None:
    flat = [life for lives in made for life in lives]
    for i in ours:
        if rows[i]["faulty"] and not rows[i]["false"] and rows[i]["shape"] != "ring":
            rows[i]["best"] = best_possible.delay(flat[i], float(np.clip(rate, LEAST_RATE, MOST_RATE)))


def _add_charts(rows: list[Row], made: list[list[Life]], ours: list[int], rate: float) -> None:
    """Add to each row, by chart, whether it called falsely and its delay (None: missed)."""
    places = [(lives, j) for lives in made for j in range(len(lives))]
    for name, chart in CHARTS.items():
        lines = []
        for i in ours:
            lives, j = places[i]
            lines.append((lives[j], chart(lives[j], lives[:j])))
        limit = bar(lines, rate)
        for i, (life, line) in zip(ours, lines, strict=True):
            at = [s.shot for s, v in zip(life.shots, line, strict=True) if v >= limit]
            onset = life.fault.onset if life.fault else 1 << 62
            hit = next((shot for shot in at if shot >= onset), None)
            rows[i].setdefault("charts", {})[name] = {
                "false": any(shot < onset for shot in at),
                "delay": None if hit is None else hit - onset + 1,
            }


def _mean(key: str, rows: list[Row]) -> float:
    return float(np.mean([row[key] for row in rows])) if rows else float("nan")


def _delay_cells(rows: list[Row], false: list[bool], delays: list[float | None]) -> str:
    """The cells from false calls to both ratios. A missed fault counts with the shots to the end of its life in the
    last one; the first is over the faults that both found."""
    rate = false_rate([row | {"false": one} for row, one in zip(rows, false, strict=True)])
    fair = [(row, delay) for row, one, delay in zip(rows, false, delays, strict=True) if row["faulty"] and not one]
    found = [delay for _, delay in fair if delay is not None]
    if not found:
        return f"{rate:.3f} | {len(fair)} | | | | | "
    missed = 1 - len(found) / len(fair)
    known = [(delay, row["best"], row["end"]) for row, delay in fair if "best" in row]
    both = [(delay, best) for delay, best, _ in known if delay and best]
    ratio = f"{sum(d for d, _ in both) / sum(b for _, b in both):.2f}" if both else ""
    whole = f"{sum(d or e for d, _, e in known) / sum(b or e for _, b, e in known):.2f}" if both else ""
    return (
        f"{rate:.3f} | {len(fair)} | {missed:.3f} | {np.median(found):.0f} | {np.mean(found):.1f} | {ratio} | {whole}"
    )


def delay_table(rows: list[Row], title: str) -> list[str]:
    """The lines for the monitor, each chart and the best possible detector."""
    clean = [row for row in rows if not row["carried"]]
    if not clean:
        return []
    said = {"monitor": ([row["false"] for row in clean], [row.get("delay") for row in clean])}
    for name in CHARTS if "charts" in clean[0] else ():
        ours = [row["charts"][name] for row in clean]
        said[name] = ([one["false"] for one in ours], [one["delay"] for one in ours])
    if any("best" in row for row in clean):
        known = [not row["faulty"] or "best" in row for row in clean]
        aside = [row | {"faulty": row["faulty"] and one} for row, one in zip(clean, known, strict=True)]
        best = _delay_cells(aside, [False] * len(clean), [row.get("best") for row in clean])
        last = [f"| {title} | best possible | the same |{best.partition('|')[2]} |"]
    else:
        last = []
    return [*(f"| {title} | {name} | {_delay_cells(clean, *one)} |" for name, one in said.items()), *last]


def cause_table(rows: list[Row], title: str) -> list[str]:
    """The lines for cause and onset, at the call and at the end of the life."""
    hit = [row for row in rows if not row["carried"] and "delay" in row]
    out = []
    for key, when in (("", "at the call"), ("_end", "at the end")) if hit else ():
        near = float(np.mean([abs(row["err" + key]) <= 3 for row in hit]))
        figures = [_mean(name + key, hit) for name in ("group", "cover", "kept")]
        right = [_of_stated(hit, key, low, high) for low, high in BANDS]
        out.append(
            f"| {title} | {when} | {len(hit)} | {figures[0]:.3f} | {' | '.join(right)} | {near:.3f} "
            f"| {figures[1]:.3f} | {figures[2]:.4f} |"
        )
    return out


def _of_stated(rows: list[Row], key: str, low: float, high: float) -> str:
    within = [row["group" + key] for row in rows if low <= row["weight" + key] < high]
    return f"{np.mean(within):.2f} of {len(within)}" if within else ""


def _counts(rows: list[Row], title: str) -> str:
    clean = [row for row in rows if not row["carried"]]
    return f"{title}: {sum(not r['faulty'] for r in clean)} healthy lives, {sum(r['faulty'] for r in clean)} faulty"


DELAY_HEAD = (
    *("", "detector", "false calls per life", "faults", "missed", "median delay", "mean delay"),
    *("ratio to best", "ratio with the missed"),
)
CAUSE_HEAD = (
    *("", "when", "calls", "group right", "stated below 50 %: right", "50-70 %", "70-90 %", "90-100 %"),
    *("onset within 3", "90 % set covers", "suspect shots kept"),
)


def _head(names: tuple[str, ...]) -> list[str]:
    return [f"| {' | '.join(names)} |", "|" + "---|" * len(names)]


def table(rows: list[Row], title: str) -> str:
    """Both tables of one set of lives."""
    return "\n".join(
        [
            _counts(rows, title),
            "",
            *_head(DELAY_HEAD),
            *delay_table(rows, title),
            "",
            *_head(CAUSE_HEAD),
            *cause_table(rows, title),
        ]
    )


def tables(rows: list[Row]) -> str:
    """Both tables, all groups of lives in each."""
    by_group = {name: [row for row in rows if keep(row)] for name, keep in GROUPS.items()}
    return "\n".join(
        [
            "; ".join(_counts(ours, name) for name, ours in by_group.items()),
            "",
            *_head(DELAY_HEAD),
            *(line for name, ours in by_group.items() for line in delay_table(ours, name)),
            "",
            *_head(CAUSE_HEAD),
            *(line for name, ours in by_group.items() for line in cause_table(ours, name)),
        ]
    )


def detail(rows: list[Row]) -> str:
    """Every false call, and each kind of fault by itself."""
    out = [f"false call: {row}" for row in rows if row["false"] and not row["carried"]]
    hit = [row for row in rows if "group" in row]
    for name in sorted({row["name"] for row in hit}):
        ours = [row for row in hit if row["name"] == name]
        both = [row for row in ours if row.get("best")]
        said = {group: sum(row["said"] == group for row in ours) for group in sorted({row["said"] for row in ours})}
        out.append(
            f"{name:20s} {len(ours):4d} group {_mean('group', ours):.2f} at the end {_mean('group_end', ours):.2f} "
            f"delay {_mean('delay', both):.1f} best {_mean('best', both):.1f} said {said}"
        )
    return "\n".join(out)


LEFT_HEAD = (
    *("wear", "sisters", "limit on", "bites", "broken a shot", "sisters pulled early", "shots after the call"),
    *("n", "80 % interval holds", "median over truth"),
)
LEFT_KINDS = (
    *(wearing.Trial(course, sisters) for course in wearing.COURSES for sisters in (0, 2, 6)),
    wearing.Trial("even", 6, "peak_pressure"),
    wearing.Trial("even", 6, broken=0.006),
    wearing.Trial("even", 6, pulled=0.5),
    wearing.Trial("even", 6, bites=0.5),
)


def left_table(seed: int, presses: int) -> str:
    """Shots left on inserts that wear to a limit given, made apart from the call: how often the interval holds."""
    said = list(wearing.trials(LEFT_KINDS, seed, presses))
    lines = _head(LEFT_HEAD)
    for kind in LEFT_KINDS:
        for after in sorted({one.later for _, one in said}):
            some = [one for other, one in said if other is kind and one.later == after]
            if some:
                cells = (
                    kind.course,
                    kind.sisters,
                    kind.channel,
                    kind.bites,
                    kind.broken,
                    kind.pulled,
                    after,
                    len(some),
                )
                shown = " | ".join(str(cell) for cell in cells)
                lines.append(f"| {shown} | {wearing.cover(some):.2f} | {wearing.middle(some):.2f} |")
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=20260301)
    parser.add_argument("--presses", type=int, default=60)
    parser.add_argument("--channels", type=int, nargs="*", default=[3, 9])
    parser.add_argument("--no-best", action="store_true", help="neither the best possible detector nor the charts")
    parser.add_argument("--detail", action="store_true")
    wanted = parser.parse_args()
    for n_channels in wanted.channels:
        rows = run(wanted.seed, wanted.presses, n_channels, not wanted.no_best)
        speed = sum(row["shots"] for row in rows) / sum(row["seconds"] for row in rows)
        print(f"{n_channels} channels, seed {wanted.seed}, {wanted.presses} presses; {speed:.0f} shots per second\n")
        print(tables(rows), flush=True)
        if wanted.detail:
            print("\n" + detail(rows))
        otherwise = run(wanted.seed, wanted.presses, n_channels, best=False, beyond=BEYOND)
        for title, judged in (("", rows), (f", {BEYOND:.0%} of the faults of no usual kind", otherwise)):
            print(f"\nstated weights and the share right{title}\n\n{reliability_table(judged)}", flush=True)
        print()
    print(f"shots left, {wanted.presses // 3} presses a row\n\n{left_table(wanted.seed, wanted.presses // 3)}")


if __name__ == "__main__":
    main()
