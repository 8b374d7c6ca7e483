"""A trial in a notebook, cell by cell: open it as one (each `# %%` begins a cell), or run it as a program:

    python config/worked_example.py demo/demo.toml quarters.csv

The log is only read, and may be in use meanwhile. Of the extras it needs `notebook` (pandas); where matplotlib is
installed it draws as well.
"""

# %% Open the log by its configuration, its file or its address; the frames are pandas frames from here on
import sys

import pandas as pd

import shotlog

given = [word for word in sys.argv[1:] if not word.startswith("-")]  # a notebook has arguments of its own
where = given[0] if given else "demo/demo.toml"
out = given[1] if len(given) > 1 else ""
zone = "Europe/Berlin"  # where the press stands; the log is in UTC

with shotlog.open_log(where) as log:
    shots, gaps, stays, lives = log.shots(), log.gaps(), log.inserts(), log.lives()
    verdicts, signals, events, parts = log.verdicts(), log.signals(), log.events(), log.parts()

# %% What is in it: one row a shot; units are in the attrs of a frame, which pandas drops when frames are joined
units = shots.attrs["units"]
measured = [name for name in units if not name.endswith("_shots")]
print(f"{len(shots)} shots on {', '.join(shots['press'].unique())}, {gaps['shots'].sum()} missed")
print("measured:", ", ".join(f"{name} in {units[name]}" for name in measured))
if shots.empty:
    sys.exit("no shot yet")
first, last = shots["time"].min().tz_convert(zone), shots["time"].max().tz_convert(zone)
print(f"from {first:%d.%m. %H:%M} to {last:%d.%m. %H:%M}, local time")

# %% Who was in the mould, and what was said, by insert
print(stays[["press", "half", "serial", "first", "last", "shots", "reason"]].to_string(index=False))
print(verdicts.groupby(["press", "insert"])["verdict"].value_counts().unstack(fill_value=0).to_string())
print(f"signals of the charts: {len(signals)}; noted: {len(events)}; parts held: {(parts['state'] == 'held').sum()}")

# %% A channel by insert; a value that is missing is NaN, a dry shot made no part, a single-use piece made but one
made = shots[~shots["dry"]]
reused = made[made["moving"].isin(lives["serial"])]
by_insert = reused.groupby(["press", "moving"])["cushion"].agg(["count", "mean", "std", "min"])
print(f"cushion by insert in the moving half, {units['cushion']}:")
print(by_insert.round(3).to_string())


# %% A chart of one's own: single values, limits from the insert's shots 11 to 25 by their moving range
def chart(of_insert: pd.DataFrame, channel: str) -> pd.DataFrame:
    """Return value, centre and limits at each shot on an insert; empty where there are too few to learn from."""
    learnt = of_insert.loc[of_insert["moving_shots"].between(11, 25), channel].dropna()
    if len(learnt) < 10:
        return pd.DataFrame(columns=["shot", "value", "centre", "low", "high"])
    spread = learnt.diff().abs().mean() / 1.128  # of two values that follow each other, ISO 7870-2
    at = {"centre": learnt.mean(), "low": learnt.mean() - 3 * spread, "high": learnt.mean() + 3 * spread}
    return of_insert[["shot"]].assign(value=of_insert[channel], **at)


for (press, serial), of_insert in reused.groupby(["press", "moving"]):
    points = chart(of_insert, "cushion")
    beyond = points[(points["value"] < points["low"]) | (points["value"] > points["high"])]
    print(f"{press} {serial}: beyond the limits of {len(points)} shots:", *beyond["shot"].head(10))

# %% Drawn, where matplotlib is installed
try:
    import matplotlib.pyplot as plt
except ImportError:
    print("matplotlib is not installed: nothing is drawn")
else:
    _, axes = plt.subplots()
    for _, of_insert in reused.groupby(["press", "moving"]):
        axes.plot(of_insert["moving_shots"].astype(float), of_insert["cushion"], ".-")
    axes.set(xlabel="shot on the insert", ylabel=f"cushion, {units['cushion']}")

# %% How long inserts live: the share still sound after so many shots (Kaplan-Meier), those not gone off counted so long
for design, of_design in lives.groupby("design"):
    sound = 1.0
    for n, ended in of_design.groupby("sound")["gone_off"].sum().items():
        sound *= 1 - ended / (of_design["sound"] >= n).sum()
    print(f"{design}: {len(of_design)} lives, {of_design['gone_off'].sum()} gone off, {sound:.2f} sound at the end")

# %% By quarter of an hour, in local time, to take elsewhere
local = made.assign(time=made["time"].dt.tz_convert(zone)).set_index("time")
quarters = local.groupby("press").resample("15min")["cushion"].agg(["count", "mean", "std"]).reset_index()
quarters = quarters.rename(columns={"mean": f"cushion mean {units['cushion']}", "std": f"std {units['cushion']}"})
print(quarters.head(4).round(3).to_string(index=False))
if out:
    quarters.to_csv(out, index=False)
