"""What a person found: never keep while it stands, a swap where the insert is damaged, and the life it ends."""

import json
from dataclasses import replace

import pytest
from made import THREE, knowing, life, sisters

from shotlog.facts import Facts, Found
from shotlog.records import InForce, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.finding import beside_finding
from shotlog.wording.blame import headline

COSTS = {"part": 4.0, "insert": 18.0, "changeover": 12.0, "late_find": 9.0}


def judged(notes: dict[int, tuple[str, str]], restart: int = 0) -> tuple[list[str], Monitor]:
    """Return the words on a sound insert of forty shots, and the monitor after the swap; notes by shot."""
    monitor = knowing(3)
    words = []
    events = {n: (note,) for n, note in notes.items()}
    for shot in life(9, "B", 40, first=181, events=events, hours=9):
        if shot.shot == 180 + restart:
            state = json.loads(json.dumps(monitor.save()))
            monitor = Monitor("p", {})
            monitor.restore(state)
        words.append(monitor.step(shot).verdict)
    monitor.step(life(10, "C", 1, first=221, hours=12)[0])
    return words, monitor


@pytest.mark.parametrize(("text", "word"), [("flash", "watch"), ("gate cracked", "swap"), ("looks odd", "watch")])
def test_a_finding_stands_until_the_insert_is_found_sound(text: str, word: str) -> None:
    words, _ = judged({12: ("finding", text), 30: ("sound", "R. K., both halves")})
    assert words == ["keep"] * 11 + [word] * 18 + ["keep"] * 11
    assert words == judged({12: ("finding", text), 30: ("sound", "R. K., both halves")}, restart=20)[0]


def test_what_was_not_seen_is_no_finding() -> None:
    assert set(judged({12: ("finding", "no flash")})[0]) == {"keep"}


@pytest.mark.parametrize(
    ("notes", "ended"),
    [
        ({}, (40, False)),
        ({25: ("finding", "flash")}, (24, True)),
        ({25: ("finding", "flash"), 30: ("sound", "R. K., gate")}, (40, False)),
        ({20: ("note", "flash")}, (40, False)),
    ],
)
def test_a_finding_that_stands_ends_the_life_before_its_shot(
    notes: dict[int, tuple[str, str]], ended: tuple[int, bool]
) -> None:
    last = judged(notes)[1]._mounted.pool.ended["d"][-1]
    assert (last.serial, last.n_shots, last.failed) == ("B", *ended)


def test_an_insert_that_comes_back_is_still_the_one_that_was_found_damaged() -> None:
    _, monitor = judged({25: ("finding", "core cracked")})
    back = [monitor.step(shot) for shot in life(11, "B", 10, first=222, hours=14)]
    assert {one.verdict for one in back} == {"swap"}
    assert back[-1].facts is not None
    assert back[-1].facts.found == Found(180 + 25, "core cracked")
    monitor.step(life(10, "C", 1, first=232, hours=15)[0])
    last = monitor._mounted.pool.ended["d"][-1]
    assert (last.serial, last.n_shots, last.made, last.failed) == ("B", 24, 50, True)


def test_no_cost_contradicts_what_was_seen_or_a_limit_that_is_passed() -> None:
    facts = Facts("called", bad_chance=0.01, next_shot_cost=0.1, swap_cost=0.9)
    verdict = Verdict("p", 40, "A", 40, False, "watch", cause="gate erosion", group="insert", facts=facts)
    seen = beside_finding(verdict, Found(38, "core cracked"))
    assert seen.facts is not None
    assert (seen.verdict, seen.facts.next_shot_cost, seen.facts.found) == ("swap", None, Found(38, "core cracked"))
    doubtful = beside_finding(verdict, Found(38, "flash"))
    assert doubtful.facts is not None
    assert (doubtful.verdict, doubtful.facts.next_shot_cost) == ("watch", 0.1)


