"""What a tab of a browser asks of the server, without the browser, and the words in what it is sent."""

from typing import Any

from flask.testing import FlaskClient

__all__ = ["Tab", "words"]


class Tab:
    """What a browser tab asks: the refresh callback, with what the tab holds."""

    def __init__(self, client: FlaskClient, press: str = "P25") -> None:
        self._client, self._press = client, press
        dependencies = client.get("/_dash-dependencies").get_json()
        self._output = next(d["output"] for d in dependencies if "standing.children" in d["output"])
        self._seen: dict[str, str] = {}

    def refresh(self, mode: str | None = None) -> dict[str, Any]:
        """Return what the server sent, by component."""
        names = [name.rsplit(".", 1) for name in self._output.strip(".").split("...")]
        answer = self._client.post(
            "/_dash-update-component",
            json={
                "output": self._output,
                "outputs": [{"id": name, "property": prop} for name, prop in names],
                "inputs": [{"id": "tick", "property": "n_intervals", "value": 1}],
                "changedPropIds": ["tick.n_intervals"],
                "state": [
                    {"id": "mode", "property": "data", "value": mode},
                    {"id": "press", "property": "data", "value": self._press},
                    {"id": "seen", "property": "data", "value": self._seen},
                ],
            },
        )
        assert answer.status_code == 200
        sent: dict[str, Any] = answer.get_json()["response"]
        self._seen = sent.get("seen", {}).get("data", self._seen)
        return sent


def words(part: Any) -> list[str]:
    """Return the words of a component and of all in it, in the order in which they stand on the page."""
    if isinstance(part, dict):
        return words(part.get("props", {}).get("children"))
    if isinstance(part, list):
        return [word for each in part for word in words(each)]
    return [str(part)] if part not in (None, "") else []
