"""The map of one press put into the text of a configuration; every other line and comment stays as it is. Pure.

The text is edited by lines, not written anew from what was read, which would lose its comments. So that no odd spelling
is damaged, the result is read again and must hold just what it held, and the map.
"""

import json
import re
import tomllib
from collections.abc import Collection, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any

from shotlog.errors import UsageError

__all__ = ["ONLY_POSSIBLE", "MapText", "toml_value", "with_map"]

ONLY_POSSIBLE = "# only possible: compare with the screen"
"""The end of a line that proposes and does not hold."""

_HEADER = re.compile(r"\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(#.*)?")
_KEY = re.compile(r"\s*([A-Za-z0-9_-]+)\s*=")


@dataclass(frozen=True, slots=True)
class MapText:
    """What goes into a press's collector: its keys (None takes one out), its channels, and remarks below them.

    `gone`: channels that are there and give way.
    """

    keys: Mapping[str, object]
    channels: Mapping[str, Mapping[str, object]]
    remarks: Sequence[str] = field(default_factory=tuple)
    gone: Sequence[str] = field(default_factory=tuple)


def toml_value(value: object) -> str:
    """Write a value as TOML.

    Examples
    --------
    >>> toml_value({"address": 8, "type": "uint16", "scale": 0.01})
    '{ address = 8, type = "uint16", scale = 0.01 }'
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {toml_value(own)}" for key, own in value.items()) + " }"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, float):
        return repr(value)  # of all digits it takes to read the same
    return str(value)


def with_map(text: str, press: str, made: MapText) -> str:
    """Return the configuration with the map of the press in it.

    Raises
    ------
    UsageError
        It is spelt in a way that cannot be edited line by line; says so.
    """
    document = tomllib.loads(text)
    lines = text.splitlines(keepends=True)
    if lines and not lines[-1].endswith("\n"):
        lines[-1] += "\n"
    names = [one.get("name") for one in document.get("press", [])]
    tables = _tables(lines)
    starts = [n for n, (_, path, array) in enumerate(tables) if path == ["press"] and array]
    try:
        own = _own_tables(tables, starts[names.index(press)])
        edited = _edited(lines, own, document["press"][names.index(press)], made)
        result = "".join(edited)
        if tomllib.loads(result) == _expected(document, names.index(press), made):
            return result
    except (ValueError, IndexError, LookupError):
        pass
    raise UsageError(
        f"press {press}: its tables are spelt in a way that this command does not edit, allowed: [[press]], "
        "[press.collector] and [press.collector.channels], each in a line of its own"
    )


_Table = tuple[int, list[str], bool]
"""The line of a header, its path, whether it is one of an array."""


def _tables(lines: Sequence[str]) -> list[_Table]:
    found: list[_Table] = []
    within = ""
    for n, line in enumerate(lines):
        header = _HEADER.fullmatch(line.rstrip("\r\n")) if not within else None
        if header is not None:
            path = [part.strip().strip("\"'") for part in header[2].split(".")]
            found.append((n, path, header[1] == "[["))
            continue
        for mark in ('"""', "'''"):
            if within in ("", mark) and line.count(mark) % 2:
                within = "" if within else mark
    return [*found, (len(lines), [""], False)]


def _own_tables(tables: Sequence[_Table], start: int) -> dict[tuple[str, ...], tuple[int, int]]:
    """Return the tables of one press: the lines from the header to before the next one."""
    own: dict[tuple[str, ...], tuple[int, int]] = {}
    for n in range(start, len(tables) - 1):
        line, path, array = tables[n]
        if n > start and (array or path[0] != "press"):
            break
        own[tuple(path)] = (line, tables[n + 1][0])
    return own


_COLLECTOR = ("press", "collector")
_CHANNELS = (*_COLLECTOR, "channels")


