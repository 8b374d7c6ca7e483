"""Reads the outside values in tests/reference; each file names its source in its first line."""

import csv
import json
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).resolve().parents[1] / "reference"


def rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        assert file.readline().startswith("# "), f"{name} names no source"
        return list(csv.DictReader(file))


def example(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((FOLDER / f"example_{name}.json").read_text(encoding="utf-8"))
    assert found["source"] or found.get("method")
    return found


def decimals(printed: str) -> float:
    """Half a unit of the last printed digit."""
    places = len(printed.partition(".")[2])
    return 0.5 * 10.0**-places * (1.0 + 1e-9)
