"""The addresses that pictures come in by and are shown at.

A picture comes as the bare body of a request whose content type says ``image/...``. A page of another machine cannot
send such a request to this one without being asked first, which nobody answers. Nothing of what is sent becomes part of
a path: a file is found by the digest in the log.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import flask

from dashboard.shared.address import at
from dashboard.shared.source import Source
from shotlog.errors import ShotlogError, StoreError, UsageError
from shotlog.parts.picture import Pictured
from shotlog.store.log.log import Log
from shotlog.store.parts.picture_bytes import ALLOWED, MOST_BYTES
from shotlog.store.parts.pictures import (
    of_finding,
    of_insert,
    picture_bytes,
    picture_folder,
    pictures_under,
    take_picture,
)
from shotlog.store.undo import enter_again, take_back
from shotlog.wording.pictures import kept_text, picture_text

__all__ = ["PATH", "register"]

PATH = "/pictures/"
_MOST_NUMBER = 2**63 - 1
"""The largest number of an entry that a store has."""
_FOR_A_YEAR = "private, max-age=31536000, immutable"
_ONLY_SHOWN = "default-src 'none'; sandbox"


def register(server: flask.Flask, source: Source) -> None:
    """Answer requests for pictures."""

    @server.get(f"{PATH}<digest>")
    def shown(digest: str) -> flask.Response:
        try:
            found = pictures_under(source.reading(), digest)
            if not found:
                return _said("there is no such picture", 404)
            data = picture_bytes(_folder(source), found[0])
        except StoreError as error:
            return _said(str(error), 404)
        answer = flask.Response(data, content_type=found[0].media)
        answer.headers["X-Content-Type-Options"] = "nosniff"
        answer.headers["Content-Security-Policy"] = _ONLY_SHOWN
        answer.headers["Content-Disposition"] = f'inline; filename="{found[0].file_name}"'
        answer.headers["Cache-Control"] = _FOR_A_YEAR
        return answer

    @server.post(PATH)
    def taken() -> flask.Response:
        request = flask.request
        if not (request.content_type or "").startswith("image/"):
            return _said(f"picture: given {request.content_type or 'nothing'}, allowed: {ALLOWED}", 415)
        if (request.content_length or 0) > MOST_BYTES:
            return _said(f"picture: too large, allowed: {ALLOWED}", 413)
        try:
            return _kept(source, request.args, request.get_data())
        except ShotlogError as error:
            return _said(str(error), 422)

    @server.delete(f"{PATH}<int:number>")
    def undone(number: int) -> flask.Response:
        try:
            with source.entering("enter", flask.request.args.get("initials", "")) as (log, who):
                take_back(log, "pictures", _storable(number), source.clock.now(), "taken back at the screen", who)
        except ShotlogError as error:
            return _said(str(error), 422)
        return _said(f"picture {number}: taken back", 200, number)

    @server.put(f"{PATH}<int:number>")
    def entered_again(number: int) -> flask.Response:
        try:
            with source.entering("enter", flask.request.args.get("initials", "")) as (log, who):
                again, _ = enter_again(log, "pictures", _storable(number), source.clock.now(), who)
        except ShotlogError as error:
            return _said(str(error), 422)
        return _said(f"picture {again}: entered again", 200, again)


def _kept(source: Source, of: Mapping[str, str], data: bytes) -> flask.Response:
    with source.entering("enter", of.get("initials", "")) as (log, who):
        kept = take_picture(
            log,
            _folder(source),
            data,
            _shown(log, of),
            source.clock.now(),
            remark=of.get("remark", ""),
            initials=who,
        )
    told: dict[str, Any] = {"said": kept_text(kept), "address": at(f"{PATH}{kept.digest}"), "number": kept.entry_id}
    return flask.jsonify(told | {"words": picture_text(kept)})


def _shown(log: Log, of: Mapping[str, str]) -> Pictured:
    """Return what the query says that a picture shows: a finding, an insert, or a shot and maybe its cavity."""
    if "finding" in of:
        return of_finding(log, _number("finding", of))
    if "insert" in of:
        return of_insert(log, of["insert"])
    cavity = _number("cavity", of) if "cavity" in of else None
    return Pictured(of.get("press", ""), _number("shot", of), cavity)


def _number(name: str, of: Mapping[str, str]) -> int:
    given = of.get(name, "")
    if not (given.isascii() and given.isdigit() and len(given) <= 18):
        raise UsageError(f"{name}: given {given!r}, allowed: a number")
    return int(given)


def _storable(number: int) -> int:
    """Return the number of an entry; one that no store can hold is not found."""
    if number > _MOST_NUMBER:
        flask.abort(404)
    return number


def _folder(source: Source) -> Path:
    return picture_folder(source.settings.store, source.settings.file)


def _said(words: str, status: int, number: int | None = None) -> flask.Response:
    answer = flask.jsonify({"said": words, "number": number})
    answer.status_code = status
    return answer
