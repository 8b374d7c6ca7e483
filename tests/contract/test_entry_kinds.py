"""What holds of every kind of entry: noted by command and at the page, stored, exported, replayed, shown.

The kinds come from the table, so that a new one is held to all of it by its row alone.
"""

import csv
import json
import re
import shutil
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from dashboard import Source, build
from dashboard.press.entry_panel import entry_buttons
from dashboard.shared.press_reader import PressReader
from dashboard.shared.who import INITIALS
from dashboard.shift import Query, ShiftReader
from dashboard.shift.blocks import block_of
from dashboard.shift.figures.timeline import timeline_figure
from dashboard.shift.frame import frame
from dashboard.shift.tables import happened_table
from shotlog import recording
from shotlog.cli.main import main
from shotlog.entries import KINDS
from shotlog.settings import load
from shotlog.store.asked import state
from shotlog.wear.change.causes import CAUSES, GROUPS
from shotlog.wording.entries import entry_text

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
"""

EVERY = 4
"""Shots from one entry to the next."""


def at(kind: str) -> int:
    """The shot that a kind is noted at."""
    return 10 + EVERY * list(KINDS).index(kind)


def one(kind: str) -> str:
    """The text that a kind is noted with, by the one who looked where it has to say who."""
    return f"R. K., one {kind}" if KINDS[kind].who else f"one {kind}"


def run(folder: Path, command: str, *words: object) -> str:
    """Run a command on the trial in a folder and return what it printed."""
    said = StringIO()
    with redirect_stdout(said), redirect_stderr(StringIO()):
        assert main([command, str(folder / "c.toml"), *map(str, words)]) == 0
    return said.getvalue()


@dataclass(frozen=True)
class Noted:
    """A trial in which every kind was noted once by command."""

    folder: Path
    said: dict[str, str]
    report: str

    def source(self) -> Source:
        return Source(load(self.folder / "c.toml"))


@pytest.fixture(scope="module")
def noted(tmp_path_factory: pytest.TempPathFactory) -> Noted:
    folder = tmp_path_factory.mktemp("noted")
    (folder / "c.toml").write_text(CONFIG, encoding="utf-8")
    rows = [
        f"P25,{n},2026-01-05T{6 + n // 60:02d}:{n % 60:02d}:00Z,,B-1,,,,{3.2 + 0.01 * (n % 3):.2f}\n"
        for n in range(1, 10 + EVERY * len(KINDS) + 5)
    ]
    head = "press,shot,time,fixed,moving,core,design,event,cushion\n"
    (folder / "r.csv").write_text(head + "".join(rows), encoding="utf-8")
    run(folder, "import", folder / "r.csv")
    said = {
        kind: run(folder, "note", "P25", kind, one(kind), "--at-shot", at(kind), "--initials", "RK") for kind in KINDS
    }
    run(folder, "export", "--out", folder / "back.csv")
    run(folder, "review", "--out", folder / "review.html")
    return Noted(folder, said, (folder / "review.html").read_text(encoding="utf-8"))


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_noted_by_command_and_stored(noted: Noted, kind: str) -> None:
    number = list(KINDS).index(kind) + 1
    assert noted.said[kind] == f"P25: {kind} at shot {at(kind)}: {one(kind)} (event {number})\n"
    source = noted.source()
    (row,) = state.entries(source.reading(), "P25", at(kind), at(kind))
    source.close()
    assert (row.event.kind, row.event.text, row.taken_back) == (kind, one(kind), False)


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_exported_and_read_back(noted: Noted, kind: str) -> None:
    with (noted.folder / "back.csv").open(encoding="utf-8", newline="") as file:
        cells = {row["shot"]: row["event"] for row in csv.DictReader(file)}
    assert cells[str(at(kind))] == f"{kind}:{one(kind)}"
    events = {shot.shot: shot.events for shot in recording.read(noted.folder / "back.csv")}
    assert events[at(kind)] == ((kind, one(kind)),)


def test_a_replay_of_every_kind_says_what_was_said_live(noted: Noted) -> None:
    run(noted.folder, "replay", noted.folder / "back.csv", "--verdicts", noted.folder / "verdicts.csv")
    with (noted.folder / "verdicts.csv").open(encoding="utf-8", newline="") as file:
        replayed = [(row["shot"], row["settling"], row["verdict"]) for row in csv.DictReader(file)]
    source = noted.source()
    live = state.verdicts(source.reading(), "P25")
    source.close()
    assert replayed == [(str(one.shot), str(one.settling).lower(), one.verdict) for one in live]


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_shown_at_the_press(noted: Noted, kind: str) -> None:
    source = noted.source()
    view = PressReader(source).fresh("P25").view
    source.close()
    assert [line.text for line in view.strips.events if line.shot == at(kind)] == [entry_text(kind, one(kind))]


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_shown_after_the_shift(noted: Noted, kind: str) -> None:
    source, row = noted.source(), KINDS[kind]
    shift = ShiftReader(source).read(Query())
    source.close()
    (item,) = [item for item in block_of(shift.presses[0], False, "").noted if item.shot == at(kind)]
    assert (item.kind, item.text, item.entry) == (row.word, one(kind), kind)
    (marks,) = [trace for trace in timeline_figure(shift)["data"] if trace["name"] == "noted"]
    drawn = dict(zip(marks["text"], marks["marker"]["symbol"], strict=True))
    assert drawn[f"shot {at(kind)}, {row.word}: {one(kind)}"] == row.mark.page
    assert any(cells[1:2] == (at(kind),) and one(kind) in cells for cells in happened_table(shift).rows)
    assert f" {row.word}" in json.dumps(frame().to_plotly_json(), cls=_Plain)


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_in_the_report(noted: Noted, kind: str) -> None:
    listed = re.findall(r"<tr><td>([^<]*)</td><td>(\d+)</td><td>[^<]*</td><td>([^<]*)</td>", noted.report)
    assert (entry_text(kind, one(kind)), str(at(kind)), "RK,\u00a0typed") in listed
    lined = f"{kind} {one(kind)}"[:14] if KINDS[kind].named else kind
    texts = [piece.partition("<")[0] for piece in noted.report.split(">")]
    named = [kind, *({KINDS[kind].word} - {kind})]
    # beside its mark on the timeline, unless it is too long for its room there
    assert any(name in texts for name in named) or len(KINDS[kind].word) > 7
    assert not KINDS[kind].lined or lined in texts


def touches(component: Any) -> dict[str, dict[str, str]]:
    """Return what each button under a component carries, by its words."""
    found: dict[str, dict[str, str]] = {}
    plain = json.loads(json.dumps(component, cls=_Plain))

    def walk(one: Any) -> None:
        if isinstance(one, list):
            for each in one:
                walk(each)
        elif isinstance(one, dict):
            held = one.get("props", {})
            if one.get("type") == "Button" and "data-what" in held:
                found[str(held["children"])] = {"what": held["data-what"], "arg": held["data-arg"]}
            walk(held.get("children"))

    walk(plain)
    return found


class _Plain(json.JSONEncoder):
    def default(self, o: Any) -> Any:
        return o.to_plotly_json()


@pytest.fixture
def client(noted: Noted, tmp_path: Path) -> Iterator[FlaskClient]:
    """The pages of a copy of the trial, which a test may enter things in."""
    source = Noted(shutil.copytree(noted.folder, tmp_path / "own"), {}, "").source()
    yield build(source).server.test_client()
    source.close()


def touched(client: FlaskClient, touch: dict[str, str], fields: dict[str, str]) -> dict[str, Any]:
    """Send a touch as the browser does, with what the fields of the open panel hold; return what came back."""
    output = next(
        one["output"] for one in client.get("/_dash-dependencies").get_json() if "said.children" in one["output"]
    )
    names = [name.rsplit(".", 1) for name in output.strip(".").split("...")]
    given = [{"id": {"type": "field", "name": n}, "property": "value", "value": text} for n, text in fields.items()]
    answer = client.post(
        "/_dash-update-component",
        json={
            "output": output,
            "outputs": [{"id": name, "property": what} for name, what in names],
            "inputs": [{"id": "touch", "property": "data", "value": touch}],
            "changedPropIds": ["touch.data"],
            "state": [
                given,
                [],
                {"id": "press", "property": "data", "value": "P25"},
                {"id": INITIALS, "property": "data", "value": ""},
            ],
        },
    )
    found: dict[str, Any] = answer.get_json()["response"]
    return found


@pytest.mark.parametrize("kind", [name for name, kind in KINDS.items() if kind.button])
def test_a_kind_with_a_panel_is_entered_there(client: FlaskClient, kind: str) -> None:
    row, buttons = KINDS[kind], touches(entry_buttons())
    panel = touched(client, buttons[row.button], {})["panel"]["children"]
    assert row.prompt in json.dumps(panel)
    inside = touches(panel)
    assert set(row.quick) <= set(inside)
    given = {f"{kind}.text": f"typed {kind}", f"{kind}.shot": str(at(kind) + 1), f"{kind}.who": "R. K."}
    assert not row.who or row.who in json.dumps(panel)
    text = f"R. K., typed {kind}" if row.who else f"typed {kind}"
    words = [f"{entry_text(kind, text)}, at shot {at(kind) + 1}"]
    answers = [touched(client, inside["Enter"], given)]
    for text in row.quick:
        answers.append(touched(client, inside[text], given))
        words.append(f"{entry_text(kind, text)}, at shot {at(kind) + 1}")
    assert [answer["refused"]["children"] for answer in answers] == [""] * len(answers)
    for answer, said in zip(answers, words, strict=True):
        assert said in json.dumps(answer["said"]["children"])
        assert "Taken back" in _taken_back(client, answer)


@pytest.mark.parametrize(("kind", "text"), [(name, text) for name, kind in KINDS.items() for text in kind.at_once])
def test_a_kind_with_buttons_of_its_own_is_entered_at_one_touch(client: FlaskClient, kind: str, text: str) -> None:
    answer = touched(client, touches(entry_buttons())[text.capitalize()], {})
    assert f"{entry_text(kind, text)}, at shot " in json.dumps(answer["said"]["children"])
    assert "Taken back" in _taken_back(client, answer)


@pytest.mark.parametrize("kind", [name for name, kind in KINDS.items() if kind.who])
@pytest.mark.parametrize(("who", "text"), [("", ""), ("", "the gate"), ("R. K.", " ")])
def test_a_kind_that_has_to_say_who_is_refused_without(client: FlaskClient, kind: str, who: str, text: str) -> None:
    """Nobody stands behind "looks fine"."""
    button = touches(entry_buttons())[KINDS[kind].button]
    enter = touches(touched(client, button, {})["panel"]["children"])["Enter"]
    answer = touched(client, enter, {f"{kind}.who": who, f"{kind}.text": text, f"{kind}.shot": ""})
    assert "allowed: who looked, a comma, and what was looked at" in answer["refused"]["children"]
    assert answer["said"]["children"] == ""


@pytest.mark.parametrize("text", ["", "  ", "looks fine", ", gate", "R. K.,"])
def test_a_command_that_does_not_say_who_looked_is_refused(
    noted: Noted, text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    config = str(noted.folder / "c.toml")
    assert main(["note", config, "P25", "sound", text]) == 2
    said = capsys.readouterr().err
    assert "text of sound: given " in said
    assert "allowed: who looked, a comma, and what was looked at, such as 'R. K., gate and parting line'" in said


def _taken_back(client: FlaskClient, answer: dict[str, Any]) -> str:
    """Undo an entry, say yes, and return what is said of it."""
    asked = touched(client, touches(answer["said"]["children"])["Undo"], {})
    yes = touches(asked["panel"]["children"])["Yes, take it back"]
    return json.dumps(touched(client, yes, {})["said"]["children"])


def test_what_the_call_is_told_of_is_there() -> None:
    for kind in KINDS.values():
        assert set(kind.effect.likelier) <= set(CAUSES)
        assert kind.effect.moves in ("", *GROUPS)


def test_kinds_are_told_apart() -> None:
    kinds = list(KINDS.values())
    shown = [(kind.word, kind.mark.sign, kind.mark.page, kind.mark.report) for kind in kinds]
    for column in zip(*shown, strict=True):
        assert len(set(column)) == len(kinds)
    buttons = [text.capitalize() for kind in kinds for text in kind.at_once] + [k.button for k in kinds if k.button]
    assert len(set(buttons)) == len(buttons)
    assert set(buttons) < set(touches(entry_buttons()))


def test_at_a_centre_only_what_can_be_entered_there_has_a_button() -> None:
    assert set(touches(entry_buttons("hall-2"))) == {"Finding", "Note", "Vents cleaned"}
