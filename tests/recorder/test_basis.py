"""What opens a new judging: an edit of anything that decides a verdict, and nothing else."""

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from shotlog.channels import CHANNELS
from shotlog.entries import KINDS
from shotlog.recorder import basis as room
from shotlog.recorder.basis import basis
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.change.signatures import MODES, SIGNATURES
from shotlog.wear.constants import TABLE

CAP = DesignSettings("cap", limits={"cushion": Bound(4.0, None), "peak_pressure": Bound(None, 600.0)})
DESIGNS = {"cap": CAP, "lid": DesignSettings("lid", cost={"part": 4.0, "insert": 18.0})}
LOT = KINDS["lot"]
EDITS: dict[str, tuple[Mapping[str, Any], str, object]] = {
    "a channel": (CHANNELS, "cushion", replace(CHANNELS["cushion"], least_change=0.06)),
    "a prior": (CAUSES, "gate erosion", replace(CAUSES["gate erosion"], prior=0.14)),
    "a new cause": (CAUSES, "gremlins", replace(CAUSES["gate erosion"], prior=0.01)),
    "a signature": (SIGNATURES, "vents close", replace(SIGNATURES["vents close"], shapes={"step": 1.0})),
    "a mode": (MODES, "time", {"peak_pressure": {"fill_time": (0.6, 1.0)}}),
    "a constant": (TABLE, "HAZARD", replace(TABLE["HAZARD"], value=1 / 81)),
    "a bar": (TABLE, "BAR_9", replace(TABLE["BAR_9"], value=(6.8, 5.5, 4.2, 2.6, 1.5, 0.2, -0.5))),
    "what an entry does": (KINDS, "lot", replace(LOT, effect=replace(LOT.effect, likelier={"lot change": 26.0}))),
    "a new kind of entry": (KINDS, "sneeze", LOT),
}


@pytest.mark.parametrize("edit", EDITS)
def test_an_edit_of_any_table_is_another_basis(edit: str, monkeypatch: pytest.MonkeyPatch) -> None:
    table, key, row = EDITS[edit]
    before = basis(DESIGNS)
    monkeypatch.setitem(table, key, row)  # type: ignore[arg-type]
    assert basis(DESIGNS) != before
    monkeypatch.undo()
    assert basis(DESIGNS) == before


@pytest.mark.parametrize(("name", "value"), [("__version__", "9.9.9"), ("STATE", 99)])
def test_so_is_another_release_or_form_of_the_state(name: str, value: object, monkeypatch: pytest.MonkeyPatch) -> None:
    before = basis(DESIGNS)
    monkeypatch.setattr(room, name, value)
    assert basis(DESIGNS) != before


def test_so_is_an_edit_of_a_design_but_not_the_order_they_are_given_in() -> None:
    before = basis(DESIGNS)
    assert basis(dict(reversed(DESIGNS.items()))) == before
    assert basis({**DESIGNS, "cap": replace(CAP, limits=dict(reversed(CAP.limits.items())))}) == before
    assert basis({**DESIGNS, "cap": replace(CAP, settling_shots=9)}) != before
    assert basis({"cap": CAP}) != before


def test_so_are_other_false_calls_put_up_with() -> None:
    assert len({basis(DESIGNS), basis(DESIGNS, 5.0), basis(DESIGNS, 2.0)}) == 3


def test_a_label_on_a_screen_is_no_other_basis(monkeypatch: pytest.MonkeyPatch) -> None:
    before = basis(DESIGNS)
    monkeypatch.setitem(KINDS, "lot", replace(LOT, word="bag"))
    assert basis(DESIGNS) == before


@pytest.mark.parametrize("seed", ["1", "2"])
def test_another_process_finds_the_same(seed: str) -> None:
    ask = "from shotlog.recorder.basis import basis; print(basis({}))"
    env = {**os.environ, "PYTHONHASHSEED": seed}
    found = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True, env=env)
    assert found.stdout.strip() == basis({})
