"""Real recordings: calls on steady moulding, what is made of every known change, and worn tools, as tables.

`python -m tests.benchmark.bench_real [--channels three all] [--no-tools]`; needs the open data sets beside the
checkout.
"""

import argparse
import sys

import numpy as np

from shotlog.settings import DesignSettings
from tests.benchmark.lives import real_trials as real
from tests.benchmark.lives import tool_wear


def steady_table(rows: list[real.Steady], title: str) -> str:
    """One line per stretch with a call, and the sum."""
    shots, calls = sum(r.last - r.first + 1 for r in rows), sum(len(r.calls) for r in rows)
    known = sum(real.explained(v.shot) for r in rows for v in r.calls)
    stops = sum(real.after_stop(v.shot) and not real.explained(v.shot) for r in rows for v in r.calls)
    out = [
        f"**{title}**: {len(rows)} lives, {shots} shots, {sum(bool(r.calls) for r in rows)} lives with a call, "
        f"{calls} calls ({known} with a known reason, {stops} just after a stop), "
        f"{90 * (calls - known) / shots:.3f} unexplained calls per 90 shots",
        "",
        "| shots | n | called at (shot of the life) | cause said | onset said | size of the odds |",
        "|---|---|---|---|---|---|",
    ]
    for r in rows:
        if r.calls:
            stop = {v.shot: _why(v.shot) for v in r.calls}
            at = "; ".join(f"{v.shot} ({v.shots_on_insert}{stop[v.shot]})" for v in r.calls)
            odds = ", ".join(f"{v.statistic or 0.0:.1f}" for v in r.calls)
            causes, onsets = ", ".join(v.cause for v in r.calls), ", ".join(str(v.onset) for v in r.calls)
            out.append(f"| {r.first}-{r.last} | {r.last - r.first + 1} | {at} | {causes} | {onsets} | {odds} |")
    return "\n".join(out)


def _why(shot: int) -> str:
    if real.explained(shot):
        return ", known"
    return ", after a stop" if real.after_stop(shot) else ""


def change_table(rows: list[real.Found], title: str) -> str:
    """One line per change, and the sums by kind."""
    out = [
        f"**{title}**",
        "",
        "| first shot | change | before | after | called | delay | onset error | at the end | group | cause |",
        "|---|---|---|---|---|---|---|---|---|---|",
    ]
    for r in rows:
        said = (r.final.group, r.final.cause) if r.final else ("", "")
        called = "before it" if r.early else "yes" if r.call else "no"
        figures = ("", "", "") if r.early or not r.call else (r.delay, r.error, r.last_error)
        out.append(
            f"| {r.change.shot} | {r.change.kind}, {r.change.what} | {r.before} | {r.after} | {called} "
            f"| {' | '.join(map(str, figures))} | {said[0]} | {said[1]} |"
        )
    out += [
        "",
        "| kind | changes | called before | found | missed | median delay | largest | onset within 1 | within 3 |",
    ]
    out.append("|---|---|---|---|---|---|---|---|---|")
    for kind in dict.fromkeys(r.change.kind for r in rows):
        ours = [r for r in rows if r.change.kind == kind]
        fair = [r for r in ours if not r.early]
        hit = [r for r in fair if r.call]
        delays, errors = [r.delay or 0 for r in hit], np.abs([r.error or 0 for r in hit])
        sums = (
            f"{np.median(delays):.0f} | {max(delays)} | {(errors <= 1).sum()} | {(errors <= 3).sum()}"
            if hit
            else " | | | "
        )
        out.append(f"| {kind} | {len(ours)} | {len(ours) - len(fair)} | {len(hit)} | {len(fair) - len(hit)} | {sums} |")
    return "\n".join(out)


def tool_table(rows: list[tool_wear.Judged], title: str, start: int = 0) -> str:
    """One line per tool: first call, wear and change of the first two channels there."""
    out = [
        f"**{title}**",
        "",
        "| tool | shots | calls at | onset said | wear at start, first call, end | first channel | second channel |",
        "|---|---|---|---|---|---|---|",
    ]
    for one in rows:
        tool, n = one.tool, len(one.tool.wear)
        if not one.calls or one.at is None or one.calls[0].onset is None:
            out.append(f"| {tool.name} | {n} | none | | {tool.wear[start]:g}, , {tool.wear[-1]:g} | | |")
            continue
        at = start + one.at - 1
        calls = ", ".join(str(start + v.shots_on_insert) for v in one.calls)
        onset = at + 1 - (one.calls[0].shot - one.calls[0].onset)
        moved = [f"{x[at] / x[start : start + 5].mean() - 1:+.1%}" for x in list(tool.channels.values())[:2]]
        wear = f"{tool.wear[start]:g}, {tool.wear[at]:g}, {tool.wear[-1]:g}"
        out.append(f"| {tool.name} | {n} | {calls} | {onset} | {wear} | {moved[0]} | {moved[1]} |")
    return "\n".join(out)


def tools() -> str:
    """Every table of worn tools."""
    out, start = [], tool_wear.PLATEAU.start
    for together, how in ((False, "each the first of its design"), (True, "with those before as sisters")):
        judged = tool_wear.judge(tool_wear.turning(), tool_wear.TURNING_SETTINGS, together)
        told = f"first calls against a feed force 20 % up: rank correlation {tool_wear.order(judged):.2f}"
        out += [tool_table(judged, f"turning, wear in um, {how}"), told]
        judged = tool_wear.judge(tool_wear.milling(), DesignSettings("tool"), together, start)
        out.append(tool_table(judged, f"milling from block {start + 1}, wear in mm, {how}", start))
    return "\n\n".join(out)


def second_table(rows: list[real.Second], title: str) -> str:
    """One line per pair of steps."""
    seen = sum(one.said is not None or one.closed for one in rows)
    out = [f"**{title}**: {seen} of {len(rows)} seen", "", "| first | second | said at its shot |", "|---|---|---|"]
    for one in rows:
        said = "undone" if one.closed else "" if one.said is None else one.said - one.second.shot + 1
        out.append(f"| {one.first.shot}, {one.first.what} | {one.second.shot}, {one.second.what} | {said} |")
    return "\n".join(out)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--channels", nargs="*", choices=("three", "all"), default=["three", "all"])
    parser.add_argument("--no-tools", action="store_true")
    wanted = parser.parse_args()
    if not real.REAL.exists():
        sys.exit(f"no data: {real.REAL}")
    for name in wanted.channels:
        channels = real.THREE if name == "three" else real.ALL
        title = f"{name} channels"
        print(steady_table(real.steady(channels), f"{title}: steady stretches, first insert of its design"), "\n")
        print(steady_table(real.as_inserts(channels), f"{title}: long runs cut into inserts of 90 shots"), "\n")
        print(steady_table(real.as_logged(channels), f"{title}: days, set-points and lots logged"), "\n")
        print(change_table(real.changes(channels), f"{title}: known changes"), "\n", flush=True)
        print(second_table(list(real.seconds(channels)), f"{title}: a second step in one life"), "\n", flush=True)
    if not wanted.no_tools and tool_wear.TURNING.exists() and tool_wear.MILLING.exists():
        print(tools())


if __name__ == "__main__":
    main()
