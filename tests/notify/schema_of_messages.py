"""The documents of messages held against docs/messages.schema.json, by as much of JSON Schema as that file uses."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

__all__ = ["check"]

_SCHEMA: Mapping[str, Any] = json.loads(
    (Path(__file__).parents[2] / "docs" / "messages.schema.json").read_text(encoding="utf-8")
)
_KINDS: Mapping[str, tuple[type, ...]] = {
    "object": (dict,), "array": (list,), "string": (str,), "boolean": (bool,), "integer": (int,),
    "number": (int, float), "null": (type(None),),
}  # fmt: skip


def check(document: Mapping[str, Any]) -> None:
    """Fail where a document is not as the schema of its type says, or has a key that the schema does not know."""
    kind = document["type"]
    _check(json.loads(json.dumps(document, allow_nan=False)), _SCHEMA["$defs"][kind], kind)


def _check(value: Any, schema: Mapping[str, Any], where: str) -> None:
    if "$ref" in schema:
        schema = _SCHEMA["$defs"][schema["$ref"].removeprefix("#/$defs/")]
    kinds = schema.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    is_flag = isinstance(value, bool)
    fits = any(isinstance(value, _KINDS[one]) and (is_flag == (one == "boolean")) for one in kinds)
    assert not kinds or fits, f"{where}: {value!r} is not {kinds}"
    if "const" in schema:
        assert value == schema["const"], where
    if "enum" in schema:
        assert value in schema["enum"], f"{where}: {value!r} is none of {schema['enum']}"
    if isinstance(value, dict):
        known = schema.get("properties", {})
        for name in schema.get("required", ()):
            assert name in value, f"{where}: no {name}"
        for name, one in value.items():
            rest = schema.get("additionalProperties", True)
            assert name in known or rest is not False, f"{where}: {name} is not documented"
            below = known.get(name, rest if isinstance(rest, dict) else {})
            _check(one, below, f"{where}.{name}")
    if isinstance(value, list):
        for n, one in enumerate(value):
            _check(one, schema.get("items", {}), f"{where}[{n}]")
