"""The address ``/healthz``: whether logging is at work, for machines that watch it."""

import json

import flask

from dashboard.shared.source import Source
from shotlog.errors import StoreError
from shotlog.store.asked.health import health
from shotlog.store.asked.logger_state import Listening
from shotlog.store.log.journal_place import noted

__all__ = ["PATH", "register"]

PATH = "/healthz"


def register(server: flask.Flask, source: Source) -> None:
    """Answer with 200 while logging is at work, else with 503; either way with what is known.

    A log that cannot be written, with every shot on disk in the journal, is no failure of the logger: started anew it
    could do no better. Damage in its file that a page met is one: the record is not whole, whoever is at work.
    """
    listening = Listening(source.clock, noted=lambda: noted(source.settings))

    @server.get(PATH)
    def healthz() -> flask.Response:
        try:
            log = source.reading()
            state = listening.look(log)
            found = {"ok": state.is_safe, **health(log, source.settings, state, source.kept.now(), source.clock.now())}
            if source.is_damaged:
                found |= {"ok": False, "state": "log damaged"}
        except StoreError:  # what it says may name places: whoever may read those asks `shotlog status`
            state = listening.look(None)
            if state.state == "log not written":
                found = {
                    "ok": state.is_safe,
                    **health(None, source.settings, state, source.kept.now(), source.clock.now()),
                }
            else:
                found = {"ok": False, "state": "log cannot be read"}
        answer = flask.Response(json.dumps(found), 200 if found["ok"] else 503, content_type="application/json")
        answer.headers["Cache-Control"] = "no-store"
        return answer
