"""A trial opened in Python, as one would in a notebook: python config/worked_example.py sqlite:///trial.db

Reads only. Every frame is a pandas frame; units are in its attrs.
"""

import sys

import shotlog


def main(url: str) -> None:
    """Print what a log holds: shots by insert, verdicts, signals, and what each insert's cushion did."""
    with shotlog.open_log(url) as log:
        shots, stays, verdicts, signals = log.shots(), log.inserts(), log.verdicts(), log.signals()
    if shots.empty:
        print("no shot yet")
        return
    print(f"{len(shots)} shots on {', '.join(shots['press'].unique())}; units: {shots.attrs['units']}")
    print("\nWho was in the mould:")
    print(stays[["press", "half", "serial", "first", "last", "shots", "reason"]].to_string(index=False))
    if not verdicts.empty:
        print("\nVerdicts, by insert:")
        print(verdicts.groupby(["press", "insert"])["verdict"].value_counts().unstack(fill_value=0).to_string())
    print(f"\nSignals of the charts: {len(signals)}")
    if "cushion" in shots:
        unit = shots.attrs["units"]["cushion"]
        print(f"\nCushion by insert in the moving half, {unit}:")
        print(shots.groupby(["press", "moving"])["cushion"].agg(["count", "mean", "std", "min"]).round(3).to_string())


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "sqlite:///trial.db")
