"""A trial whose pages ask who opens them: accounts of every role, and clients that are logged in."""

from dataclasses import replace
from typing import Any

from dash import Dash
from flask.testing import FlaskClient
from hand_filled import Trial

from dashboard import Source, build
from shotlog.access.accounts import Accounts
from shotlog.access.roles import ROLES
from shotlog.settings import LoginSettings

PASSWORDS = {role: f"eleven brass kettles of a {role}" for role in ROLES}
"""By role, which is the name of the account as well."""


class Shop:
    """The application of a trial, with an account of each role."""

    def __init__(self, trial: Trial) -> None:
        self.trial = trial
        self.settings = replace(trial.settings, login=LoginSettings(wanted=True))
        self.accounts = Accounts(self.settings.accounts, trial.clock)
        for role in reversed(ROLES):
            self.accounts.add(role, role[:2].upper(), role, PASSWORDS[role], "root at press-pc")
        self.source = Source(self.settings, trial.clock)
        self.app: Dash = build(self.source)
        self.app._setup_server()

    def client(self, role: str = "", **asked: Any) -> FlaskClient:
        """Return a client, logged in as a role where one is named."""
        client: FlaskClient = self.app.server.test_client()
        client.get("/log-in")
        if role:
            answer = log_in(client, role, PASSWORDS[role], **asked)
            assert answer.status_code == 303
            client.get("/account")
        return client

    def close(self) -> None:
        self.source.close()


def log_in(client: FlaskClient, name: str, password: str, address: str = "10.0.0.7", back: str = "") -> Any:
    """Send the form to log in."""
    form = {"name": name, "password": password, "next": back}
    return client.post("/log-in", data=form, environ_base={"REMOTE_ADDR": address})


def asked_of(app: Dash, function: str) -> dict[str, Any]:
    """Return what a page sends to ask a callback, with nothing in it."""
    for output, known in app.callback_map.items():
        made = getattr(known.get("callback"), "__wrapped__", None)
        if made is not None and f"{made.__module__}.{made.__name__}" == function:
            return {"output": output, "inputs": known["inputs"], "state": known["state"], "changedPropIds": []}
    raise LookupError(function)
