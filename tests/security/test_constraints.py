"""What is pinned: each package has its hashes, the two lists say the same, and what is installed is what they say."""

import re
from contextlib import suppress
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import pytest

_CONFIG = Path(__file__).parents[2] / "config"
_PIN = re.compile(r"^([a-z0-9-]+)==(\S+)(?: ; ([^\\\n]+?))?(?: \\)?$", re.MULTILINE)


def pins(name: str) -> list[tuple[str, str, str]]:
    return _PIN.findall((_CONFIG / name).read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", ["hashed.txt", "uv.txt"])
def test_every_pin_has_its_hashes(name: str) -> None:
    text = (_CONFIG / name).read_text(encoding="utf-8")
    for one in re.split(r"\n(?=\S)", text.strip()):
        first, *rest = one.splitlines()
        assert _PIN.fullmatch(first), first
        assert rest, first
        assert all(re.fullmatch(r"    --hash=sha256:[0-9a-f]{64}(?: \\)?", line) for line in rest), first


def test_both_lists_say_the_same() -> None:
    assert pins("hashed.txt") == pins("constraints.txt")


def test_what_is_installed_is_what_is_pinned() -> None:
    other = []
    for name, pinned, _ in pins("constraints.txt"):
        with suppress(PackageNotFoundError):  # an extra that this machine does without
            if version(name) != pinned:
                other.append(f"{name} {version(name)}, pinned {pinned}")
    assert other == []
