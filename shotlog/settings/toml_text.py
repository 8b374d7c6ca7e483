"""The text of a configuration as tables: what is no TOML is told by the line that is not, and how it is written."""

import json
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from shotlog.errors import SettingsError
from shotlog.withheld import without_secrets

__all__ = ["tables_of", "text_of"]


_MOST_BYTES = 500_000
"""Bytes of a configuration at most: hundreds of presses, and nothing that takes long to read."""

_COMMA = re.compile(r"=\s*([+-]?\d+),(\d+)(?!\s*=)")
"""A number written with a comma; in TOML it ends there, and what follows is no key."""

_BARE = re.compile(r"=\s*([^\s\"'\[{#][^\"',#\[\]{}]*?)\s*(#|$)")
"""What is written to the right of a key, where no quotes, brackets or commas are in it."""

_STORE = re.compile(r"\s*[\"']?store[\"']?\s*=\s*[^\"'\s]")
"""The address of the store without quotes; it may hold a password, in whatever shape."""

_NUMBER_LIKE = re.compile(r"[-+.\d_]*")


def text_of(file: Path) -> str:
    allowed = f"a readable configuration file of {_MOST_BYTES // 1000} kB at most"
    try:
        # what is no ordinary file may never end, or never begin
        if file.exists() and not file.is_file():
            given = "a folder" if file.is_dir() else "no ordinary file"
            raise SettingsError(str(file), "the file", given, allowed)
        with file.open("rb") as opened:
            read = opened.read(_MOST_BYTES + 1)
    except OSError as error:
        raise SettingsError(str(file), "the file", error.strerror or str(error), allowed) from error
    if len(read) > _MOST_BYTES:
        raise SettingsError(str(file), "the file", "a larger one", allowed)
    try:
        return read.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        raise SettingsError(str(file), "the file", f"byte {error.start} is not UTF-8", "text in UTF-8") from error


def tables_of(file: Path, text: str) -> Mapping[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SettingsError(str(file), *_no_toml(text, str(error))) from error
    except RecursionError as error:
        raise SettingsError(str(file), "the file", "brackets within brackets without end", "TOML") from error
    except ValueError as error:  # of a whole number with thousands of digits, which Python does not read
        raise SettingsError(str(file), "the file", "a number without end", "TOML") from error


def _no_toml(text: str, error: str) -> tuple[str, str, str]:
    """Return key, given and allowed for a text that is no TOML: a decimal comma, or a text without quotes, by its name,
    else what was found.
    """
    found = re.search(r"line (\d+)", error)
    line = text.split("\n")[int(found[1]) - 1 : int(found[1])] if found is not None else []
    line = [without_secrets(one.rstrip("\r")) for one in line]
    comma = _COMMA.search(line[0]) if line else None
    bare = _BARE.search(line[0]) if line else None
    if found is not None and comma is not None:
        whole, part = comma.groups()
        return f"line {found[1]}", f"{whole},{part}", f"a decimal point, not a comma: {whole}.{part}"
    if found is not None and line and _STORE.match(line[0]):
        return f"line {found[1]}", "an address that is no text", 'a text in quotes: store = "sqlite:///trial.db"'
    if found is not None and bare is not None and not _holds(bare[1]):
        return f"line {found[1]}", bare[1], _instead_of(bare[1])
    return "the file", error, "TOML"


def _holds(value: str) -> bool:
    """Say whether a value may stand as it is: what is wrong with its line is then something else."""
    try:
        tomllib.loads(f"key = {value}")
    except ValueError:
        return False
    return True


def _instead_of(value: str) -> str:
    """Return how a value is written that holds neither quotes nor brackets, and is none of TOML."""
    if value.lower() in ("true", "false"):
        return f"small letters: {value.lower()}"
    if _NUMBER_LIKE.fullmatch(value) and value.count(".") < 2:
        return "a number, such as 5 or 0.5"
    return f"a text in quotes: {json.dumps(value, ensure_ascii=False)}"
