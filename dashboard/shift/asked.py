"""The questions asked after the shift: a button for each, and the answer to the one that was touched.

The answers are those of `shotlog review --ask`, over the view that the rest of the page shows.
"""

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.shared.address import at
from dashboard.shared.attributes import attributes
from dashboard.shared.part_path import PATH as PART
from dashboard.shift.query import Query
from dashboard.shift.show import PATH, drawn
from dashboard.shift.whole import ShiftReader, reviewed
from shotlog.answers.asked import Asked
from shotlog.answers.questions import QUESTIONS
from shotlog.answers.table import Table
from shotlog.clock import Clock
from shotlog.review.chain import chain_of

__all__ = ["answer_name", "answer_to", "asked_part"]

_ELSEWHERE = {"lives": "/inserts"}
"""Questions that a page of their own answers over the whole log."""


def asked_part(query: Query, answer: list[Table]) -> list[Component]:
    """Return the buttons of all questions, and the answer to the one that the address asks."""
    one_part = dcc.Link("One part", href=at(PART), className="touch pick", title="Show the whole chain of one part.")
    buttons = [*(_button(word, query) for word in QUESTIONS), one_part]
    head = [html.H2("Questions"), html.Nav(buttons, className="picks", **attributes(aria_label="Questions"))]
    if not query.ask:
        return head
    question = QUESTIONS[query.ask]
    tables = [part for table in answer for part in drawn(table, query, answer_name(table))]
    return [*head, html.P(html.B(question.asks)), *tables]


def _button(word: str, query: Query) -> Component:
    question, here = QUESTIONS[word], word == query.ask
    way = at(_ELSEWHERE.get(word) or f"{PATH}{query.but(ask='' if here else word).search}")
    return dcc.Link(
        question.button, href=way, className="touch pick here" if here else "touch pick", title=question.asks
    )


def answer_name(table: Table) -> str:
    """Return the name that an answer is downloaded under."""
    return f"answer-{table.name.replace(' ', '-')}"


def answer_to(reader: ShiftReader, query: Query, clock: Clock) -> list[Table]:
    """Return the answer to the question that a view asks, empty where it asks none.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    if not query.ask or query.ask in _ELSEWHERE:
        return []
    log, designs = reader.log(), reader.settings.designs
    asked = Asked(reviewed(reader, query), clock.now(), lambda part: chain_of(log, designs, part))
    return QUESTIONS[query.ask].answer(asked)
