"""What may never be said (design.md, sections 4 and 8; safety.md, section 7), looked for in all a whole day says."""

import csv
import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest
from playwright.sync_api import Page

from tests.examined.shop import CYCLE_S, MORNING, Row, Shop, sound_day, sound_values

NEVER = re.compile(
    r"\bgood parts?\b|\bparts? (?:is|are) (?:good|ok|okay|fine|sound)\b|\bhealth|fingerprint|template match|\badvisor\b"
    r"|\bco-?pilot\b|\bsmart\b|\binsights?\b|quality (?:score|index|rate)|\bsafe to (?:open|enter|run|use)\b"
    r"|\bguarantee",
    re.IGNORECASE,
)
NEVER_SAYS = re.compile(r"[^.]*\bnever (?:says|a statement)[^.]*\.", re.IGNORECASE)
"""A sentence that says what is never said may say it."""


def told(text: str) -> list[str]:
    """Return what a text should not say, with some words around it."""
    text = NEVER_SAYS.sub("", text)
    return [text[max(0, found.start() - 40) : found.end() + 40] for found in NEVER.finditer(text)]


COMMANDS = (
    "check", "status", "inserts", "insert A-07 B-11", "parts P1", "parts P1 --all", "part P1 10", "part P1 180",
    "part P1 220", "entries P1", "explain P1 40", "explain P1 90", "explain P1 185", "explain P1 230", "bath list",
    "queue P1", "weights P1", "plan --design cap-r2 --parts 100",
)  # fmt: skip


@pytest.mark.parametrize("command", COMMANDS)
def test_no_command_says_it(whole: Shop, command: str) -> None:
    said = whole.ask(*command.split())
    assert said.status == 0, said.err
    assert told(said.all) == []


def test_the_report_does_not_say_it_nor_what_makes_it(whole: Shop, tmp_path: Path) -> None:
    said = whole.ask("review", "--out", tmp_path / "report.html")
    assert said.status == 0, said.err
    assert told(said.all) == []
    text = re.sub(r"<(style|script)\b.*?</\1>|<[^>]+>", " ", (tmp_path / "report.html").read_text("utf-8"), flags=re.S)
    assert told(text) == []


def test_the_help_of_no_command_says_it(whole: Shop) -> None:
    for command in ("", *{"review", *(each.split()[0] for each in COMMANDS)}):
        assert told(whole.ask(*filter(None, (command, "--help"))).all) == []


@pytest.mark.browser
def test_no_page_says_it(whole: Shop, opened: Callable[[Shop, str], Page]) -> None:
    page = opened(whole, "/press/P1")
    links = page.locator("nav a, header a").evaluate_all("all => all.map(one => one.href)")
    home = page.url.split("/press")[0]
    found = {}
    for link in dict.fromkeys([*links, f"{home}/part/P1/180", f"{home}/part/P1/10", f"{home}/plan"]):
        page.goto(link)
        page.wait_for_selector("main h1")
        page.wait_for_load_state("networkidle")
        assert "No such page" not in page.inner_text("main"), link
        found[link] = told(page.inner_text("body"))
    assert {link: words for link, words in found.items() if words} == {}


# While a finding stands.


@pytest.fixture
def cracked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    shop = Shop(tmp_path, monkeypatch)
    shop.take(sound_day(60))
    shop.do("note", "P1", "finding", "crack", "--half", "fixed", "--initials", "kq")
    return shop


def test_nothing_unchanged_is_claimed_while_a_finding_stands(cracked: Shop) -> None:
    """What was said on the day stays on record, and is marked as that."""
    for said in (cracked.do("status"), cracked.do("explain", "P1", 60), cracked.do("part", "P1", 60)):
        for line in said.lower().splitlines():
            before, claimed, _ = line.partition("no change seen")
            assert not claimed or "crack" in before or before.strip().startswith(("on the day", "by the values")), line


@pytest.mark.browser
def test_the_page_leads_with_the_finding_and_the_half(cracked: Shop, opened: Callable[[Shop, str], Page]) -> None:
    cracked.now = MORNING + timedelta(seconds=CYCLE_S * 60 + 10)
    cracked.alive()
    page = opened(cracked, "/press/P1")
    headline, standing = page.inner_text("#standing h1"), page.inner_text("#standing")
    for word in ("Keep", "No change", "B-11"):
        assert word not in headline
    said = standing.lower().partition("no change seen")[0]
    for word in ("crack", "a-07", "fixed", "kq"):
        assert word in said, standing


