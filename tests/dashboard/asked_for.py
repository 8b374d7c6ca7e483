"""What a tab of a browser asks of the server, without the browser, and the words in what it is sent."""

import json
from typing import Any

from flask.testing import FlaskClient

__all__ = ["Tab", "ask", "words"]


def ask(client: FlaskClient, output: str, **given: Any) -> dict[str, Any]:
    """Return what the server sends where a callback with this output is asked; `given` by id, with _ for - in it.

    Of inputs that match a pattern there are none.
    """
    asked = next(one for one in client.get("/_dash-dependencies").get_json() if output in one["output"])
    values = {name.replace("_", "-"): value for name, value in given.items()}
    several = asked["output"].startswith("..")
    outputs = [
        {"id": name, "property": what.partition("@")[0]}
        for name, what in (one.rsplit(".", 1) for one in asked["output"].strip(".").split("..."))
    ]
    filled = {part: [_filled(one, values) for one in asked[part]] for part in ("inputs", "state")}
    first = next(one for one in asked["inputs"] if not one["id"].startswith("{"))
    answer = client.post(
        "/_dash-update-component",
        json={
            "output": asked["output"],
            "outputs": outputs if several else outputs[0],
            "changedPropIds": [f"{first['id']}.{first['property']}"],
            **filled,
        },
    )
    assert answer.status_code in (200, 204), answer.get_data(as_text=True)
    return dict(answer.get_json()["response"]) if answer.status_code == 200 else {}


def _filled(one: dict[str, Any], values: dict[str, Any]) -> Any:
    """Return what is sent of an input: nothing of a pattern, of one with an id of several words that id."""
    if any(f'["{wild}"]' in one["id"] for wild in ("ALL", "MATCH", "ALLSMALLER")):
        return []
    named = json.loads(one["id"]) if one["id"].startswith("{") else one["id"]
    return {**one, "id": named, "value": values.get(one["id"])}


class Tab:
    """What a browser tab asks of the page at the press: the refresh callback, with what the tab holds."""

    def __init__(self, client: FlaskClient, press: str = "P25") -> None:
        self._client, self._press = client, press
        self._seen: dict[str, str] = {}

    def refresh(self, mode: str | None = None) -> dict[str, Any]:
        """Return what the server sent, by component."""
        sent = ask(self._client, "standing.children", tick=1, inks=mode, press=self._press, seen=self._seen)
        self._seen = sent.get("seen", {}).get("data", self._seen)
        return sent


def words(part: Any) -> list[str]:
    """Return the words of a component and of all in it, in the order in which they stand on the page."""
    if isinstance(part, dict):
        return words(part.get("props", {}).get("children"))
    if isinstance(part, list):
        return [word for each in part for word in words(each)]
    return [str(part)] if part not in (None, "") else []
