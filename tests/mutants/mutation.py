"""Every small mistake that could be made in one line of a file, as a person or a slip of the hand would make it.

A mutation replaces a piece of one line. Left out is what no test should look at: annotations, imports, docstrings,
decorators, `__all__`, and words that are names (keys, ids, classes) rather than sentences.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

__all__ = ["Mutation", "mutated", "mutations"]

COMPARED = {
    ast.Lt: (b"<", (b"<=", b">=")), ast.LtE: (b"<=", (b"<", b">")), ast.Gt: (b">", (b">=", b"<=")),
    ast.GtE: (b">=", (b">", b"<")), ast.Eq: (b"==", (b"!=",)), ast.NotEq: (b"!=", (b"==",)),
    ast.Is: (b"is", (b"is not",)), ast.IsNot: (b"is not", (b"is",)),
    ast.In: (b"in", (b"not in",)), ast.NotIn: (b"not in", (b"in",)),
}  # fmt: skip
COMPUTED = {
    ast.Add: (b"+", b"-"), ast.Sub: (b"-", b"+"), ast.Mult: (b"*", b"/"), ast.Div: (b"/", b"*"),
    ast.FloorDiv: (b"//", b"*"), ast.Mod: (b"%", b"//"), ast.BitAnd: (b"&", b"|"), ast.BitOr: (b"|", b"&"),
}  # fmt: skip
OTHER_FUNCTION = {"min": b"max", "max": b"min", "any": b"all", "all": b"any"}
NEVER_LOOKED_INTO = {"annotation", "returns", "decorator_list", "format_spec"}
SENTENCE = re.compile(rb"\w+ \w|\{")
DECIMALS = re.compile(rb":[+,]?\.(\d)[fg]\}")


@dataclass(frozen=True, slots=True)
class Mutation:
    """One piece of one line (counted from 1; start and stop in bytes) that is replaced."""

    path: str
    line: int
    start: int
    stop: int
    new: bytes
    kind: str


def mutations(path: str, source: bytes) -> list[Mutation]:
    """All that can be done to the lines of a file, in the order of the file; a few do not parse, see `mutated`."""
    lines = source.splitlines(keepends=True)
    found = dict.fromkeys(
        Mutation(path, line, start, stop, new, kind)
        for node in _looked_into(ast.parse(source))
        for line, start, stop, new, kind in _of_node(node, lines)
    )
    return sorted(found, key=lambda each: (each.line, each.start, each.new))


def mutated(source: bytes, change: Mutation) -> bytes | None:
    """The file with the mistake in it; None where that is no Python, or says the same."""
    lines = source.splitlines(keepends=True)
    line = lines[change.line - 1]
    lines[change.line - 1] = line[: change.start] + change.new + line[change.stop :]
    wrong = b"".join(lines)
    try:
        same = ast.dump(ast.parse(wrong)) == ast.dump(ast.parse(source))
    except (SyntaxError, ValueError):
        return None
    return None if same else wrong


def _looked_into(node: ast.AST) -> Iterator[ast.AST]:
    yield node
    for field, value in ast.iter_fields(node):
        if field in NEVER_LOOKED_INTO:
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not _left_out(child):
                yield from _looked_into(child)


def _left_out(node: ast.AST) -> bool:
    match node:
        case ast.Import() | ast.ImportFrom() | ast.Expr(value=ast.Constant()):
            return True
        case ast.Assign(targets=[ast.Name(id="__all__")]) | ast.If(test=ast.Name(id="TYPE_CHECKING")):
            return True
        case ast.Call(func=ast.Name(id="TypeVar" | "cast")):
            return True
    return False


def _of_node(node: ast.AST, lines: list[bytes]) -> Iterator[tuple[int, int, int, bytes, str]]:
    at = _place(node, lines)
    if at is None:
        if isinstance(node, ast.If | ast.IfExp | ast.BoolOp | ast.Compare | ast.BinOp | ast.comprehension):
            yield from _between(node, lines)
        return
    line, start, stop = at
    text = lines[line - 1][start:stop]
    match node:
        case ast.UnaryOp(op=ast.Not()):
            yield line, start, stop, text.removeprefix(b"not").lstrip(), "not"
        case ast.UnaryOp(op=ast.USub(), operand=operand) if not isinstance(operand, ast.Constant):
            yield line, start, stop, text.removeprefix(b"-"), "sign"
        case ast.Constant(value=bool(value)):
            yield line, start, stop, str(not value).encode(), "true or false"
        case ast.Constant(value=int(value)):
            yield line, start, stop, str(value + 1).encode(), "number"
        case ast.Constant(value=float(value)):
            yield line, start, stop, repr(2.0 * value if value else 1.0).encode(), "number"
        case ast.Constant(value=str()) | ast.JoinedStr():
            if SENTENCE.search(text):
                yield line, start, stop, b'""', "words"
            if isinstance(node, ast.JoinedStr):
                for found in DECIMALS.finditer(text):
                    digit = start + found.start(1)
                    yield line, digit, digit + 1, str(int(found[1]) + 1).encode(), "decimals"
        case ast.Return(value=ast.AST() as value) if not (isinstance(value, ast.Constant) and value.value is None):
            yield line, start, stop, b"return None", "return"
        case ast.Call(func=called, args=[first, second, *_]) if not _is_symmetric(called):
            one, other = _place(first, lines), _place(second, lines)
            if one and other and not isinstance(first, ast.Starred) and not isinstance(second, ast.Starred):
                row = lines[line - 1]
                turned = row[other[1] : other[2]] + row[one[2] : other[1]] + row[one[1] : one[2]]
                yield line, one[1], other[2], turned, "arguments"
        case ast.Expr(value=ast.Call() | ast.Yield() | ast.Await()) | ast.AugAssign() | ast.Continue() | ast.Break():
            yield line, start, stop, b"pass", "statement"
        case ast.Assign(targets=[ast.Attribute() | ast.Subscript()]) | ast.Delete():
            yield line, start, stop, b"pass", "statement"
        case ast.Name(id=name, ctx=ast.Load()) if name in OTHER_FUNCTION:
            yield line, start, stop, OTHER_FUNCTION[name], "function"
    yield from _between(node, lines)


def _between(node: ast.AST, lines: list[bytes]) -> Iterator[tuple[int, int, int, bytes, str]]:
    """What stands between two operands, and conditions, which may be in a node of several lines."""
    match node:
        case ast.If(test=test) | ast.IfExp(test=test) | ast.comprehension(ifs=[test]):
            at = _place(test, lines)
            if at and not (isinstance(test, ast.UnaryOp) and isinstance(test.op, ast.Not)):
                line, start, stop = at
                yield line, start, stop, b"not (" + lines[line - 1][start:stop] + b")", "condition"
        case ast.BoolOp(op=op, values=values):
            old, new = (b"and", b"or") if isinstance(op, ast.And) else (b"or", b"and")
            for left, right in pairwise(values):
                yield from _operator(left, right, old, [new], lines, "and, or")
        case ast.Compare(left=left, ops=ops, comparators=others):
            for one, op, other in zip([left, *others], ops, others, strict=False):
                old, others_instead = COMPARED[type(op)]
                yield from _operator(one, other, old, others_instead, lines, "compared")
        case ast.BinOp(left=left, op=op, right=right) if type(op) in COMPUTED:
            if not any(isinstance(each, ast.JoinedStr) or _is_text(each) for each in (left, right)):
                old, new = COMPUTED[type(op)]
                yield from _operator(left, right, old, [new], lines, "computed")


def _operator(
    left: ast.expr, right: ast.expr, old: bytes, new: tuple[bytes, ...] | list[bytes], lines: list[bytes], kind: str
) -> Iterator[tuple[int, int, int, bytes, str]]:
    one, other = _place(left, lines), _place(right, lines)
    if one is None or other is None or one[0] != other[0]:
        return
    gap = lines[one[0] - 1][one[2] : other[1]]
    at = gap.find(old)
    if at >= 0:
        for instead in new:
            yield one[0], one[2] + at, one[2] + at + len(old), instead, kind


def _place(node: ast.AST, lines: list[bytes]) -> tuple[int, int, int] | None:
    """Line, start and stop of a node that stands on one line, and where Python says (in an f-string it may not)."""
    line, start, stop = (getattr(node, name, None) for name in ("lineno", "col_offset", "end_col_offset"))
    if line is None or start is None or stop is None or getattr(node, "end_lineno", None) != line:
        return None
    if isinstance(node, ast.expr):
        try:
            there = ast.parse(b"(" + lines[line - 1][start:stop] + b")", mode="eval").body
        except SyntaxError:
            return None
        if re.sub(r"ctx=\w+\(\)", "", ast.dump(there)) != re.sub(r"ctx=\w+\(\)", "", ast.dump(node)):
            return None
    return line, start, stop


def _is_symmetric(called: ast.expr) -> bool:
    return getattr(called, "attr", getattr(called, "id", "")) in {
        "min",
        "max",
        "minimum",
        "maximum",
        "isclose",
        "hypot",
    }


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)