@pytest.mark.browser
def test_held_parts_are_on_the_page_also_with_keep(
    cracked: Shop, opened: Callable[[Shop, str], Page], tmp_path: Path
) -> None:
    cracked.do("note", "P1", "good", "saw it", "--at-shot", 50)
    cracked.do("mount", "P1", "A-08", "--half", "fixed")
    noise = Random(3)
    cracked.take([Row(n, sound_values(n, noise), fixed="A-08") for n in range(61, 101)], "later.csv")
    assert cracked.verdict() == "keep"
    cracked.now = MORNING + timedelta(seconds=CYCLE_S * 100 + 10)
    cracked.alive()
    text = opened(cracked, "/press/P1").inner_text("main")
    assert re.search(r"\b10 parts\b[^\n]*\bheld\b|\bheld\b[^\n]*\b10\b", text, re.IGNORECASE), text
    assert re.search(r"\b51\b", text)


# While a limit is passed, while a change lasts, while it is the other half, while it is about cost.


def test_keep_is_never_said_beyond_an_action_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shop = Shop(tmp_path, monkeypatch)
    config = shop.config.read_text(encoding="utf-8") + "[design.cap-r2.limits]\ncushion = { low = 4.6 }\n"
    shop.config.write_text(config, encoding="utf-8")
    rows = sound_day(60)
    for shot in (5, 33, 60):
        rows[shot - 1].values["cushion"] = 4.55
    shop.take(rows)
    for shot in (33, 60):
        said = shop.do("explain", "P1", shot)
        assert not re.search(r"^\s*keep\b|verdict: keep", said, re.IGNORECASE | re.MULTILINE), said
        assert "4.6" in said
    assert shop.verdict() != "keep"


def test_a_change_that_lasts_is_not_forgiven(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shop = Shop(tmp_path, monkeypatch)
    noise = Random(8)
    rows = [Row(n, sound_values(n, noise)) for n in range(1, 221)]
    for row in rows[69:]:
        row.values["cushion"] = round(row.values["cushion"] - 0.45, 2)
        row.values["peak_pressure"] = round(row.values["peak_pressure"] - 14, 1)
    shop.take(rows)
    shop.do("export", "--out", tmp_path / "out.csv")
    shop.do("replay", tmp_path / "out.csv", "--verdicts", tmp_path / "verdicts.csv")
    with (tmp_path / "verdicts.csv").open(encoding="utf-8", newline="") as file:
        said = {int(row["shot"]): row["verdict"] for row in csv.DictReader(file)}
    first = min(shot for shot, verdict in said.items() if shot >= 70 and verdict != "keep")
    assert first <= 76
    assert [shot for shot in range(first, 221) if said[shot] == "keep"] == []


def test_no_cost_contradicts_the_verdict_beside_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Costs at which going on is cheap: whatever is called, the figures beside it say the same."""
    shop = Shop(tmp_path, monkeypatch)
    cost = "[design.cap-r2.cost]\npart = 4.0\ninsert = 180.0\nchangeover = 120.0\nlate_find = 1.0\n"
    shop.config.write_text(shop.config.read_text(encoding="utf-8") + cost, encoding="utf-8")
    noise = Random(8)
    rows = [Row(n, sound_values(n, noise)) for n in range(1, 111)]
    for row in rows[69:]:
        row.values["cushion"] = round(row.values["cushion"] - 0.012 * (row.shot - 69), 2)
        row.values["peak_pressure"] = round(row.values["peak_pressure"] - 0.5 * (row.shot - 69), 1)
    shop.take(rows)
    shop.do("note", "P1", "finding", "flash", "--half", "moving", "--at-shot", 100)
    for shot in (60, 80, 90, 99, 100, 105, 110):
        said = shop.do("explain", "P1", shot).lower()
        verdict = shop.asked("explain", "P1", shot)["verdict"]["verdict"]
        if verdict == "swap":
            assert not re.search(r"cheaper to go on|going on (?:is|was) cheaper|go on while", said), f"{shot}: {said}"
        if verdict == "keep":
            assert not re.search(r"cheaper to swap now|swapping now (?:is|was) cheaper", said), f"{shot}: {said}"
