"""The words on each page of a PDF that Chromium printed: enough of the format (ISO 32000) to read our own report.

Objects are read in the clear; streams are deflated; text is shown as glyph numbers, which each font maps to characters
by its ToUnicode table. Words come in the order they were drawn.
"""

import re
import unicodedata
import zlib

__all__ = ["pages"]

_OBJECT = re.compile(rb"(\d+) 0 obj\b(.*?)\bendobj", re.DOTALL)
_STREAM = re.compile(rb"stream\r?\n(.*?)\r?\nendstream", re.DOTALL)
_SHOWN = re.compile(rb"/(F\d+)\s[\d.]+\sTf|<([0-9A-Fa-f]+)>|(T[dDmJj*]|ET)\b")


def pages(printed: bytes) -> list[str]:
    """Return the words of each page, in the order of the pages."""
    objects = {int(number): body for number, body in _OBJECT.findall(printed)}
    return [_words(objects, page) for page in _in_order(objects)]


def _in_order(objects: dict[int, bytes]) -> list[bytes]:
    """Return the page objects, by the tree of pages from its root."""
    (root,) = [body for body in objects.values() if b"/Type /Catalog" in body]

    def below(number: int) -> list[bytes]:
        body = objects[number]
        kids = re.search(rb"/Kids\s*\[(.*?)\]", body, re.DOTALL)
        if kids is None:
            return [body]
        return [page for kid in re.findall(rb"(\d+) 0 R", kids[1]) for page in below(int(kid))]

    return below(_points_to(root, b"Pages"))


def _points_to(body: bytes, name: bytes) -> int:
    found = re.search(rb"/" + name + rb"\s+(\d+) 0 R", body)
    assert found, f"no /{name.decode()}"
    return int(found[1])


def _stream(body: bytes) -> bytes:
    found = _STREAM.search(body)
    assert found, "no stream"
    return zlib.decompress(found[1]) if b"/FlateDecode" in body else found[1]


def _words(objects: dict[int, bytes], page: bytes) -> str:
    fonts = {
        name: _characters(_stream(objects[_points_to(objects[int(number)], b"ToUnicode")]))
        for block in re.findall(rb"/Font\s*<<(.*?)>>", page, re.DOTALL)
        for name, number in re.findall(rb"/(F\d+)\s+(\d+) 0 R", block)
        if b"/ToUnicode" in objects[int(number)]
    }
    text, font = [], {}
    for name, glyphs, moved in _SHOWN.findall(_stream(objects[_points_to(page, b"Contents")])):
        if name:
            font = fonts.get(name, {})
        elif glyphs:
            text.append("".join(font.get(glyphs[k : k + 4].upper(), "") for k in range(0, len(glyphs), 4)))
        elif moved == b"ET":
            text.append(" ")
    return re.sub(r"\s+", " ", unicodedata.normalize("NFKC", "".join(text)))


def _characters(table: bytes) -> dict[bytes, str]:
    """Return the character of each glyph, by its number in hexadecimal."""
    found: dict[bytes, str] = {}
    for block in re.findall(rb"beginbfchar(.*?)endbfchar", table, re.DOTALL):
        for glyph, code in re.findall(rb"<(\w+)>\s*<(\w+)>", block):
            found[glyph.upper()] = bytes.fromhex(code.decode()).decode("utf-16-be")
    for block in re.findall(rb"beginbfrange(.*?)endbfrange", table, re.DOTALL):
        for first, last, code in re.findall(rb"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
            start = int(code, 16)
            for k in range(int(first, 16), int(last, 16) + 1):
                found[b"%04X" % k] = chr(start + k - int(first, 16))
    return found
