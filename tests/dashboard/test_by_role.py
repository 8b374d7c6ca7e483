"""What a page offers by the role of who is logged in: what it may not do is not there, and one sentence says why."""

import json
from typing import Any

import flask
import pytest
from dash import Dash

from dashboard import Source
from dashboard.parts import dialogs, lists
from dashboard.parts import page as parts_page
from dashboard.press import controls, entry_panel
from dashboard.shared.person import Person, set_person
from dashboard.shared.pictures import picture_button


def shown(part: Any) -> str:
    return json.dumps(part, default=lambda one: one.to_plotly_json())


@pytest.mark.parametrize(("role", "enters", "decides"), [("viewer", 0, 0), ("operator", 1, 0), ("quality", 1, 1)])
def test_a_button_is_there_for_whom_it_works(role: str, enters: int, decides: int) -> None:
    with flask.Flask("pages").test_request_context():
        set_person(Person("kb", "KB", role))
        assert ("Swapped" in shown(entry_panel.section())) == enters
        assert ("Pause" in shown(controls.touch("Pause", "say", "pause:pause"))) == enters
        assert ("Put" in shown(dialogs.touch("Put", "open", "put P25 3"))) == enters
        assert ("Picture" in shown(picture_button("Picture"))) == enters
        for decision in ("release", "scrap"):
            assert ("Decide" in shown(dialogs.touch("Decide", "open", f"{decision} P25 3"))) == decides
        said = shown(lists._not_yours())
        assert ("You are logged in as operator: releasing and scrapping takes the role quality" in said) == (
            role == "operator"
        )


def test_where_nothing_can_be_entered_the_notice_says_for_whom(source: Source, app: Dash) -> None:
    with app.server.test_request_context():
        assert source.refuses_entries() == ""
        set_person(Person("wall", "W", "viewer"))
        said = "You are logged in as viewer: entering takes the role operator or one above it."
        assert source.refuses_entries() == said


def test_a_bench_without_who_may_inspect_is_not_there(source: Source, app: Dash) -> None:
    context: Any = type("Given", (), {"source": source})
    with app.server.test_request_context():
        whole = shown(parts_page.layout(context, ""))
        set_person(Person("wall", "W", "viewer"))
        assert '"Inspect"' in whole
        assert '"Inspect"' not in shown(parts_page.layout(context, ""))
        assert "no-entries" in shown(parts_page.layout(context, ""))
