"""A shop as somebody outside meets it: a log with shots, accounts, and the pages served by a process of their own."""

import atexit
import io
import json
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from unittest.mock import patch

from shotlog.cli.main import main
from tests.dashboard.hand_filled import CONFIG, Trial
from tests.security.visitor import Visitor

__all__ = ["LETTERS", "ROLES", "RUNS", "SECRETS", "Shop", "account", "filled", "name_oddly", "serving"]

ROLES = {"anna": "admin", "quinn": "quality", "otto": "operator", "vera": "viewer"}

SECRETS = {
    "vera": "seven grey lorries",
    "otto": "ねこ O'Hara 🐈 <b>",
    "quinn": "half a bath of caustic, and " + "x" * 100,
    "anna": "the third hook from the left",
}
"""Their passwords: any character will do, up to 128 of them."""


RUNS = '"><img src=x onerror=window.ran=1><script>window.ran=1</script>'
"""What would run if it were taken for anything but text."""

LETTERS = "ねこ O'Hara {{1234*4321}} ${1234*4321} 100% &amp; <b>é</b>"

_ODD = (
    ("mount", "P25", RUNS, "--at-shot", "4", "--reason", RUNS, "--design", "<script>window.ran=1</script>"),
    ("note", "P25", "lot", f"{RUNS}", "--initials", "<b>o'h"),
    ("note", "P25", "finding", LETTERS, "--at-shot", "7", "--initials", "<i>ö"),
    ("insert", RUNS, "--post-cure", RUNS, "--remark", LETTERS, "--resin", RUNS),
    ("parts", "P25", "3", "--hold", "--reason", RUNS, "--initials", "<u>"),
    ("place", "P25", "4", RUNS[:35], "--initials", "<u>"),
    ("inspect", "P25", "4", "--finding", RUNS),
)


@dataclass
class Shop:
    """A shop whose pages are being served."""

    file: Path
    port: int
    said: Path
    """What the process said on stderr."""

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def visitor(self, **options: object) -> Visitor:
        return Visitor(self.port, **options)  # type: ignore[arg-type]

    def entries(self) -> list[dict[str, object]]:
        """Return what people entered, as the command tells it."""
        said = io.StringIO()
        with patch("sys.stdout", said):
            assert main(["entries", str(self.file), "--json"]) == 0
        return list(json.loads(said.getvalue()))

    def pictures(self) -> list[str]:
        """Return the names of the pictures that are kept."""
        folder = self.file.parent / "trial.pictures"
        return sorted(one.name for one in folder.iterdir()) if folder.exists() else []

    def written(self) -> bytes:
        """Return all that was written beside the log and said: log, text logs, accounts, sessions."""
        return b"".join(file.read_bytes() for file in sorted(self.file.parent.rglob("*")) if file.is_file())


@cache
def _made(with_accounts: bool) -> Path:
    """Return the folder of a shop, made once: nine shots on an insert, a finding at the last of them."""
    folder = Path(mkdtemp())
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    made = Trial(folder)
    made.mount("B-11")
    made.shots(9)
    made.note("finding", "flash")
    made.close()
    for name, role in ROLES.items() if with_accounts else ():
        done = account(made.file, "add", name, "--role", role, "--initials", name[:2].upper(), password=SECRETS[name])
        assert done[0] == 0, done[1]
    return folder


def filled(folder: Path, dashboard: str = "", with_accounts: bool = False) -> Path:
    """Put a shop into a folder, with these keys of `[dashboard]`; returns its configuration."""
    # copied as a folder, so that a log on a server is copied as well
    shutil.copytree(_made(with_accounts), folder, dirs_exist_ok=True)
    for one in folder.iterdir():
        one.chmod(0o600)
    file = folder / "trial.toml"
    file.write_text(f"{CONFIG}\n[dashboard]\n{dashboard}\n", encoding="utf-8")
    return file


def name_oddly(file: Path) -> None:
    """Enter things whose names would run, or break a query, if they were taken for anything but text."""
    for command, *words in _ODD:
        assert main([command, str(file), *words]) == 0, words


def account(file: Path, change: str, *words: str, password: str = "") -> tuple[int, str]:
    """Make, change or close an account as it is done at the machine; returns the exit status and what was said."""
    said = io.StringIO()
    with (
        patch("sys.stdin", io.TextIOWrapper(io.BytesIO(f"{password}\n".encode()))),
        patch("sys.stderr", said),
        patch("sys.stdout", said),
    ):
        return main(["account", str(file), change, *words]), said.getvalue()


@contextmanager
def serving(file: Path, *options: str, within: Sequence[str] = ()) -> Iterator[Shop]:
    """Serve the pages of a configuration on a free port; `within`: the words of a command that runs it elsewhere."""
    said = file.with_name("said.txt")
    command = [*within, sys.executable, "-m", "dashboard", str(file), "--port", "0", "--ready", "--attached", *options]
    with (
        said.open("w", encoding="utf-8") as errors,
        subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=errors, text=True) as process,
    ):
        try:
            assert process.stdout is not None
            line = process.stdout.readline()
            assert line, said.read_text(encoding="utf-8")
            yield Shop(file, int(json.loads(line)["url"].rsplit(":", 1)[1].strip("/")), said)
        finally:
            process.kill()
