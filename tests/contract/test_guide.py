"""The guide in docs/ names only what there is: its commands exist, its configuration reads, its links lead on."""

import re
import textwrap
from pathlib import Path

import pytest

from shotlog.cli.main import COMMANDS, main
from shotlog.collectors import options
from shotlog.settings import load
from shotlog.store.log.log import open_log

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "docs" / "guide.md").read_text(encoding="utf-8")


def test_every_command_it_names_is_there() -> None:
    names = set(re.findall(r"\bshotlog(?:\.exe`? with `)? ([a-z]+)\b", GUIDE))
    there = {module.__name__.rpartition(".")[2].rstrip("_") for module in COMMANDS}
    assert {"run", "check", "probe", "verify"} <= names & there
    assert set(re.findall(r"`shotlog ([a-z]+)", GUIDE)) <= there


def test_its_configuration_reads_and_says_what_the_comments_say(tmp_path: Path) -> None:
    start = GUIDE.index("    [log]\n")
    block = textwrap.dedent(GUIDE[start : GUIDE.index("\n## ", start)])
    (tmp_path / "trial.toml").write_text(block, encoding="utf-8")
    (press,) = load(tmp_path / "trial.toml").presses
    told = "\n".join(options(press).describe())
    for name, number in (("shot_counter", 40001), ("cushion", 40004), ("peak_pressure", 40005)):
        assert re.search(rf"^{name}: .*\({number} in a map", told, re.MULTILINE)
    assert "low word first" in told


def test_its_links_lead_somewhere_and_the_readme_leads_to_it() -> None:
    for target in re.findall(r"\]\(([^)#]+)", GUIDE):
        assert (ROOT / "docs" / target).exists(), target
    assert "](docs/guide.md)" in (ROOT / "README.md").read_text(encoding="utf-8")


@pytest.mark.file  # a server has ways of its own to be kept
def test_its_way_back_from_a_dead_computer_leads_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The commands of the chapter on backups, as they stand there, on a log in use."""
    chapter = GUIDE[GUIDE.index("## Backup") : GUIDE.index("### The head of the log")]
    (tmp_path / "trial.toml").write_text(
        '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P"\n[press.collector]\nkind = "recording"\n',
        encoding="utf-8",
    )
    (tmp_path / "try").mkdir()
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        log.use_trial("trial 7", "cap", "PP", "2026-11-28T06:00:00.000000Z")
        expected = log.verify()
        for line in (
            "backup trial.toml --out D:/kept/trial.zip",
            "restore try/trial.toml trial.zip",
            "verify try/trial.toml",
        ):
            assert f"shotlog {line}" in chapter
            words = line.replace("D:/kept/", "").split()
            assert main([str(tmp_path / word) if "." in word else word for word in words]) == 0
    assert expected[1] in capsys.readouterr().out
    with open_log(f"sqlite:///{(tmp_path / 'try' / 'trial.db').as_posix()}") as copy:
        assert copy.verify()[0] == expected[0] + 1