def _edited(
    lines: Sequence[str], own: Mapping[tuple[str, ...], tuple[int, int]], press: Mapping[str, Any], made: MapText
) -> list[str]:
    drop: set[int] = set()
    put: dict[int, list[str]] = {}
    first, last = own[_COLLECTOR]
    indent = _indent(lines[first])
    for path, (start, end) in own.items():
        if path[:2] == _COLLECTOR and len(path) > 2 and (path[2] in made.keys or _replaced(path, made)):
            drop |= set(range(start, end))
    missing = _put_keys(lines, range(first + 1, last), made, drop, put)
    after = _last_used(lines, first, last) + 1
    put.setdefault(after, []).extend(f"{indent}{key} = {toml_value(value)}\n" for key, value in missing.items())
    inline = any((found := _KEY.match(lines[n])) and found[1] == "channels" for n in range(first + 1, last))
    kept = press["collector"]["channels"] if inline else {}
    if _CHANNELS in own:
        start, end = own[_CHANNELS]
        below = _indent(lines[start])
        channels = _put_channels(lines, range(start + 1, end), made, drop, put)
        after = _last_used(lines, start, end, drop - set(put)) + 1
        new = []
    else:
        below = indent + ("  " if indent else "")
        channels = {name: one for name, one in kept.items() if name not in made.gone} | dict(made.channels)
        after = max(end for path, (_, end) in own.items() if path[:2] == _COLLECTOR)
        after = max(_last_used(lines, first, last), _last_used(lines, first, after, drop - set(put))) + 1
        new = [f"{below}[press.collector.channels]\n"]
    rows = [f"{below}{name} = {toml_value(one)}\n" for name, one in channels.items()]
    put.setdefault(after, []).extend([*new, *rows, *(f"{below}# {remark}\n" for remark in made.remarks)])
    result: list[str] = []
    for n in range(len(lines) + 1):
        result += put.get(n, [])
        if n < len(lines) and n not in drop:
            result.append(lines[n])
    return result


def _replaced(path: tuple[str, ...], made: MapText) -> bool:
    return path[:3] == _CHANNELS and len(path) > 3 and (path[3] in made.channels or path[3] in made.gone)


def _put_keys(
    lines: Sequence[str], body: range, made: MapText, drop: set[int], put: dict[int, list[str]]
) -> dict[str, object]:
    """Replace the keys that stand there; return those that do not."""
    missing = {key: value for key, value in made.keys.items() if value is not None}
    for n in body:
        found = _KEY.match(lines[n])
        if found is None or (found[1] not in made.keys and found[1] != "channels"):
            continue
        tomllib.loads(lines[n])  # a value of one line; of another, ValueError
        drop.add(n)
        if found[1] in missing:
            value = missing.pop(found[1])
            put[n] = [f"{_indent(lines[n])}{found[1]} = {toml_value(value)}{_comment(lines[n])}\n"]
    return missing


def _put_channels(
    lines: Sequence[str], body: range, made: MapText, drop: set[int], put: dict[int, list[str]]
) -> dict[str, Mapping[str, object]]:
    missing = dict(made.channels)
    for n in body:
        if lines[n].lstrip().startswith("#") and lines[n].rstrip().endswith(ONLY_POSSIBLE):
            drop.add(n)  # what was proposed the last time
        found = _KEY.match(lines[n])
        if found is None or (found[1] not in made.channels and found[1] not in made.gone):
            continue
        tomllib.loads(lines[n])
        drop.add(n)
        if found[1] in missing:
            put[n] = [f"{_indent(lines[n])}{found[1]} = {toml_value(missing.pop(found[1]))}{_comment(lines[n])}\n"]
    return missing


def _last_used(lines: Sequence[str], first: int, end: int, gone: Collection[int] = ()) -> int:
    """Return the last line of a table that says something; what follows belongs to the next."""
    used = (n for n in range(first, end) if lines[n].strip() and not lines[n].lstrip().startswith("#"))
    return max((n for n in used if n not in gone), default=first)


def _indent(line: str) -> str:
    return line[: len(line) - len(line.lstrip())]


def _comment(line: str) -> str:
    """Return the comment behind a value, with the blanks before it."""
    whole = tomllib.loads(line)
    for n, letter in enumerate(line):
        if letter == "#":
            try:
                same = tomllib.loads(line[:n]) == whole
            except ValueError:
                same = False
            if same:
                value = line[:n].rstrip()
                comment = line[len(value) :].rstrip()
                # who took the mark off such a line has it active; what is written now was not only possible
                return comment.removesuffix(ONLY_POSSIBLE).rstrip()
    return ""


def _expected(document: Mapping[str, Any], at: int, made: MapText) -> dict[str, Any]:
    expected = deepcopy(dict(document))
    collector = expected["press"][at]["collector"]
    for key, value in made.keys.items():
        if value is None:
            collector.pop(key, None)
        else:
            collector[key] = _plain(value)
    channels = collector.setdefault("channels", {})
    for name in made.gone:
        channels.pop(name, None)
    channels.update({name: _plain(one) for name, one in made.channels.items()})
    return expected


def _plain(value: object) -> object:
    return {key: _plain(own) for key, own in value.items()} if isinstance(value, Mapping) else value