def test_costs_and_word_agree_at_every_shot_of_a_life_that_wears_beyond_its_limit() -> None:
    limited = DesignSettings("d", cost=COSTS, limits={"peak_pressure": Bound(low=510.0)})
    monitor = Monitor("p", {"d": limited})
    for shot in sisters(4, THREE):
        monitor.step(shot)
    wear = {"peak_pressure": ("ramp", -0.2)}
    verdicts = [monitor.step(shot) for shot in life(7, "B", 80, first=241, change=wear, onset=20, hours=13)]
    assert verdicts[-1].limits == ("peak_pressure",)
    for one in verdicts:
        assert one.facts is not None
        if one.facts.next_shot_cost is not None and one.facts.swap_cost is not None:
            dearer = one.facts.next_shot_cost > one.facts.swap_cost
            assert (one.verdict == "swap") == (dearer or one.cause == "crack or breakage")
        elif one.verdict == "swap":
            assert one.limits


def beside(halves: dict[int, dict[str, InForce]], notes: dict[int, str]) -> list[Verdict]:
    """Return the verdicts on 40 sound shots; halves from a shot on, findings by shot."""
    monitor, out = Monitor("p", {}), []
    events = {n: (("finding", text),) for n, text in notes.items()}
    for n, shot in enumerate(life(9, "", 40, events=events), 1):
        held = halves[max(at for at in halves if at <= n)]
        out.append(monitor.step(replace(shot, halves=held)))
    return out


def test_what_is_seen_on_one_piece_leaves_with_it_and_seen_again_it_is_the_reused_half() -> None:
    pieces = {n: {"fixed": InForce("H", "h"), "moving": InForce(f"S-{n}", "s", "", True)} for n in range(1, 41)}
    words = [one.verdict for one in beside(pieces, {12: "cracked", 30: "cracked"})]
    assert words == ["keep"] * 11 + ["watch"] + ["keep"] * 17 + ["swap"] * 11


def test_what_is_seen_on_a_piece_is_no_reason_to_swap_the_reused_half() -> None:
    seen = (("finding", "piece cracked on loading"), ("finding", "cracked again"))
    monitor, said = Monitor("p", {}), {}
    for n, shot in enumerate(life(9, "", 40, events={12: seen, 20: seen[1:]}), 1):
        halves = {"fixed": InForce("SH", "h"), "moving": InForce(f"S-{n}", "s", "", True)}
        said[n] = monitor.step(replace(shot, halves=halves, about=("moving",) * len(shot.events)))
    assert {n: one.verdict for n, one in said.items() if one.verdict != "keep"} == {12: "watch", 20: "watch"}
    facts = said[12].facts
    assert facts is not None
    assert facts.found == Found(12, "piece cracked on loading", "moving", "S-12")


def test_a_finding_of_no_half_beside_a_piece_may_be_of_either() -> None:
    pieces = {n: {"fixed": InForce("H", "h"), "moving": InForce(f"S-{n}", "s", "", True)} for n in range(1, 41)}
    facts = beside(pieces, {12: "cracked"})[11].facts
    assert facts is not None
    assert facts.found == Found(12, "cracked", "", "S-12")


def two_halves(entries: dict[int, tuple[tuple[str, str, str], ...]]) -> list[Verdict]:
    """Return the verdicts on 40 sound shots of two reused halves; entries as (kind, text, half) by shot."""
    monitor, said = Monitor("p", {}), []
    events = {n: tuple((kind, text) for kind, text, _ in noted) for n, noted in entries.items()}
    for n, shot in enumerate(life(9, "", 40, events=events), 1):
        halves = {"fixed": InForce("F", "f"), "moving": InForce("M", "m")}
        about = tuple(half for _, _, half in entries.get(n, ()))
        said.append(monitor.step(replace(shot, halves=halves, about=about)))
        if n == 15:
            state = json.loads(json.dumps(monitor.save()))
            monitor = Monitor("p", {})
            monitor.restore(state)
    return said


