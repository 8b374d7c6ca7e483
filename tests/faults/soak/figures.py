"""The figures of a bench, as text."""

from collections import Counter
from statistics import median

import numpy as np

from tests.faults.soak.bench import Bench

__all__ = ["figures"]


def figures(bench: Bench) -> str:
    """Return what was counted, how long things took, and what it cost, a line each."""
    count, logger = bench.verdict, bench.logger
    kinds = Counter(done.planned.kind for done in bench.done)
    skipped = Counter(done.planned.kind for done in bench.done if done.said.startswith("skipped"))
    out = [
        f"seed {bench.seed}; {bench.ended_s:.0f} s; faults {len(bench.done)} of {len(bench.plan)} planned",
        f"shots made {count.offered}, acknowledged {count.acknowledged}, told as waiting {count.waited}, "
        f"stored {count.stored}, judged {count.judged}",
        f"in gaps {count.in_gaps} (of uncertain size {count.uncertain}); could be read and missed {len(count.missed)}",
        f"lost {len(count.lost)}, doubled {len(count.doubled)}, changed {len(count.changed)}, "
        f"neither stored nor in a gap {len(count.unsaid)}, gaps too many {len(count.overstated)}, "
        f"told twice {count.twice_told}",
        f"from start to first shot logged, s: {_spread(logger.restart_s)}; to end when asked: {_spread(logger.stop_s)}",
    ]
    if logger.samples:
        out.append(_machine(bench))
    sizes = {f.name: f.stat().st_size for f in sorted(bench.work.rglob("*")) if f.is_file() and f.name != "eaten"}
    each = count.stored or 1
    out.append(
        "bytes at the end: " + ", ".join(f"{name} {size} ({size / each:.0f} a shot)" for name, size in sizes.items())
    )
    out.append("faults: " + ", ".join(f"{kind} {n}" for kind, n in sorted(kinds.items())))
    out.append("skipped: " + (", ".join(f"{kind} {n}" for kind, n in sorted(skipped.items())) or "none"))
    out.append("nothing said of: " + (", ".join(f"{k} {n}" for k, n in sorted(bench.unnamed.items())) or "none"))
    first = {}
    for done in bench.done:
        first.setdefault(done.planned.kind, done.said)
    out += [f"  said of {kind}: {said}" for kind, said in sorted(first.items()) if said]
    out += [f"set aside by the bench and not readable: {one}" for one in bench.set_aside_unread]
    out.append(f"verify: {bench.verified}")
    out += [f"NOTE {note}" for note in bench.notes]
    out += [f"BROKEN {line}" for line in count.broken[:60]]
    out += [f"could be read and missed: {line}" for line in count.missed[:30]]
    return "\n".join(out)


def _spread(times: list[float]) -> str:
    return f"{len(times)} times, median {median(times):.1f}, longest {max(times):.1f}" if times else "none"


def _machine(bench: Bench) -> str:
    samples = bench.logger.samples
    seconds, memory = np.array([s.at for s in samples]), np.array([s.rss_mb for s in samples])
    lives: dict[int, list[int]] = {}
    for n, sample in enumerate(samples):
        lives.setdefault(sample.process, []).append(n)
    longest = max(lives.values(), key=len)
    opened = f"{samples[longest[0]].files} to {samples[longest[-1]].files} in the longest life"
    longest = longest[len(longest) // 4 :]
    slope = np.polyfit(seconds[longest], memory[longest], 1)[0] * 3600.0 if len(longest) > 600 else float("nan")
    minutes = (seconds[longest[-1]] - seconds[longest[0]]) / 60.0
    return (
        f"memory MB: most {memory.max():.0f}, at the end {memory[-1]:.0f}, slope {slope:+.1f} an hour "
        f"over {minutes:.1f} min; "
        f"open files: most {max(s.files for s in samples)}, {opened}; "
        f"threads: most {max(s.threads for s in samples)}; processes: most {max(s.processes for s in samples)}"
    )
