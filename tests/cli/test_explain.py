"""What `shotlog explain` prints of the weights: what they rest on, and what is left for something else."""

from dataclasses import replace

import pytest

from shotlog.cli import explain
from shotlog.facts import Facts
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


def below(facts: Facts, log_odds: float, capsys: pytest.CaptureFixture[str]) -> str:
    """Return the line of the odds, of a change that stands with such odds; the bar is 1.2."""
    explain._print(replace(VERDICT, facts=facts), replace(evidence(0.9), log_odds=log_odds))
    (line,) = [line for line in capsys.readouterr().out.splitlines() if line.startswith("log odds")]
    return line


def test_why_a_call_stands_below_its_bar_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    """Odds of 0.3 stood under a standing call, "called from 1.2", and nothing said why."""
    stands = (
        "called from 1.2 (below that now: a call stands until 3 shots running speak against it, or a swap ends it);"
    )
    assert stands in below(Facts("called"), 0.3, capsys)
    assert "(these are of a further change: the one that stands is followed no longer)" in below(
        Facts("called", followed=False), 0.3, capsys
    )
    assert "called from 1.2; level" in below(Facts("called"), 5.0, capsys)
    assert "called from 1.2; level" in below(Facts("quiet"), 0.3, capsys)
