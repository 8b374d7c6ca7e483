"""What an installation without the extras says and still does."""

import re
import subprocess
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

import shotlog
from shotlog.cli.main import main
from shotlog.cli.run import how_it_judges
from shotlog.errors import UsageError
from shotlog.extras import EXTRAS, has, to_install
from shotlog.own_python import own_python
from shotlog.settings import Settings

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
DECLARED = PROJECT["optional-dependencies"]
IMPORTED = re.compile(r"^ *(?:from|import) (\w+)(?=[\w.]*(?: import|$| as ))", re.MULTILINE)
IMPORTED_BY = {"paho-mqtt": "paho"}
HEAVY = sorted({package for packages in EXTRAS.values() for package in packages} | {"lifelines"})


def name(requirement: str) -> str:
    found = re.match(r"[\w.-]+", requirement)
    assert found
    return found[0].lower()


def test_the_extras_are_those_declared() -> None:
    declared = {extra: [IMPORTED_BY.get(name(one), name(one)) for one in DECLARED[extra]] for extra in EXTRAS}
    assert declared == {extra: [*packages] for extra, packages in EXTRAS.items()}
    assert set(DECLARED) == {*EXTRAS, "all", "test"}
    (whole,) = DECLARED["all"]
    assert sorted(re.findall(r"\w+", whole)) == sorted(["shotlog", *EXTRAS])
    assert "shotlog[all]" in DECLARED["test"]


def test_nothing_is_imported_that_is_not_declared() -> None:
    """By reading the source: what a dependency happens to bring along may be gone with its next release."""
    declared = {name(one) for one in [*PROJECT["dependencies"], *(one for extra in EXTRAS for one in DECLARED[extra])]}
    ours, of = {"shotlog", "dashboard", "simulators"}, packages_distributions()
    found = {
        module
        for top in ours
        for file in (ROOT / top).rglob("*.py")
        for module in IMPORTED.findall(file.read_text(encoding="utf-8"))
    }
    packages = {
        of.get(module, [module])[0].lower().replace("_", "-") for module in found - ours - sys.stdlib_module_names
    }
    assert packages - declared == set()
    assert len(packages) > 10


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        ("parquet", ["export", "CONFIG", "--out", "shots.parquet"]),
        ("pictures", ["review", "CONFIG"]),
        ("pictures", ["review", "CONFIG", "--json", "--out", "report.html"]),
        ("pictures", ["chart", "shots.csv", "cushion", "--kind", "ewma", "--png", "ewma.png"]),
    ],
)
def test_what_is_switched_off_names_the_extra_in_one_line(
    extra: str,
    words: list[str],
    afternoon: Settings,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "shots.csv").write_text("cushion\n1\n2\n1\n", encoding="utf-8")
    for package in EXTRAS[extra]:
        monkeypatch.setitem(sys.modules, package, None)
    assert main([str(afternoon.file) if word == "CONFIG" else word for word in words]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert to_install(extra) in err
    assert [file.name for file in tmp_path.iterdir()] == ["shots.csv"]


def test_run_says_once_that_it_judges_without_the_compiler(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "without a compiler" not in how_it_judges()
    monkeypatch.setitem(sys.modules, "numba", None)
    assert "without a compiler" in how_it_judges()
    assert to_install("speed") in how_it_judges()
    assert "\n" not in how_it_judges()


def test_a_notebook_without_frames_is_told_at_once(afternoon: Settings, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(UsageError, match=r'pip install "shotlog\[notebook\]"'):
        shotlog.open_log(afternoon.file)


@pytest.mark.parametrize(
    ("command", "extra"), [("export", "parquet"), ("review", "pictures"), ("chart", "pictures"), ("run", "speed")]
)
def test_the_help_of_a_command_names_the_extra(command: str, extra: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main([command, "--help"])
    assert f"the extra {extra}" in " ".join(capsys.readouterr().out.split())


def test_all_else_is_done_without_any_of_them(afternoon: Settings, tmp_path: Path) -> None:
    """In a process that can load none: judging, lives and costs, plans, answers, a recording, and the pages."""
    script = (
        f"import sys; sys.modules.update(dict.fromkeys({HEAVY}))\n"
        "from shotlog.cli.main import main; from shotlog.extras import EXTRAS, has\n"
        "config, out = sys.argv[1:]\n"
        "assert not any(map(has, EXTRAS))\n"
        "for words in (['check', config], ['export', config, '--out', out], ['inserts', config, '--json'],\n"
        "              ['review', config, '--json'], ['review', config, '--ask', 'doubt'], ['status', config]):\n"
        "    assert main(words) == 0, words\n"
        "from dashboard import Source, build; from shotlog.settings import load; build(Source(load(config)))\n"
        f"print('loaded', [one for one in {HEAVY} if sys.modules.get(one)])"
    )
    command = own_python("-W", "error", "-c", script, str(afternoon.file), str(tmp_path / "shots.csv"))
    done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "loaded []"


def test_what_is_there_is_found_without_loading_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "pyarrow", raising=False)
    assert has("parquet")
    assert "pyarrow" not in sys.modules


def test_every_dependency_has_its_line_of_why() -> None:
    section = (
        (ROOT / "DEVELOPERS.md")
        .read_text(encoding="utf-8")
        .partition("## Why each dependency")[2]
        .partition("\n## ")[0]
    )
    first = [line.split("|")[1] for line in section.splitlines() if line.startswith("| ")][1:]
    told = {word.lower() for cell in first for word in re.findall(r"[\w-]+", re.sub(r"\(.*?\)", "", cell))}
    wanted = {name(one) for one in [*PROJECT["dependencies"], *(one for group in DECLARED.values() for one in group)]}
    assert wanted - {"shotlog"} - told == set()
    pins = (ROOT / "config/constraints.txt").read_text(encoding="utf-8").lower()
    assert [one for one in sorted(wanted - {"shotlog"}) if f"{one}==" not in pins] == []
