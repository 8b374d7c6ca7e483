"""What every channel promises, found from the table: a new row is stored, read back, exported, replayed, judged, shown
and reported at once, with its unit and its decimals.

Each channel has a press of its own, which reports it beside the three that are always charted; from shot 28 on it
stands twenty of its least changes higher.
"""

import csv
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pint
import pytest

from dashboard import Source
from dashboard.shared.figures.strips import strips_in_words
from dashboard.shift import Query, ShiftReader
from dashboard.shift.figures.lives import life_figure
from dashboard.shift.life import read_life
from shotlog import recording
from shotlog.channels import ALWAYS_CHARTED, CHANNELS, Channel
from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.evaluator import Evaluator
from shotlog.recorder import Judge
from shotlog.records import Shot, Verdict
from shotlog.report import render
from shotlog.review import Review, review
from shotlog.settings import Settings, load
from shotlog.store.asked.state import verdicts
from shotlog.store.inserts.entries import mount
from shotlog.store.log.log import Log, open_log
from shotlog.wear.life.stretch import COVARIATES
from shotlog.wording.numbers import heading
from shotlog.wording.verdicts import told as in_words

START = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)
N_SHOTS, MOVED_AT, MOVED = 32, 28, 20.0
CHARTED = tuple(CHANNELS[name] for name in ALWAYS_CHARTED)


def level(channel: Channel) -> float:
    """A believable value that is no round number."""
    return channel.low + (channel.high - channel.low) / 3.0


def values(channel: Channel) -> list[dict[str, float]]:
    """The values of each shot, with digits that only an exact copy keeps."""
    rng = np.random.default_rng(3)
    found = []
    for n in range(1, N_SHOTS + 1):
        shot = {c.name: level(c) + float(rng.normal(0.0, c.least_change / 2)) for c in (*CHARTED, channel)}
        shot[channel.name] += MOVED * channel.least_change * (n >= MOVED_AT)
        found.append(shot)
    return found


@dataclass
class Told:
    """The log with a press for each channel, what was made of it, and where it lies."""

    file: Path
    settings: Settings
    log: Log
    review: Review
    page: str
    exported: Path


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Told]:
    folder = tmp_path_factory.mktemp("channels")
    file = folder / "trial.toml"
    presses = "".join(f'[[press]]\nname = "{name}"\ncollector = {{ kind = "recording" }}\n' for name in CHANNELS)
    file.write_text(f'[log]\nstore = "sqlite:///trial.db"\n{presses}', encoding="utf-8")
    settings = load(file)
    clock = HandClock()
    with open_log(settings.store, read_only=False) as log:
        for name, channel in CHANNELS.items():
            mount(log, name, f"B-{name}", START, half="moving", at_shot=1, design="d")
            made = enumerate(values(channel), 1)
            log.append([Shot(name, n, n, START + timedelta(minutes=n), shot) for n, shot in made])
            Judge(log, name, settings.designs, clock).catch_up()
        found = review(log, settings, START + timedelta(days=1))
        exported = folder / "all.csv"
        assert main(["export", str(file), "--out", str(exported)]) == 0
        yield Told(file, settings, log, found, render(found, UTC), exported)


@pytest.fixture(params=CHANNELS)
def channel(request: pytest.FixtureRequest) -> Channel:
    return CHANNELS[request.param]


def written(channel: Channel, value: float) -> str:
    return f"{value:.{channel.decimals}f}"


def test_it_says_what_it_is_in_which_unit_and_how_finely(channel: Channel) -> None:
    assert pint.UnitRegistry().Unit(channel.unit)
    assert channel.label[:1].isupper()
    assert channel.definition
    assert channel.low < channel.high
    assert channel.decimals >= 0
    assert 0.0 < 10.0**-channel.decimals <= channel.least_change, "its least change would not show"


