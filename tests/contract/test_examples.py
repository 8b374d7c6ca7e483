"""Every example in a docstring runs and gives what it says."""

import doctest
import importlib
from pathlib import Path

import pytest

import shotlog

ROOM = Path(shotlog.__file__).parent
MODULES = sorted(
    ".".join(("shotlog", *file.relative_to(ROOM).with_suffix("").parts)).removesuffix(".__init__")
    for file in ROOM.rglob("*.py")
    if ">>> " in file.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_run(name: str) -> None:
    failed, tried = doctest.testmod(importlib.import_module(name), optionflags=doctest.NORMALIZE_WHITESPACE)
    assert tried > 0
    assert failed == 0
