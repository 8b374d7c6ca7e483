"""Which tests run which line: asked of all tests once, kept in build/, asked again only of the tests that changed.

Three things hide a test from the lines that it checks. A fixture that several tests share runs in the first of them
only: the others count as reaching its lines too. A line that runs while a file is imported (a table, a default) runs in
no test: whoever reaches any other line of that file counts, and so do the tests of the same folder. And a program that
a test starts is not looked into: a line that nothing else reaches is left to the tests that start programs.
"""

import ast
import difflib
import hashlib
import json
import os
import subprocess
import sys
from collections import defaultdict
from itertools import accumulate
from pathlib import Path
from typing import Any

import coverage

__all__ = ["Reach"]

MOST_S = 30.0
"""Tests to run for one mistake, in seconds that they took: one that only a slower test notices is told too late."""
QUICK_S = 5.0
WHOLE = "tests/said/"
"""Whole answers notice most of what is derived: they come after the quick tests."""
COMPILED = "shotlog/wear/compiled/"


class Reach:
    """Tests by line, as they were when the tests were last asked, carried along where lines have moved since."""

    def __init__(self, tree: Path, kept: Path) -> None:
        """tree: a copy to run the tests in. kept: file of what was found before."""
        self.tree, self.kept = tree, kept
        found = json.loads(kept.read_text(encoding="utf-8")) if kept.exists() else {}
        self.digests: dict[str, str] = found.get("digests", {})
        self.sources: dict[str, list[str]] = found.get("sources", {})
        self.tests: dict[str, dict[str, Any]] = found.get("tests", {})
        self._slowest: dict[str, float] = defaultdict(float)
        names: list[str] = found.get("names", [])
        self.lines: dict[str, dict[int, set[str]]] = {
            path: {int(line): {names[n] for n in tests} for line, tests in by_line.items()}
            for path, by_line in found.get("lines", {}).items()
        }

    def renew(self) -> None:
        """Ask the tests that are new or changed, and follow the lines that have moved."""
        for path in [path for path in self.sources if not (self.tree / path).exists()]:
            del self.sources[path]
            self.lines.pop(path, None)
        for path, lines in self.sources.items():
            new = (self.tree / path).read_text(encoding="utf-8").splitlines()
            if new != lines:
                self.lines[path] = _moved(self.lines.get(path, {}), lines, new)
                self.sources[path] = new
        files = [path.relative_to(self.tree).as_posix() for path in (self.tree / "tests").rglob("test_*.py")]
        digests = {file: hashlib.sha256((self.tree / file).read_bytes()).hexdigest() for file in files}
        asked = [file for file in files if self.digests.get(file) != digests[file]]
        if asked:
            print(f"asking {len(asked)} of {len(files)} files of tests which lines they run ...", flush=True)
            self._ask(asked)
        gone = {test for test in self.tests if _file(test) not in digests}
        for test in gone:
            del self.tests[test]
        self.digests = digests
        for test, known in self.tests.items():
            self._slowest[_file(test)] = max(self._slowest[_file(test)], known["seconds"])
        self.keep()

    def keep(self) -> None:
        numbers = {test: number for number, test in enumerate(["", *self.tests])}
        lines = {
            path: {line: sorted(numbers[test] for test in tests if test in numbers) for line, tests in by_line.items()}
            for path, by_line in self.lines.items()
        }
        kept = {"digests": self.digests, "sources": self.sources, "tests": self.tests, "lines": lines}
        self.kept.parent.mkdir(parents=True, exist_ok=True)
        self.kept.write_text(json.dumps({**kept, "names": list(numbers)}), encoding="utf-8")

    def of(self, path: str, line: int) -> list[str]:
        """Tests that may notice a change of a line, the quick ones first."""
        if path.startswith(COMPILED):
            return self._quick_first(self._under("tests/wear/", WHOLE))
        by_line = self.lines.get(path, {})
        statements = (node for node in ast.walk(ast.parse("\n".join(self.sources[path]))) if isinstance(node, ast.stmt))
        begins = {node.lineno for node in statements}
        while line not in by_line and line not in begins and line > 1:
            line -= 1  # a later line of a statement, where nothing runs that could be counted
        found = by_line.get(line, set()) - {""}
        if not found and line in by_line:
            room = path.split("/")[0 if path.startswith("dashboard/") else 1]
            mirror = f"tests/test_{room}" if ".py" in room else f"tests/{room}/"
            found = set().union(*by_line.values()) | self._under(mirror, "tests/contract/", WHOLE)
        return self._quick_first(found or self._starting_programs())

    def _starting_programs(self) -> set[str]:
        starting = {file for file in self.digests if "subprocess" in (self.tree / file).read_text(encoding="utf-8")}
        return self._under("tests/end_to_end/") | {test for test in self.tests if _file(test) in starting}

    def _quick_first(self, found: set[str]) -> list[str]:
        """Tests that share a fixture stay together: it would be made again for each of them otherwise."""
        together: dict[str, list[str]] = defaultdict(list)
        for test in sorted(found):
            if self.tests.get(test, {}).get("passed"):
                shared = set(self.tests[test]["shared"]) - {"tmp_path_factory"}
                together[_file(test) if shared else test].append(test)
        cost = {group: self._seconds(group, tests) for group, tests in together.items()}
        order = sorted(together, key=lambda group: (cost[group], group))
        spent = dict(zip(order, accumulate(cost[group] for group in order), strict=True))
        order.sort(key=lambda group: 0 if spent[group] <= QUICK_S else 1 if group.startswith(WHOLE) else 2)
        chosen = [group for group in order if group.startswith(WHOLE) or spent[group] <= MOST_S] or order[:1]
        return [test for group in chosen for test in together[group]]

    def _seconds(self, group: str, tests: list[str]) -> float:
        """What a group takes; whoever made its shared fixtures was the slowest of its file."""
        took = sum(self.tests[test]["seconds"] for test in tests)
        return took if group in self.tests else took + self._slowest[group]

    def _under(self, *starts: str) -> set[str]:
        return {test for test in self.tests if test.startswith(starts)}

    def _ask(self, files: list[str]) -> None:
        data, noted = self.tree / ".coverage.reach", self.tree / ".noted.json"
        environment = {
            **os.environ,
            "PYTHONPATH": str(self.tree),
            "COVERAGE_FILE": str(data),
            "SHOTLOG_NOTED": str(noted),
        }
        pytest = [
            sys.executable,
            "-m",
            "pytest",
            "-q",
            "-p",
            "tests.mutants.pytest_chosen",
            "-n",
            "2",
            "--dist",
            "worksteal",
        ]
        counted = ["--cov", "--cov-context=test", "--cov-report="]
        subprocess.run([*pytest, *counted, *files], cwd=self.tree, env=environment, check=False, stdout=sys.stderr)
        self.read(files, coverage.CoverageData(str(data)), json.loads(noted.read_text(encoding="utf-8")), self.tree)

    def read(self, files: list[str], data: coverage.CoverageData, noted: dict[str, Any], root: Path) -> None:
        """Take in what tests of these files ran, in place of what was known of them."""
        again = set(files)
        self.tests = {test: known for test, known in self.tests.items() if _file(test) not in again} | noted
        sharing: dict[tuple[str, str], set[str]] = defaultdict(set)
        for test, known in noted.items():
            for fixture in known.get("shared", []):
                sharing[fixture, test.split("/")[1]].add(test)
        data.read()
        for measured in data.measured_files():
            path = Path(measured).relative_to(root).as_posix()
            known = self.lines.setdefault(path, {})
            for tests in known.values():
                tests.difference_update([test for test in tests if _file(test) in again])
            for line, contexts in data.contexts_by_lineno(measured).items():
                tests = known.setdefault(line, set())
                for context in contexts:
                    test, _, phase = context.rpartition("|")
                    tests.add(test)
                    if phase == "setup":
                        for fixture in noted.get(test, {}).get("shared", []):
                            tests |= sharing[fixture, test.split("/")[1]]
            self.sources[path] = (self.tree / path).read_text(encoding="utf-8").splitlines()


def _moved(known: dict[int, set[str]], old: list[str], new: list[str]) -> dict[int, set[str]]:
    """Tests by line of a file that was edited: of a line that is new, those of the nearest lines that stayed."""
    moved: dict[int, set[str]] = {}
    for kind, i, j, k, m in difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if kind == "equal":
            moved |= {k + n + 1: known[i + n + 1] for n in range(j - i) if i + n + 1 in known}
        else:
            near = [known[line] for line in range(i - 1, j + 3) if line in known]
            moved |= {n + 1: set().union(*near) for n in range(k, m)} if near else {}
    return moved


def _file(test: str) -> str:
    return test.split("::")[0]