def test_it_is_stored_and_read_back_to_the_last_bit(told: Told, channel: Channel) -> None:
    assert [dict(shot.values) for shot in told.log.logged(channel.name)] == values(channel)
    frame = told.log.shots(channel.name)
    assert frame[channel.name].tolist() == [shot[channel.name] for shot in values(channel)]
    assert frame.attrs["units"][channel.name] == channel.unit


def test_it_is_exported_and_replayed_as_it_was_judged(told: Told, channel: Channel) -> None:
    with told.exported.open(encoding="utf-8", newline="") as file:
        cells = [row[channel.name] for row in csv.DictReader(file) if row["press"] == channel.name]
    assert [float(cell) for cell in cells] == [shot[channel.name] for shot in values(channel)]
    again = Evaluator(channel.name, told.settings.designs)
    shots = [shot for shot in recording.read(told.exported) if shot.press == channel.name]
    judged = [one for shot in shots for one in again.step(shot) if isinstance(one, Verdict)]
    assert [replace(one, sentence=in_words(one)) for one in judged] == verdicts(told.log, channel.name)


def test_a_change_in_it_is_called_and_said_with_its_unit_and_decimals(told: Told, channel: Channel) -> None:
    """Cycle time is what others are held against: it is never called itself."""
    said = verdicts(told.log, channel.name)[-1]
    moved = re.search(rf"\b{channel.label.lower()} up (\d+(?:\.\d+)?) {re.escape(channel.unit)} ", said.sentence)
    if channel.name in COVARIATES:
        assert (said.verdict, moved) == ("keep", None)
        return
    assert (said.verdict != "keep", said.onset) == (True, MOVED_AT)
    assert moved is not None, said.sentence
    assert len(moved[1].partition(".")[2]) == channel.decimals
    assert float(moved[1]) == pytest.approx(MOVED * channel.least_change, rel=0.25)
    (press,) = (one for one in told.review.presses if one.press == channel.name)
    assert list(press.values[channel.name]) == [shot[channel.name] for shot in values(channel)]
    assert f"up {moved[1]} {channel.unit}" in told.page


def test_status_and_the_chain_of_a_part_show_it(
    told: Told, channel: Channel, capsys: pytest.CaptureFixture[str]
) -> None:
    last = values(channel)[-1][channel.name]
    assert main(["status", str(told.file), "--press", channel.name]) == 0
    shown = capsys.readouterr().out.splitlines()
    assert [channel.label, *written(channel, last).split(), channel.unit] == next(
        [channel.label, *line.removeprefix(f"    {channel.label}").split()]
        for line in shown
        if line.startswith(f"    {channel.label} ")
    )
    assert main(["part", str(told.file), channel.name, str(N_SHOTS)]) == 0
    of_part = [line.split() for line in capsys.readouterr().out.splitlines()]
    head = heading(channel.name).split()
    of_channel = next(line[len(head) :] for line in of_part if line[: len(head)] == head)
    assert of_channel[0].replace("\N{MINUS SIGN}", "-") == written(channel, last).replace("\N{MINUS SIGN}", "-")
    assert main(["status", str(told.file), "--press", channel.name, "--json"]) == 0
    (state,) = json.loads(capsys.readouterr().out)["presses"]
    assert (state["values"][channel.name], state["units"][channel.name]) == (last, channel.unit)


def test_the_pages_draw_it_under_its_name_with_its_unit(told: Told, channel: Channel) -> None:
    source = Source(told.settings, HandClock())
    reader = ShiftReader(source)
    life = read_life(reader, Query(life=f"B-{channel.name}", channels=(channel.name,)))
    source.close()
    assert life is not None
    (strip,) = life.strips.strips
    assert strip.channel == channel.name
    assert list(strip.values) == [shot[channel.name] for shot in values(channel)]
    assert f"{channel.label}: last {written(channel, strip.values[-1])} {channel.unit}" in strips_in_words(life.strips)
    drawn = json.dumps(life_figure(life), default=str)
    assert f"{channel.label} %{{y:.{channel.decimals}f}} {channel.unit}" in drawn
