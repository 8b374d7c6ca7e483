"""Every cause moves the channels as the process notes say: direction, lead, shape, mass balance, and what resets it.

The effect of a cause is the run with it less the same run without it, in units of the healthy spread; both use the
same random numbers, so the noise cancels and only the cause is left.
"""

import csv
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from simulators.causes import CAUSES
from simulators.machine import fill_in
from simulators.press import mould
from simulators.story import read

SIGMA = {
    "cushion": 0.057,
    "switchover_pressure": 4.1,
    "peak_pressure": 4.5,
    "fill_time": 0.004,
    "recovery_time": 0.09,
    "part_weight": 0.015,
    "insert_temperature": 0.8,
    "cycle_time": 0.7,
}
BALANCE_SIGMA_G = 0.02
ONSET, PAUSE, SWAP, SHOTS, SEEDS = 61, 121, 141, 200, 16
STORY = f"""
[[press]]
name = "T1"
mount = [
    {{ half = "fixed", serial = "A-1" }},
    {{ half = "moving", serial = "B-1" }},
    {{ half = "moving", serial = "B-2", at_shot = {SWAP} }},
]
stop = [{{ at_shot = {PAUSE}, minutes = 30.0 }}]
"""
LATE = slice(100, PAUSE - 2)
"""Shots 101 to 119, 40 to 59 after the onset and before the pause."""


def _rows():
    path = Path(__file__).with_name("signatures.csv")
    lines = [line for line in path.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


ROWS = {row["id"]: row for row in _rows()}


def _cause(row):
    kind = CAUSES[row["cause"]]
    table = {}
    for item in filter(None, row["parameters"].split(";")):
        key, value = item.split("=")
        table[key] = value if key == "key" else float(value)
    if kind.group == "insert":
        table |= {"half": "moving", "serial": "B-1", "onset_on_insert": [ONSET]}
    else:
        table["onset"] = 1 if row["cause"] == "oil-warm-up" else ONSET
    return fill_in(kind(), table, row["id"])


@cache
def _effects(name):
    """Return {channel: (seeds, shots) effect in sigma}, the balance residual among them, and the noisy runs with and
    without.
    """
    press = read(STORY, "story").presses[0]
    effects, healthy, ill = {}, {}, {}
    for seed in range(SEEDS):
        without = mould(press, SHOTS, seed)
        with_it = mould(replace(press, causes=(_cause(ROWS[name]),)), SHOTS, seed)
        for channel, sigma in SIGMA.items():
            effects.setdefault(channel, []).append((with_it.channels[channel] - without.channels[channel]) / sigma)
            healthy.setdefault(channel, []).append(without.channels[channel])
            ill.setdefault(channel, []).append(with_it.channels[channel])
        opened = _residual(with_it) - _residual(without)
        effects.setdefault("balance", []).append(opened / BALANCE_SIGMA_G)
    return [{key: np.array(value) for key, value in table.items()} for table in (effects, healthy, ill)]


def _residual(run):
    """The balance as a logger would draw it up, from the set dose and the reported cushion and weight, g."""
    machine = run.press.machine
    dosed = machine.screw_area_mm2 * 1e-3 * machine.resin.dose_density * machine.set.dose_mm
    return dosed - machine.g_per_mm * run.channels["cushion"] - run.channels["part_weight"]


@pytest.mark.parametrize("name", ROWS)
def test_each_channel_goes_where_it_should(name):
    effects, healthy, ill = _effects(name)
    for channel in SIGMA:
        told = ROWS[name].get(channel, "*")
        effect = effects[channel][:, LATE].mean()
        if told == "v":
            assert ill[channel][:, LATE].std() > 1.15 * healthy[channel][:, LATE].std(), channel
        bounds = {
            "dn": (-1e9, -0.8),
            "up": (0.8, 1e9),
            "dn small": (-3, -0.25),
            "up small": (0.25, 3.5),
            "0": (-0.6, 0.6),
        }
        low, high = bounds.get(told, (-1e9, 1e9))
        assert low <= effect <= high, f"{channel}: told {told}, found {effect:.2f} sigma"


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row["balance"] != "*"])
def test_the_balance_opens_for_press_faults_only(name):
    opened = np.abs(_effects(name)[0]["balance"][:, LATE].mean())
    if ROWS[name]["balance"] == "closed":
        assert opened < 0.7
    else:
        assert opened > 1.5


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row["shape"] != "*"])
def test_the_shape_over_shots_is_the_one_told(name):
    channel, shape = ROWS[name]["shape"].split(":")
    runs = _effects(name)[0][channel][:, ONSET - 1 : PAUSE - 1]
    mean = runs.mean(axis=0)
    end = mean[-6:].mean() or 1e-9
    first, half = mean[:3].mean() / end, mean[26:32].mean() / end
    flying = (np.abs(runs) > 0.4 * np.abs(runs).max()).mean()
    holds = {
        "step": first > 0.8 and half > 0.8,
        "ramp": 0.3 < half < 0.65 and first < 0.35,
        "flattening": 0.5 < half < 0.65 and first < 0.1,
        "acc": half < 0.37,
        "sat": half > 0.8 and first < 0.6,
        "saturating": 0.6 < half < 0.85 and first < 0.3,
        "scatter": runs.std() > 5.0,
        "smeared": first < 0.8 and mean[9] / end > 0.9 and half > 0.95,
        "relaxing": first > 1.5 and 1.1 < half < first,
        "fly": 0.002 < flying < 0.25,
        "var": runs[:, -20:].std() > 1.3 * runs[:, :20].std(),
        "decaying": 1.5 * mean[30] < mean[0] < 3.0 * mean[30],
    }
    assert holds[shape], f"{shape}: first {first:.2f}, half {half:.2f}, end {end:.2f}, flying {flying:.3f}"


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row["swap"] != "*"])
def test_a_swap_resets_what_sits_in_the_insert_and_nothing_else(name):
    effects = _effects(name)[0]
    moved = [channel for channel in SIGMA if abs(effects[channel][:, LATE].mean()) > 0.5]
    for channel in moved:
        before, after = effects[channel][:, LATE].mean(), effects[channel][:, 180:].mean()
        if ROWS[name]["swap"] == "resets":
            assert abs(after) < 0.05 * abs(before), channel
        else:
            assert after / before > 0.6, channel


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row["pause"] not in ("*",)])
def test_a_pause_answers_as_told(name):
    effects = _effects(name)[0]
    channel = ROWS[name]["shape"].split(":")[0] if ROWS[name]["shape"] != "*" else "cushion"
    channel = "cushion" if channel == "insert_temperature" else channel
    before = effects[channel][:, 110 : PAUSE - 1].mean()
    ratio = effects[channel][:, PAUSE - 1].mean() / before
    holds = {"no": 0.8 < ratio < 1.6, "part": 0.3 < ratio < 0.9, "fully": ratio < 0.25, "worse": ratio > 1.5}
    assert holds[ROWS[name]["pause"]], f"{ratio:.2f}"


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row["leads"] != "*"])
def test_the_leading_quantity_passes_two_sigma_first(name):
    effects = _effects(name)[0]
    lead = ROWS[name]["leads"]

    def passed(channel):
        beyond = np.abs(effects[channel].mean(axis=0)) >= 2.0
        return int(np.argmax(beyond)) if beyond.any() else SHOTS

    others = ("cushion",) if "pressure" in lead else ("switchover_pressure", "peak_pressure")
    assert passed(lead) < SHOTS
    assert all(passed(lead) <= passed(other) for other in others)


