"""The benchmark of the call: simulated lives, false calls, delay against the best possible detector, cause, onset."""

import argparse
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmark.lives.press import Life, Press

from shotlog.records import Verdict
from shotlog.wear import Monitor

F = NDArray[np.float64]


def recordings(seed: int, n_presses: int, n_channels: int, lives: int = 7) -> Iterator[list[Life]]:
    for i in range(n_presses):
        rng = np.random.default_rng([seed, n_channels, i])
        press = Press(rng, f"press-{i}", n_channels)
        first_faulty = bool(rng.random() < 0.5)
        yield [
            press.life(first_faulty if j == 0 else bool(rng.random() < 0.5), carry=bool(rng.random() < 0.5))
            for j in range(lives)
        ]


def best_delay(life: Life, alpha: float, rng: np.random.Generator, runs: int = 300) -> float | None:
    """Delay of the detector that knows level, noise, direction and slope: the largest log likelihood ratio over onsets,
    its bar set so that a share alpha of healthy lives is called."""
    fault, h = life.fault, life.habits
    assert fault is not None
    p, n = h.n_channels, len(life.residual)
    shots = life.first + np.arange(n)
    phi, wander = h.phi[:p], h.wander[:p]
    responses = np.zeros((n, n, p))
    roots = []
    lag = np.abs(np.subtract.outer(np.arange(n), np.arange(n)))
    for c in range(p):
        cov = phi[c] ** lag + wander[c] ** 2 * 0.95**lag + np.eye(n) * (h.digits[c] / h.sigma[c]) ** 2 / 12
        roots.append(np.linalg.cholesky(cov))
        courses = np.stack(
            [np.concatenate([np.zeros(t), fault.curve(fault.onset + np.arange(n - t))]) for t in range(n)], axis=1
        )
        responses[:, :, c] = np.linalg.solve(roots[c], courses * fault.direction[c])
    inverse = np.linalg.inv(h.correlation[:p, :p])
    seen = np.isin(shots, life.seen)
    effect = fault.curve(shots)[:, None] * fault.direction[:p]
    digits = np.random.default_rng(1).uniform(-0.5, 0.5, (n, p)) * (h.digits / h.sigma)[:p]
    u = np.stack(
        [np.linalg.solve(roots[c], life.residual[:, c] + effect[:, c] + digits[:, c]) for c in range(p)], axis=1
    )
    weighted = responses @ inverse
    info = np.cumsum((weighted * responses).sum(axis=2) * seen[:, None], axis=0)
    noise = rng.normal(size=(runs, n, p)) @ np.linalg.cholesky(h.correlation[:p, :p]).T

    def ratio(x: F) -> F:
        score = np.cumsum(np.einsum("...np,ntp->...nt", x, weighted) * seen[:, None], axis=-2)
        tri = np.tril(np.ones((n, n), bool))
        return np.where(tri, score - 0.5 * info, -np.inf).max(axis=-1)

    bar = np.quantile(ratio(noise).max(axis=1), 1 - alpha)
    line = ratio(u)
    at = np.flatnonzero((line >= bar) & (shots >= fault.onset))
    return float(shots[at[0]] - fault.onset + 1) if len(at) else None


def run(seed: int, n_presses: int, n_channels: int, best: bool = True, alpha: float = 0.07) -> list[dict]:
    rows: list[dict] = []
    for lives in recordings(seed, n_presses, n_channels):
        monitor = Monitor("p", {})
        for life in lives:
            verdicts = [monitor.step(s) for s in life.shots]
            rows.append(score(life, verdicts, best, alpha) | {"press": lives[0].shots[0].press})
    return rows


def score(life: Life, verdicts: list[Verdict], best: bool, alpha: float) -> dict:
    fault = life.fault
    calls = [v for v in verdicts if v.verdict != "keep"]
    row: dict = {
        "n": life.number,
        "faulty": fault is not None,
        "carried": life.carried is not None,
        "tau": life.habits.tau,
    }
    row["name"] = fault.kind.name if fault else ""
    row["coarse"] = life.habits.digits[0] > 0.05
    if fault is None:
        row["false"] = bool(calls)
        if calls:
            row["at"] = calls[0].shots_on_insert
            row["cause"] = calls[0].cause
        return row
    row["false"] = any(v.shot < fault.onset for v in calls)
    row["healthy_share"] = (fault.onset - life.first) / 90
    hit = next((v for v in calls if v.shot >= fault.onset), None)
    row["missed"] = hit is None
    row["end"] = verdicts[-1].shot - fault.onset + 1
    if row["false"]:
        return row
    if best:
        row["best"] = best_delay(life, alpha, np.random.default_rng(5)) if fault.shape != "ring" else None
    if hit is None:
        return row
    row["delay"] = hit.shot - fault.onset + 1
    final = calls[-1]
    for key, v in (("", hit), ("_end", final)):
        row["group" + key] = v.group == fault.kind.group
        row["said" + key] = v.group
        row["cause" + key] = v.cause
        row["weight" + key] = v.weight
        row["err" + key] = v.onset - fault.onset
        row["cover" + key] = v.onset_low <= fault.onset <= v.onset_high
        end = verdicts[-1].shot
        row["kept" + key] = (end - max(v.onset_low, fault.onset) + 1) / (end - fault.onset + 1)
    row["size"] = fault.size
    row["shape"] = fault.shape
    return row


