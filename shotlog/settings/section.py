"""A table of the configuration, read key by key: every wrong one is told by file, key, given and allowed."""

import difflib
import json
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Any

from shotlog.errors import SettingsError
from shotlog.withheld import without_secrets

__all__ = ["Section", "fits_a_cell", "path_beside", "shown"]


class Section:
    """A table of the configuration that remembers which of its keys were asked for.

    Every reader checks type and range and reports file, key, given and allowed. `finish()` rejects the keys
    nobody asked for, naming the nearest known one. `understood` is shared by all tables of a file: every key that was
    asked for, by its whole name, with the value that holds and whether the file gives it.
    """

    def __init__(
        self, file: str, path: str, table: Mapping[str, Any], understood: dict[str, tuple[object, bool]] | None = None
    ) -> None:
        self.file, self.path = file, path
        self.understood = {} if understood is None else understood
        self._table = dict(table)
        self._asked: set[str] = set()

    def wrong(self, key: str, allowed: str) -> SettingsError:
        """Return the error for `key` of this table."""
        given = shown(key, self._table[key]) if key in self._table else "nothing"
        return SettingsError(self.file, self._full(key), given, allowed)

    def wrong_secret(self, key: str, allowed: str) -> SettingsError:
        """Return the error for `key`, of which nothing is shown: what it holds is secret, however it is written."""
        return SettingsError(self.file, self._full(key), "something that is not shown here", allowed)

    def has(self, key: str) -> bool:
        """Say whether the file gives `key`."""
        self._asked.add(key)
        if key not in self._table:
            self.understood.setdefault(self._full(key), (None, False))
        return key in self._table

    def peek(self, key: str) -> object:
        """Return what the file gives under `key`, unchecked; None where nothing. A reader still has to ask for it."""
        return self._table.get(key)

    def unknown(self, key: str, known: Collection[str]) -> SettingsError:
        """Return the error for a key that is none of `known`, with the nearest of them."""
        near = difflib.get_close_matches(key, known, n=1)
        hint = f" (did you mean {near[0]}?)" if near else ""
        return SettingsError(self.file, self._full(key), "an unknown key", f"{', '.join(known) or 'no key here'}{hint}")

    def only(self, known: Collection[str]) -> None:
        """Reject the keys that are none of `known`."""
        for key in self._table:
            if key not in known:
                raise self.unknown(key, known)

    def text(self, key: str, default: str | None = None) -> str:
        """Return a non-empty text."""
        value = self._get(key, default, "text")
        if not isinstance(value, str) or (not value and default != ""):
            raise self.wrong(key, "text")
        if "\0" in value:
            raise self.wrong(key, "text without NUL")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts; none where the file gives none."""
        value = self._get(key, [], "a list of texts")
        if not isinstance(value, list) or not all(isinstance(item, str) and item for item in value):
            raise self.wrong(key, "a list of texts")
        self.understood[self._full(key)] = (tuple(value), key in self._table)
        return tuple(value)

    def choice(self, key: str, allowed: tuple[str, ...], default: str | None = None) -> str:
        """Return one of the words in `allowed`."""
        value = self._get(key, default, " | ".join(allowed))
        if value not in allowed:
            raise self.wrong(key, " | ".join(allowed))
        return str(value)

    def flag(self, key: str, default: bool) -> bool:
        """Return true or false."""
        value = self._get(key, default, "true | false")
        if not isinstance(value, bool):
            raise self.wrong(key, "true | false")
        return value

    def integer(self, key: str, low: int, high: int, default: int | None = None) -> int:
        """Return a whole number from `low` to `high`."""
        allowed = f"whole number {low} to {high}"
        value = self._get(key, default, allowed)
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise self.wrong(key, allowed)
        return value

    def number(self, key: str, low: float, high: float, default: float | None = None, nonzero: bool = False) -> float:
        """Return a number from `low` to `high`; with `nonzero`, zero is refused."""
        allowed = f"number {low:g} to {high:g}{', not 0' if nonzero else ''}"
        value = self._get(key, default, allowed)
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            raise self.wrong(key, allowed)
        if nonzero and value == 0:
            raise self.wrong(key, allowed)
        return float(value)

    def section(self, key: str, optional: bool = False) -> "Section":
        """Return the table under `key`; an empty one where it is optional and absent."""
        value = self._get(key, {} if optional else None, "a table")
        if not isinstance(value, Mapping):
            raise self.wrong(key, "a table")
        return self._below(self._full(key), value)

    def sections(self, key: str) -> list["Section"]:
        """Return the list of tables written ``[[key]]``."""
        value = self._get(key, [], f"tables written [[{self._full(key)}]]")
        if not isinstance(value, list) or not all(isinstance(item, Mapping) for item in value):
            raise self.wrong(key, f"tables written [[{self._full(key)}]]")
        return [self._below(f"{self._full(key)}[{n}]", item) for n, item in enumerate(value, 1)]

    def items(self) -> Iterator[tuple[str, "Section"]]:
        """Return every entry of this table, each itself a table."""
        for key in self._table:
            yield key, self.section(key)

    def keys(self) -> tuple[str, ...]:
        """Return the keys the file gives, in its order."""
        return tuple(self._table)

    def finish(self) -> None:
        """Reject the keys that nobody asked for."""
        self.only(sorted(self._asked))

    def _full(self, key: str) -> str:
        return f"{self.path}.{key}" if self.path else key

    def _below(self, path: str, table: Mapping[str, Any]) -> "Section":
        self.understood.pop(path, None)
        return Section(self.file, path, table, self.understood)

    def _get(self, key: str, default: object, allowed: str) -> Any:
        self._asked.add(key)
        if key not in self._table and default is None:
            raise self.wrong(key, allowed)
        value = self._table.get(key, default)
        if not isinstance(value, Mapping | list):
            self.understood[self._full(key)] = (value, key in self._table)
        return value


def shown(key: str, value: object) -> str:
    """Return the value of a key as it may be shown: in 60 characters, and without what is secret."""
    text = json.dumps(without_secrets(value), ensure_ascii=False) if isinstance(value, str) else repr(value)
    text = without_secrets(f"{key} = {text}").removeprefix(f"{key} = ")
    return text if len(text) <= 60 else text[:57] + "..."


def path_beside(section: Section, key: str, file: Path) -> Path | None:
    """Read the name of a folder or file; a relative one lies beside the configuration."""
    if not section.has(key):
        return None
    name = section.text(key)
    if not name or "\0" in name:
        raise section.wrong(key, "the name of a folder")
    return file.parent / name


def fits_a_cell(name: str, marks: str) -> bool:
    """Say whether a name can stand in a recording, where such marks separate."""
    return bool(name) and name == name.strip() and name.isprintable() and not any(mark in name for mark in marks)