def test_every_cause_that_is_told_of_has_its_row():
    untold = {"piece-crack", "pot-life", "sensor-stuck"}
    assert {row["cause"] for row in ROWS.values()} == set(CAUSES) - untold


def _weight_effect(kind, table, seed):
    press = read(STORY, "story").presses[0]
    cause = fill_in(CAUSES[kind](), table | {"half": "moving"}, kind)
    with_it = mould(replace(press, causes=(cause,)), 120, seed).channels["part_weight"]
    return with_it - mould(press, 120, seed).channels["part_weight"]


def test_weight_rises_then_falls_when_an_insert_gets_so_hot_that_its_gate_stays_open():
    table = {"onset_on_insert": [61], "heat": 45.0}
    effect = np.mean([_weight_effect("heat-build-up", table, seed) for seed in range(8)], axis=0)
    assert effect[60:70].max() > 3 * SIGMA["part_weight"]
    assert effect[100:].mean() < effect[60:70].max() - 3 * SIGMA["part_weight"]


def test_erosion_turns_from_more_weight_to_scattered_weight_once_the_gate_outlasts_hold():
    table = {"onset_on_insert": [21], "rate": 0.0015}
    runs = np.array([_weight_effect("gate-erosion", table, seed) for seed in range(12)])
    mean = runs.mean(axis=0)
    turn = int(np.argmax(mean))
    assert 50 < turn < 85
    assert mean[-5:].mean() < mean[turn]
    assert runs[:, -5:].std(axis=0).mean() > 10 * runs[:, 30:40].std(axis=0).mean()
