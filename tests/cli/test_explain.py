"""What `shotlog explain` prints of the weights: what they rest on, and what is left for something else."""

import pytest

from shotlog.cli import explain
from shotlog.records import Verdict
from shotlog.wear.verdict.evidence import CauseEvidence, Evidence

VERDICT = Verdict("press-1", 80, "A-2", 40, False, "watch")


def evidence(*weights: float, labelled: int = 0) -> Evidence:
    causes = tuple(
        CauseEvidence(f"cause {n}", "insert", 3.0, weight, 70, {}, "look", "swap") for n, weight in enumerate(weights)
    )
    return Evidence(
        press="press-1",
        shot=80,
        insert="A-2",
        log_odds=5.0,
        threshold=1.2,
        false_calls=5.0,
        cleared=0,
        n_sisters=3,
        settled_at=1,
        causes=causes,
        labelled=labelled,
    )


def printed(capsys: pytest.CaptureFixture[str], one: Evidence) -> str:
    explain._print(VERDICT, one)
    return capsys.readouterr().out


def test_what_weights_rest_on_is_said_where_something_was_learnt(capsys: pytest.CaptureFixture[str]) -> None:
    words = "weights from the table of causes, and from 2 changes of this design that people or a swap explained"
    assert words in printed(capsys, evidence(0.96, labelled=2))
    assert "explained" not in printed(capsys, evidence(0.96))


def test_what_no_cause_has_is_shown_as_something_else(capsys: pytest.CaptureFixture[str]) -> None:
    assert "    0.07  something else" in printed(capsys, evidence(0.6, 0.33))
    assert "something else" not in printed(capsys, evidence(0.6, 0.395))
