"""A wheel holds all that a checkout has at work: code, pages' assets, stories, migrations, example configurations."""

import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from shotlog.cli.check import examples

ROOT = Path(__file__).parents[1]
PACKAGES = ("shotlog", "dashboard", "simulators")
BUILD = "import sys; from setuptools.build_meta import build_wheel; build_wheel(sys.argv[1])"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """The names in a wheel, built by its own back end out of a copy: it leaves things beside the sources."""
    folder = tmp_path_factory.mktemp("wheel")
    for top in (*PACKAGES, "config"):
        shutil.copytree(ROOT / top, folder / top, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, folder / name)
    command = [sys.executable, "-c", BUILD, str(folder / "built")]
    (folder / "built").mkdir()
    subprocess.run(command, cwd=folder, check=True, capture_output=True, timeout=120)
    (built,) = (folder / "built").glob("shotlog-*.whl")
    with zipfile.ZipFile(built) as opened:
        return set(opened.namelist())


def test_a_wheel_holds_every_file_of_the_packages(wheel: set[str]) -> None:
    files = {
        file.relative_to(ROOT).as_posix()
        for top in PACKAGES
        for file in (ROOT / top).rglob("*")
        if file.is_file() and "__pycache__" not in file.parts
    }
    assert len(files) > 300
    assert files - wheel == set()
    assert {name for name in wheel if ".dist-info/" not in name and ".data/" not in name} - files == set()


def test_a_wheel_brings_the_example_configurations(wheel: set[str]) -> None:
    brought = {name.rpartition("/")[2] for name in wheel if ".data/data/share/shotlog/" in name}
    assert brought == {file.name for file in (ROOT / "config").iterdir() if file.suffix in (".toml", ".py")}
    assert examples() == ROOT / "config"