@pytest.mark.parametrize(
    ("about", "sound", "stands"),
    [
        ("moving", {20: "fixed"}, {"M": (12, 40)}),
        ("moving", {20: "moving"}, {"M": (12, 19)}),
        ("moving", {20: ""}, {"M": (12, 19)}),
        ("moving", {20: "fixed", 30: "moving"}, {"M": (12, 29)}),
        ("", {20: "moving"}, {"M": (12, 19), "F": (20, 40)}),
        ("", {20: "moving", 30: "fixed"}, {"M": (12, 19), "F": (20, 29)}),
    ],
)
def test_found_sound_in_one_half_answers_for_that_half_only(
    about: str, sound: dict[int, str], stands: dict[str, tuple[int, int]]
) -> None:
    entries = {
        12: (("finding", "gate cracked", about),),
        **{n: (("sound", "R. K.", half),) for n, half in sound.items()},
    }
    said = {n: one for n, one in enumerate(two_halves(entries), 1) if one.verdict != "keep"}
    by = {serial: [n for n, one in said.items() if one.insert == serial] for serial in stands}
    assert {serial: (shots[0], shots[-1]) for serial, shots in by.items()} == stands
    assert sum(last - first + 1 for first, last in stands.values()) == len(said)


def test_of_one_shot_what_was_found_before_the_half_was_looked_at_is_answered() -> None:
    found, sound = ("finding", "gate cracked", "moving"), ("sound", "R. K.", "moving")
    assert {one.verdict for one in two_halves({12: (found, sound)})} == {"keep"}
    assert [one.verdict for one in two_halves({12: (sound, found)})][11:] == ["swap"] * 29
    assert [one.verdict for one in two_halves({12: (found, ("sound", "R. K.", "fixed"))})][11:] == ["swap"] * 29


def test_a_finding_goes_with_the_half_that_is_swapped_for_it() -> None:
    old, new = ({"fixed": InForce("F", "f"), "moving": InForce(serial, "m")} for serial in ("M-1", "M-2"))
    verdicts = beside({1: old, 15: new}, {12: "core blade broken off"})
    assert [one.verdict for one in verdicts] == ["keep"] * 11 + ["swap"] * 3 + ["keep"] * 26
    late = beside({1: old, 25: new}, {12: "core blade broken off"})
    assert {one.verdict for one in late[11:24]} == {"swap"}


@pytest.mark.parametrize(("about", "serial"), [("fixed", "F"), ("moving", "M"), ("core", "M"), ("", "M")])
def test_a_finding_stands_against_the_half_it_is_about(about: str, serial: str) -> None:
    monitor, said = Monitor("p", {}), []
    for n, shot in enumerate(life(9, "", 40, events={12: (("finding", "gate cracked"),)}), 1):
        halves = {"fixed": InForce("F", "f"), "moving": InForce("M", "m")}
        said.append(monitor.step(replace(shot, halves=halves, about=(about,) if n == 12 and about else ())))
    assert [one.verdict for one in said] == ["keep"] * 11 + ["swap"] * 29
    assert {one.insert for one in said[11:]} == {serial}
    worded = {headline(one) for one in said[11:]}
    assert worded == {f"Swap {serial}, {about} half" if about in ("fixed", "moving") else "Swap F or M"}


def test_a_finding_that_names_its_half_stays_with_it_whatever_else_leaves() -> None:
    monitor, words = Monitor("p", {}), []
    for n, shot in enumerate(life(9, "", 40, events={12: (("finding", "gate cracked"),)}), 1):
        halves = {"fixed": InForce("F", "f"), "moving": InForce(f"S-{n}", "s", "", True)}
        words.append(monitor.step(replace(shot, halves=halves, about=("fixed",) if n == 12 else ())).verdict)
    assert words == ["keep"] * 11 + ["swap"] * 29

    monitor, words = Monitor("p", {}), []
    seen = dict.fromkeys((12, 20), (("finding", "cracked"),))
    for n, shot in enumerate(life(9, "", 40, events=seen), 1):
        halves = {"fixed": InForce("F", "f"), "moving": InForce(f"S-{n}", "s", "", True)}
        words.append(monitor.step(replace(shot, halves=halves, about=("moving",) if n in seen else ())).verdict)
    assert [n for n, word in enumerate(words, 1) if word != "keep"] == [12, 20], "of the pieces, which are gone"

    monitor, words = Monitor("p", {}), []
    for n, shot in enumerate(life(9, "", 40, events={12: (("finding", "core blade broken off"),)}), 1):
        halves = {"fixed": InForce("F", "f"), "moving": InForce("M-1" if n < 15 else "M-2", "m")}
        words.append(monitor.step(replace(shot, halves=halves, about=("fixed",) if n == 12 else ())).verdict)
    assert words == ["keep"] * 11 + ["swap"] * 29
