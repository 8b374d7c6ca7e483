"""The dependency audit: a known vulnerability fails CI, silence does not, and both are said."""

from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType

import pytest

_ROOT = Path(__file__).parents[2]


@pytest.fixture
def audit() -> ModuleType:
    spec = spec_from_file_location("audit", _ROOT / ".ci" / "audit.py")
    assert spec is not None
    assert spec.loader is not None
    spec.loader.exec_module(module := module_from_spec(spec))
    return module


_FINE = {"name": "flask", "version": "3.1.3", "vulns": []}
_BAD = {
    "name": "waitress", "version": "3.0.2",
    "vulns": [{"id": "PYSEC-2099-1", "fix_versions": ["99.0"], "aliases": [], "description": "made up"}],
}  # fmt: skip
_UNKNOWN = {"name": "numpy", "skip_reason": "Dependency not found on PyPI and could not be audited: numpy (2.4.6)"}


def test_a_known_vulnerability_fails_and_is_named(audit: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert audit.tell([_FINE, _BAD, _UNKNOWN]) == 1
    assert capsys.readouterr().out.splitlines() == [
        "audit: waitress 3.0.2: PYSEC-2099-1, mended in 99.0",
        "audit: 2 packages asked about, known vulnerabilities: 1, not answered for: 1",
    ]


def test_none_known_passes(audit: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert audit.tell([_FINE]) == 0
    assert "1 packages asked about, known vulnerabilities: 0" in capsys.readouterr().out


def test_silence_is_said_and_fails_nothing(audit: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert audit.tell([_UNKNOWN]) == 0
    assert "NOT DONE" in capsys.readouterr().out


def test_ci_runs_it() -> None:
    assert "python3 .ci/audit.py &" in (_ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
