"""Whole answers, word for word: a day of commands, the verdicts of its shots, the report of it, its pages.

What was said stands in the texts beside this file. A test fails on any difference; where the difference is meant, run
``SHOTLOG_SAY_AGAIN=1 pytest tests/said`` and read what `git diff` shows of it, as a person at the press would.
"""

import os
import re
import time
from collections.abc import Iterator
from datetime import UTC
from html import unescape
from pathlib import Path

import pytest

from dashboard import Source, build
from dashboard.pages import PAGES
from shotlog.clock import HandClock
from shotlog.report import render
from shotlog.review import review
from shotlog.settings import load
from shotlog.store.log.log import open_log
from tests.dashboard.asked_for import Tab, ask, words
from tests.said.day import END, day

HERE = Path(__file__).parent


def compare(name: str, said: str) -> None:
    file = HERE / name
    if os.environ.get("SHOTLOG_SAY_AGAIN"):
        file.write_text(said, encoding="utf-8", newline="\n")
    assert said.splitlines() == file.read_text(encoding="utf-8").splitlines()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder to be in, at a place on earth where it is UTC."""
    with monkeypatch.context() as there:
        there.chdir(tmp_path)
        there.setenv("COLUMNS", "120")
        there.setenv("TZ", "UTC")
        time.tzset()
        yield tmp_path
    time.tzset()


def test_a_day(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """One test, because a day is one thing: the report and the pages are of what was typed before."""
    said = day(monkeypatch, capsys)
    settings = load(folder / "day.toml")
    with open_log(settings.store) as log:
        report = render(review(log, settings, END), UTC)
    source = Source(settings, HandClock(END))
    try:
        pages = said_on_pages(source)
    finally:
        source.close()
    compare("commands.txt", as_it_came(said))
    for verdicts in ("verdicts.csv", "pauses-verdicts.csv"):
        compare(verdicts, to_six_digits((folder / verdicts).read_text(encoding="utf-8")))
    compare("folder.txt", headed(folder / "trials"))
    whole = told(report).partition("\nThe record\n")[0] + "\n"
    compare("report.txt", re.sub(r"[0-9a-f]{64}", "(as it came)", whole))
    compare("pages.txt", re.sub(r"trial.db: [\d.]+ MB", "trial.db: some MB", pages.replace(str(folder), ".")))


def headed(folder: Path) -> str:
    """Return the names of all files of an exported trial, with the first lines of each that is text."""
    said = []
    for file in sorted(folder.rglob("*.*")):
        lines = file.read_text(encoding="utf-8").splitlines() if file.suffix in (".csv", ".json", ".md", ".txt") else []
        whole = file.suffix != ".csv" or file.stem == "dictionary"
        said += [f"== {file.relative_to(folder).as_posix()}", *(lines if whole else lines[:8])]
    return as_it_came("\n".join(said) + "\n")


def as_it_came(said: str) -> str:
    """Leave out how many transactions the judging took, which hangs on how fast the machine is, and every digest."""
    return re.sub(r"[0-9a-f]{64}|\d+(?= transactions)", "(as it came)", said)


def to_six_digits(said: str) -> str:
    """Leave out the last digits of long numbers, which hang on how a processor sums."""
    return re.sub(r"(?<![\w.:-])-?\d+\.\d{5,}(e-?\d+)?\b", lambda number: f"{float(number[0]):.6g}", said)


def told(page: str) -> str:
    """Return the words of a page in their order, a line for each row, paragraph and heading; of figures theirs too."""
    text = re.sub(r"<style.*?</style>|<script.*?</script>|<defs.*?</defs>|<!--.*?-->", "", page, flags=re.DOTALL)
    text = re.sub(r"\s+", " ", text)
    text = re.sub(r"</(tr|p|h\d|li|svg|summary|dt|dd|div|figcaption)>", "\n", text)
    text = re.sub(r"</(td|th|text)>", " | ", text)
    lines = (unescape(re.sub(r"<[^>]*>", "", line)).strip(" |") for line in text.splitlines())
    return "\n".join(line for line in lines if line) + "\n"


def said_on_pages(source: Source) -> str:
    client = build(source).server.test_client()
    found: dict[str, object] = {page.label: ask(client, "page.children", url=page.path) for page in PAGES}
    for press in source.presses:
        found[press] = Tab(client, press).refresh()
    found["plant"] = ask(client, "plant.children", plant_tick=1)
    found["presses"] = ask(client, "presses.children", presses_tick=1)
    found["parts"] = ask(client, "parts-held.children", parts_tick=1)
    for search in ("", "?press=P58", "?press=P58&life=M-02", "?press=P25&axis=time"):
        found[f"shift {search}"] = ask(client, "shift-lead.children", shift_url=search)
        found[f"life {search}"] = ask(client, "shift-life-name.children", shift_url=search)
    for serial in ("M-01", "M-02", "F-01", "C-01"):
        found[f"story of {serial}"] = ask(client, "story-made.children", story_serial=serial)
    return "\n".join(f"== {name}\n" + "\n".join(lines_of(sent)) for name, sent in found.items()) + "\n"


def lines_of(sent: object) -> Iterator[str]:
    """Yield a line for each part of a page that was sent: its words, or what a figure draws."""
    assert isinstance(sent, dict)
    for name, properties in sent.items():
        for what, value in properties.items():
            if what == "figure":
                yield f"{name}: {len(value['data'])} traces"
                for trace in value["data"]:
                    yield f"  {trace.get('name', '')}: {trace.get('x')} {trace.get('y')} {trace.get('text')}"
            elif what == "children":
                yield f"{name}: {' | '.join(words(value))}"