def table(rows: list[dict], title: str) -> str:
    clean = [r for r in rows if not r["carried"]]
    healthy = [r for r in clean if not r["faulty"]]
    faulty = [r for r in clean if r["faulty"]]
    early = sum(r["false"] for r in faulty)
    ok = [r for r in faulty if not r["false"]]
    hit = [r for r in ok if "delay" in r]
    both = [r for r in hit if r.get("best")]

    def mean(key, rs):
        return float(np.mean([r[key] for r in rs])) if rs else float("nan")

    lines = [f"{title}: healthy {len(healthy)} faulty {len(faulty)}"]
    exposure = len(healthy) + sum(r["healthy_share"] for r in faulty)
    rate = (early + sum(r["false"] for r in healthy)) / max(exposure, 1)
    lines.append(
        f"  false/healthy life {mean('false', healthy):.3f}  early calls in faulty {early} -> rate/life {rate:.3f}"
        f"  missed {mean('missed', ok):.3f}"
    )
    if both:
        d, b = np.array([r["delay"] for r in both]), np.array([r["best"] for r in both])
        lines.append(
            f"  delay mean {d.mean():.2f} median {np.median(d):.1f} best {b.mean():.2f} RATIO {d.mean() / b.mean():.3f}"
        )
    for key in ("", "_end"):
        if hit:
            e = np.array([r["err" + key] for r in hit])
            w = np.array([r["weight" + key] for r in hit])
            g = np.array([r["group" + key] for r in hit])
            cal = " ".join(
                f"{lo:.1f}-:{g[(w >= lo) & (w < hi)].mean():.2f}({((w >= lo) & (w < hi)).sum()})"
                for lo, hi in ((0, 0.5), (0.5, 0.7), (0.7, 0.9), (0.9, 1.01))
                if ((w >= lo) & (w < hi)).any()
            )
            lines.append(
                f"  {key or 'call'}: group {g.mean():.3f} onset<=3 {np.mean(np.abs(e) <= 3):.3f} bias {e.mean():.1f} "
                f"cover {mean('cover' + key, hit):.3f} kept {mean('kept' + key, hit):.4f} cal {cal}"
            )
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", type=int, default=20260301)
    parser.add_argument("--presses", type=int, default=60)
    parser.add_argument("--channels", type=int, nargs="*", default=[3, 9])
    parser.add_argument("--no-best", action="store_true")
    parser.add_argument("--detail", action="store_true")
    a = parser.parse_args()
    for c in a.channels:
        t = time.perf_counter()
        rows = run(a.seed, a.presses, c, not a.no_best)
        print(f"== {c} channels, {time.perf_counter() - t:.0f} s")
        print(table([r for r in rows if r["n"] == 1], "first insert"))
        print(table([r for r in rows if r["n"] in (2, 3)], "1-2 sisters"))
        print(table([r for r in rows if r["n"] > 3], "sisters"))
        if a.detail:
            for r in rows:
                if r["false"] and not r["carried"]:
                    print("FALSE", dict(r.items()))
            hit = [r for r in rows if "group" in r]
            for name in sorted({r["name"] for r in hit}):
                h = [r for r in hit if r["name"] == name]
                b = [r for r in h if r.get("best")]
                group, end = np.mean([r["group"] for r in h]), np.mean([r["group_end"] for r in h])
                delay, best = (np.mean([r[key] for r in b]) if b else float("nan") for key in ("delay", "best"))
                print(
                    f"{name:20s} n {len(h)} group {group:.2f} end {end:.2f} delay {delay:.1f} best {best:.1f}",
                    {s: sum(r["said"] == s for r in h) for s in {r["said"] for r in h}},
                )


if __name__ == "__main__":
    main()
