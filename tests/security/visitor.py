"""Somebody who asks the pages for something, with nothing but HTTP: what is sent is what stands here, to the byte.

Needs Python alone, so that it can be run as a program of its own, on another host.
"""

import http.client
import json
import ssl
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlencode

__all__ = ["Answer", "Visitor"]

TOKEN_COOKIE, TOKEN_HEADER = "shotlog-token-", "X-CSRFToken"

Headers = Mapping[str, "str | list[str] | None"]


@dataclass(frozen=True)
class Answer:
    """What the pages answered."""

    status: int
    headers: "http.client.HTTPMessage"
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode("utf-8", "replace")

    def header(self, name: str) -> str:
        return ", ".join(self.headers.get_all(name) or [])

    @property
    def kind(self) -> str:
        return self.header("Content-Type").partition(";")[0]


@dataclass
class Visitor:
    """Somebody who asks; keeps the cookies that are given, as a browser does."""

    port: int
    host: str = "127.0.0.1"
    tls: ssl.SSLContext | None = None
    cookies: dict[str, str] = field(default_factory=dict)
    set_cookies: list[str] = field(default_factory=list)
    token: str = ""
    _asked_of: list[Any] = field(default_factory=list)

    @property
    def origin(self) -> str:
        return f"{'https' if self.tls else 'http'}://{self.host}:{self.port}"

    def connect(self) -> http.client.HTTPConnection:
        if self.tls is not None:
            return http.client.HTTPSConnection(self.host, self.port, timeout=30, context=self.tls)
        return http.client.HTTPConnection(self.host, self.port, timeout=30)

    def ask(
        self,
        path: str = "/",
        method: str = "GET",
        body: bytes | str | None = None,
        headers: Headers | None = None,
    ) -> Answer:
        """Ask for something; a header that is None is left out, one that is a list is sent so many times."""
        sent: dict[str, str | list[str] | None] = {"Host": f"{self.host}:{self.port}"}
        if self.cookies:
            sent["Cookie"] = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        sent |= dict(headers or {})
        data = body.encode() if isinstance(body, str) else body
        if data is not None:
            sent.setdefault("Content-Length", str(len(data)))
        connection = self.connect()
        try:
            connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            for name, values in sent.items():
                for value in [] if values is None else [values] if isinstance(values, str) else values:
                    connection.putheader(name, value)
            connection.endheaders(data)
            got = connection.getresponse()
            answer = Answer(got.status, got.headers, got.read())
        finally:
            connection.close()
        for line in answer.headers.get_all("Set-Cookie") or []:
            self.set_cookies.append(line)
            name, _, value = line.partition(";")[0].partition("=")
            self.cookies[name.strip()] = value.strip()
        return answer

    def arrive(self, path: str = "/") -> Answer:
        """Open a page as a browser does, and take from it what its requests have to carry."""
        answer = self.ask(path)
        self.token = next((value for name, value in self.cookies.items() if TOKEN_COOKIE in name), "")
        return answer

    def send_form(self, path: str, fields: Mapping[str, str], **headers: "str | list[str] | None") -> Answer:
        """Send a form of ours, with the token that our page has in it."""
        body = urlencode({**fields, "csrf_token": self.token})
        sent: Headers = {"Content-Type": "application/x-www-form-urlencoded", "Origin": self.origin}
        return self.ask(path, "POST", body, {**sent, **headers})

    def log_in(self, name: str, password: str, goes_to: str = "/") -> Answer:
        """Open the log-in page and send it."""
        self.arrive("/log-in")
        answer = self.send_form("/log-in", {"name": name, "password": password, "next": goes_to})
        self.arrive("/account")
        return answer

    def tokens(self) -> dict[str, str]:
        """Return what a request of one of our pages carries, and one of another site cannot."""
        return {TOKEN_HEADER: self.token} if self.token else {}

    def call(self, payload: object, **headers: "str | list[str] | None") -> Answer:
        """Send what a page sends when something on it is touched."""
        body = payload if isinstance(payload, str) else json.dumps(payload)
        sent: Headers = {"Content-Type": "application/json", "Origin": self.origin, **self.tokens()}
        return self.ask("/_dash-update-component", "POST", body, {**sent, **headers})

    def page_asked(self, path: object) -> dict[str, object]:
        """Return what a browser sends to have the content of a page."""
        return self._payload("page.children", {"url.pathname": path})

    def touched(self, what: str, argument: str, press: str = "P25") -> dict[str, object]:
        """Return what the page of a press sends when a button on it is touched."""
        touch = {"what": what, "arg": argument, "at": 1}
        return self._payload(
            "..panel.children...said.children", {"touch.data": touch, "press.data": press, "initials.data": ""}
        )

    def decided(self, decision: str, parts: str, press: str = "P25", initials: str = "XX") -> dict[str, object]:
        """Return what the page of the parts sends when parts are released, scrapped or held."""
        fields = {"parts-field": {"part": "", "initials": initials, "parts": parts, "reason": "measured"}}
        values = {
            "parts-touch.data": {"do": "enter", "arg": "", "at": 1},
            "parts-open.data": [decision, f"{press} {parts}"],
        }
        return self._payload("..parts-form.children", values, {**fields, "choice": {"press": press, "held.press": ""}})

    def _payload(
        self, output: str, values: Mapping[str, object], fields: Mapping[str, Mapping[str, object]] | None = None
    ) -> dict[str, object]:
        """Fill in the request for an output, whose inputs every browser is told; `fields` of a form by kind."""
        if not self._asked_of:
            self._asked_of.extend(json.loads(self.ask("/_dash-dependencies").text))
        one = next(each for each in self._asked_of if each["output"].startswith(output))
        outputs = [
            dict(zip(("id", "property"), each.rsplit(".", 1), strict=True))
            for each in one["output"].strip(".").split("...")
        ]

        def filled(wanted: Mapping[str, str]) -> object:
            if "ALL" in wanted["id"]:
                kind = json.loads(wanted["id"])["type"]
                return [
                    {"id": {"name": name, "type": kind}, "property": wanted["property"], "value": value}
                    for name, value in (fields or {}).get(kind, {}).items()
                ]
            name = f"{wanted['id']}.{wanted['property']}"
            return {"id": wanted["id"], "property": wanted["property"], "value": values.get(name)}

        return {
            "output": one["output"],
            "outputs": outputs if one["output"].startswith("..") else outputs[0],
            "inputs": [filled(each) for each in one["inputs"]],
            "state": [filled(each) for each in one["state"]],
            "changedPropIds": [f"{each['id']}.{each['property']}" for each in one["inputs"]],
        }
