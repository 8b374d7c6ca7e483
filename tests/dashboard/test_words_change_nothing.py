"""Every sentence of a verdict reworded into gibberish: what is called, asked, held and drawn stays the same."""

from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hand_filled import Trial
from worn_trial import worn_trial

from dashboard import Source
from dashboard.press import standing as screen
from dashboard.shared.press_reader import PressReader
from dashboard.shift import Query, ShiftReader
from dashboard.shift.figures.timeline import timeline_figure
from shotlog.entries import KINDS
from shotlog.records import Verdict
from shotlog.review.source import Said
from shotlog.store.asked import state
from shotlog.wording import verdicts as wording


def gibberish(monkeypatch: pytest.MonkeyPatch) -> None:
    """Word every verdict in words that look like other sentences of ours."""
    n = count()

    def worded(verdict: Verdict) -> wording.WordedVerdict:
        text = f"{next(n)}: keep; was an insert changed before shot 3?; no change seen in these values since shot 5"
        return wording.WordedVerdict(text, "could be; swap", (text,), "", text, "settling")

    for module in (wording, screen):
        monkeypatch.setattr(module, "worded", worded)


def what_follows(trial: Trial) -> list[Any]:
    """Return what follows from the verdicts of a trial, without its sentences."""
    source = Source(trial.settings, trial.clock)
    try:
        reader = PressReader(source)
        found: list[Any] = []
        for press in ("P25", "P15"):
            view = reader.fresh(press).view
            said = screen.standing(view, trial.clock.now(), trial.clock.now())
            shown = (said.sign, said.headline, said.likely, said.hold, said.check, said.question, said.current)
            verdicts = state.verdicts(trial.log, press, 1, 10_000)
            found += [shown, view.question, view.strips, Said(verdicts).accepted]
            found += [replace(one, sentence="") for one in verdicts]
        return found
    finally:
        source.close()


def forgotten_swap(folder: Path) -> Trial:
    """Return a trial whose last verdict asks about a swap that nobody entered."""
    folder.mkdir()
    trial = Trial(folder)
    for n in range(4):
        trial.mount(f"B-{n}")
        trial.warm_from = trial.next_shot["P25"] - 1
        trial.shots(40)
        trial.clock.advance(1800)
    trial.clock.advance(3600)
    trial.warm_from = trial.next_shot["P25"] - 1
    trial.shots(20, fresh={"cushion": 0.12, "peak_pressure": -14.0})
    return trial


def test_what_is_called_and_asked_does_not_hang_on_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plain = forgotten_swap(tmp_path / "plain")
    before = what_follows(plain)
    plain.close()
    gibberish(monkeypatch)
    reworded = forgotten_swap(tmp_path / "reworded")
    after = what_follows(reworded)
    said = {one.sentence for one in state.verdicts(reworded.log, "P25", 1, 10_000)}
    reworded.close()
    assert after == before
    assert before[1] == 161
    assert len(said) == 180


def test_what_is_held_and_drawn_does_not_hang_on_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    trial = worn_trial(tmp_path)
    before = what_follows(trial)
    gibberish(monkeypatch)
    assert what_follows(trial) == before
    trial.close()


def test_a_kind_of_entry_by_another_word_is_drawn_as_before(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> None:
    """A finding is written before what else was noted there: it was known by its word, and a touch by its text."""
    trial.mount("B-11")
    trial.shots(30)
    for kind, text, shot in (("pause", "pause", 5), ("lot", "L9", 20), ("finding", "flash", 20)):
        trial.note(kind, text, at_shot=shot)
    source = Source(trial.settings, trial.clock)

    def written() -> list[str]:
        figure = timeline_figure(ShiftReader(source).read(Query()))
        return [
            one["text"] for one in figure["layout"]["annotations"] if one["text"] in ("pause", "L9", "flash", "rest")
        ]

    assert written() == ["flash", "pause"]
    monkeypatch.setitem(KINDS, "finding", replace(KINDS["finding"], word="fault"))
    monkeypatch.setitem(KINDS, "pause", replace(KINDS["pause"], word="rest"))
    assert written() == ["flash", "rest"]
    source.close()
