"""The questions asked after the shift, each with its answer; the whole chain of one part is `answers.part`."""

from collections.abc import Callable
from dataclasses import dataclass

from shotlog.answers import changes, doubt, outcome, record
from shotlog.answers.asked import Asked
from shotlog.answers.table import Table

__all__ = ["QUESTIONS", "Question"]


@dataclass(frozen=True, slots=True)
class Question:
    """A question: the words of its button, the whole of it, and the answer as tables."""

    button: str
    asks: str
    answer: Callable[[Asked], list[Table]]


QUESTIONS: dict[str, Question] = {
    "doubt": Question(
        "Parts in doubt",
        "Which parts were made after the onset, with which margin, and where are they? Which are unaffected?",
        doubt.in_doubt,
    ),
    "half": Question(
        "Which half",
        "On which half, at which shot of it did a change begin? Did it go at the swap? How did earlier sisters stand?",
        changes.halves,
    ),
    "lots": Question(
        "Lots",
        "Which lots made which parts, when did each reach the screw, and what changed within 10 shots of an onset?",
        changes.lots,
    ),
    "missed": Question(
        "Missed and blind",
        "How many shots were missed, torn, weighed in doubt or left out, and why? Was nobody looking at any time?",
        record.missed,
    ),
    "baselines": Question(
        "Baselines",
        "Was the baseline any good: how many shots, warm-up or not, who froze it, would another alter the signal?",
        record.baselines,
    ),
    "lives": Question(
        "Lives",
        "How long did each insert last, how did it end, and what planned life does that support?",
        outcome.lives,
    ),
    "calls": Question(
        "Calls",
        "Was each call acted on, how long after, and what was found? Which share was true, false, open?",
        outcome.calls,
    ),
    "stops": Question("Stops", "What did the stops do, and how many shots until settled again?", changes.stops),
    "bad": Question(
        "Bad parts", "How do inspected parts look in press data, and what do the bad ones have in common?", outcome.bad
    ),
    "first": Question("Look first", "Which shots to inspect first?", doubt.look_first),
    "earlier": Question(
        "Ten shots earlier",
        "Were the onset ten shots earlier, how many more parts would be held, and what would that cost?",
        doubt.earlier,
    ),
}
"""Every question by the word that asks it. To add one, add its row."""
