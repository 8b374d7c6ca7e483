"""Every example in a docstring runs and gives what it says."""

import doctest
import importlib
import pkgutil

import pytest

import shotlog

MODULES = sorted(
    found.name
    for found in pkgutil.walk_packages(shotlog.__path__, "shotlog.")
    if ".migrations" not in found.name and not found.name.endswith("__main__")
)


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_run(name: str) -> None:
    failed, _ = doctest.testmod(importlib.import_module(name), optionflags=doctest.NORMALIZE_WHITESPACE)
    assert failed == 0
