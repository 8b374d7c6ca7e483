#!/usr/bin/env python3
"""Ask whether a pinned package has a known vulnerability. Ends with 1 if one has; where nobody answers it says so."""

import json
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

_PINS = Path(__file__).parent.parent / "config" / "constraints.txt"
_LONGEST_S = 240


def main() -> int:
    """Install pip-audit in a folder that is thrown away, ask it, and say what it found."""
    with tempfile.TemporaryDirectory() as folder:
        python = Path(folder, "bin", "python")
        report = Path(folder, "report.json")
        said = _run(sys.executable, "-m", "venv", folder) or _run(
            python, "-m", "pip", "install", "--quiet", "pip-audit"
        )
        if said:
            print(f"audit: NOT DONE, pip-audit cannot be installed here: {said}")
            return 0
        said = _run(
            python, "-m", "pip_audit", "-r", _PINS, "--no-deps", "--disable-pip", "--progress-spinner", "off",
            "--format", "json", "--output", report,
        )  # fmt: skip
        if not report.exists():
            print(f"audit: NOT DONE, the service that knows of vulnerabilities did not answer: {said}")
            return 0
        return tell(json.loads(report.read_text(encoding="utf-8"))["dependencies"])


def tell(packages: Iterable[Mapping[str, Any]]) -> int:
    """Print what was answered for the packages; returns the exit status."""
    packages = list(packages)
    answered = [package for package in packages if "vulns" in package]
    bad = [(package, known) for package in answered for known in package["vulns"]]
    if not answered:
        print(f"audit: NOT DONE, the service that knows of vulnerabilities knows none of {len(packages)} packages")
        return 0
    for package, known in bad:
        mended = ", ".join(known["fix_versions"]) or "no version yet"
        print(f"audit: {package['name']} {package['version']}: {known['id']}, mended in {mended}")
    left = f", not answered for: {len(packages) - len(answered)}" if len(answered) < len(packages) else ""
    print(f"audit: {len(answered)} packages asked about, known vulnerabilities: {len(bad)}{left}")
    return 1 if bad else 0


def _run(*command: object) -> str:
    """Run a command; returns the last line it said where it failed."""
    try:
        done = subprocess.run(  # noqa: S603  (the Python just installed; no shell)
            [str(word) for word in command], capture_output=True, text=True, timeout=_LONGEST_S, check=False
        )
    except subprocess.TimeoutExpired:
        return f"no answer within {_LONGEST_S} s"
    return "" if done.returncode == 0 else ((done.stderr or done.stdout).strip().splitlines() or ["no word why"])[-1]


if __name__ == "__main__":
    sys.exit(main())
