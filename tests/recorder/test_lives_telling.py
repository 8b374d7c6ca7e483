"""Two presses of one log: a life that ends on one sharpens the insert on the other, the same live and replayed."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.clock import SystemClock
from shotlog.entries import LIFE
from shotlog.evaluator import Evaluator
from shotlog.life_text import LifeTold, life_text, life_told
from shotlog.recorder.judge import Judge
from shotlog.recorder.lives_telling import LivesTelling
from shotlog.records import Shot, Verdict
from shotlog.settings import Settings, load
from shotlog.store.asked import state
from shotlog.store.asked.entries_made import entries_made, newest_entries
from shotlog.store.inserts.entries import mount, note
from shotlog.store.log.log import Log, open_log
from shotlog.wording.entries import made_said
from tests.recorded_shots import columns_of
from tests.wear.made import START, life

CONFIG = """
[log]
store = "sqlite:///a.db"
{}
[[press]]
name = "P1"
  [press.collector]
  kind = "recording"
[[press]]
name = "P2"
  [press.collector]
  kind = "recording"
"""


def settings_of(folder: Path, call: str = "") -> Settings:
    (folder / "c.toml").write_text(CONFIG.format(call), encoding="utf-8")
    return load(folder / "c.toml")


def shoot(log: Log, press: str, seed: int, shots: int, first: int) -> None:
    made = life(seed, "", shots, first)
    log.append([Shot(press, one.shot, one.shot, one.time + timedelta(days=first), one.values) for one in made])


def play(log: Log, settings: Settings) -> dict[str, Judge]:
    """Let four inserts live on P1, three of them until flash is seen, and one begin on P2, told of them before it."""
    judges = {press: Judge(log, press, settings.designs, SystemClock()) for press in ("P1", "P2")}
    telling = LivesTelling(log, settings, 2, SystemClock())

    def turn() -> None:
        for one in judges.values():
            one.catch_up()
        telling.turn({press: one.evaluator for press, one in judges.items() if one.evaluator is not None})

    for k in range(5):
        mount(log, "P1", f"A-{k}", START, design="d", at_shot=1 + 20 * k, reason="flash" if k else "")
        if k == 4:
            mount(log, "P2", "B", START, design="d")
        shoot(log, "P1", k, 20, 1 + 20 * k)
        turn()
    shoot(log, "P2", 9, 30, 1)
    turn()
    return judges


def test_a_life_on_one_press_is_told_to_the_other_and_says_the_same_replayed(tmp_path: Path) -> None:
    settings = settings_of(tmp_path)
    with open_log(settings.store, read_only=False) as log:
        play(log, settings)
        heard = [life_told(one.text) for one in log.timeline("P2").events if one.kind == LIFE]
        assert [one and (one.serial, one.made, one.gone_off, one.press) for one in heard] == [
            (f"A-{k}", 20, True, "P1") for k in range(4)
        ]
        said = state.verdicts(log, "P2")
        assert said[-1].left_median is not None
        assert said[-1].facts is not None
        assert (said[-1].facts.lives_here, said[-1].facts.lives_elsewhere) == (0, 4)
        with log.reading() as connection:
            from shotlog.store.log.shots import logged_shots

            shots = list(logged_shots(connection, "P2", log.timeline("P2")))
    present = [name for name in CHANNELS if name in shots[0].values]
    recording.write(tmp_path / "r.csv", [columns_of(shots)], present, optional=False)
    evaluator = Evaluator("P2", settings.designs)
    again = [one for shot in recording.read(tmp_path / "r.csv") for one in evaluator.step(shot)]
    assert [replace(one, sentence="") for one in again if isinstance(one, Verdict)] == [
        replace(one, sentence="") for one in said
    ]


def test_nothing_is_told_where_the_configuration_says_so(tmp_path: Path) -> None:
    settings = settings_of(tmp_path, "[call]\nsisters_elsewhere = false")
    with open_log(settings.store, read_only=False) as log:
        play(log, settings)
        assert all(one.kind != LIFE for press in ("P1", "P2") for one in log.timeline(press).events)
        assert state.verdicts(log, "P2")[-1].left_median is None


def test_what_is_told_of_lives_crowds_out_no_entry_of_people(tmp_path: Path) -> None:
    settings = settings_of(tmp_path)
    with open_log(settings.store, read_only=False) as log:
        mount(log, "P2", "B", START, design="d")
        for k in range(6):
            note(log, "P2", LIFE, life_text(LifeTold(f"A-{k}", "d", 20, 20, press="P1")), START)
        assert [one.kind for one in newest_entries(log, "P2", ("mounting", "event"), 4)] == ["mounting"]
        assert [made_said(one) for one in entries_made(log, "P2")][-1] == (
            "P2, first shot to come, a sister on P1: A-5 of d made 20 shots, not known to be off"
        )
