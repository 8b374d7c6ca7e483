"""A short trial on two presses, judged by hand: three moving inserts under one fixed, the second of them wears.

By hand, so that what the page shows does not hang on how sharp the detector is, and takes no time to judge.
"""

from pathlib import Path

from hand_filled import Trial

from shotlog.channels import ALWAYS_CHARTED
from shotlog.clock import iso_utc
from shotlog.facts import ChannelChange, Facts
from shotlog.records import Baseline, Gap, Judged, Shot, Signal, Verdict
from shotlog.store.log import judgements

LEVELS = {"cushion": 4.94, "peak_pressure": 542.0, "fill_time": 0.72}
ONSET, CALLED, SWAP = 56, 62, 66
_SETTLING = 8


def worn_trial(folder: Path) -> Trial:
    """Return the trial: P25 shots 1 to 87 with 71 to 73 missed, a change called on B-12 since 56; P15 shots 1 to 9."""
    made = Trial(folder)
    made.log.use_trial("week 48", "cap", "PP", iso_utc(made.clock.now()))
    made.mount("A-07", "fixed")
    made.mount("B-11", print_batch="N4")
    _shots(made, "P25", 1, 30)
    made.note("lot", "L2")
    made.mount("B-12")
    _shots(made, "P25", 31, 70)
    made.note("finding", "flash")
    made.mount("B-13", at_shot=74)
    made.log.append([Gap("P25", 71, 73, made.clock.now(), "counter went on")])
    _shots(made, "P25", 74, 87)
    made.mount("S-01", press="P15", single_use=True)
    _shots(made, "P15", 1, 9)
    _judge(made)
    made.alive()
    return made


def _shots(made: Trial, press: str, first: int, last: int) -> None:
    for shot in range(first, last + 1):
        made.clock.advance(75)
        made.log.append([Shot(press, shot, shot, made.clock.now(), _values(press, shot))])


def _values(press: str, shot: int) -> dict[str, float]:
    """Return values that scatter evenly about their levels; from the onset to the swap the cushion falls."""
    scatter = (shot * 7 % 11 - 5) / 5.0
    fallen = 0.05 * (shot - ONSET) if press == "P25" and ONSET <= shot <= 70 else 0.0
    return {
        "cushion": round(LEVELS["cushion"] + 0.03 * scatter - fallen, 3),
        "peak_pressure": round(LEVELS["peak_pressure"] + 3.0 * scatter, 1),
        "fill_time": round(LEVELS["fill_time"] + 0.003 * scatter, 4),
    }


def _judge(made: Trial) -> None:
    with made.log.transaction() as work:
        time = iso_utc(made.clock.now())
        press_id = work.press_id("P25", time)
        number = judgements.open_judging(work, press_id, 1, "by hand", "a test", time)
        for serial, first, last in (("B-11", 1, 30), ("B-12", 31, 70), ("B-13", 74, 87)):
            judged: list[Judged] = [_verdict(serial, first, shot) for shot in range(first, last + 1)]
            for channel in ALWAYS_CHARTED:
                level = LEVELS[channel]
                frozen = (first + 4, first + 11, 8, level, 0.01 * level, 0.97 * level, 1.03 * level)
                judged.append(Baseline("P25", serial, channel, *frozen))
            judgements.record(work, press_id, number, judged)
        fell = (4.3, 4.94, 4.8, 5.08)
        judgements.record(work, press_id, number, [Signal("P25", 69, "individuals", "cushion", "below", *fell)])


def _verdict(serial: str, first: int, shot: int) -> Verdict:
    n = shot - first + 1
    if serial == "B-12" and shot >= CALLED:
        facts = Facts("called", changes=(ChannelChange("cushion", -0.3, 0.05),))
        verdict = "swap" if shot >= SWAP else "watch"
        return Verdict(
            "P25", shot, serial, n, False, verdict, "", ("individuals:cushion:below",), "gate erosion", "insert", 0.9,
            ONSET, 54, 58, facts=facts,
        )  # fmt: skip
    if n <= _SETTLING:
        return Verdict("P25", shot, serial, n, True, "keep", facts=Facts("settling", judged_from=first + _SETTLING + 1))
    facts = Facts("quiet", quiet_since=first + _SETTLING, n_sisters=2)
    return Verdict("P25", shot, serial, n, False, "keep", facts=facts)
