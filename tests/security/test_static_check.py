"""The static check for security is on, and whatever it was told to pass over has its reason beside it."""

import re
import tomllib
from pathlib import Path

_ROOT = Path(__file__).parents[2]
_PASSED_OVER = re.compile(r"#\s*noqa(?::\s*(?P<rules>[A-Z]+\d+(?:,\s*[A-Z]+\d+)*))?(?P<why>.*)")


def test_it_is_on_for_all_that_runs() -> None:
    lint = tomllib.loads((_ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["ruff"]["lint"]
    assert "S" in lint["select"]
    assert not [rule for rule in lint["ignore"] if rule.startswith("S")]
    assert [where for where, rules in lint["per-file-ignores"].items() if any(r[0] == "S" for r in rules)] == [
        "tests/*"
    ]


def test_every_exception_has_its_reason_beside_it() -> None:
    bare = [
        f"{file.relative_to(_ROOT)}: {line.strip()}"
        for room in ("shotlog", "dashboard", "simulators", "config", ".ci")
        for file in (_ROOT / room).rglob("*.py")
        for line in file.read_text(encoding="utf-8").splitlines()
        if (found := _PASSED_OVER.search(line))
        and re.search(r"\bS\d|^$", found["rules"] or "")
        and not re.search(r"\w{3}", found["why"])
    ]
    assert bare == []
