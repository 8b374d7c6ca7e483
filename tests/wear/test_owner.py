"""Who writes to the state of the call: every object to its own, nobody to another's."""

import ast
from pathlib import Path

import pytest

import shotlog.wear

FILES = sorted(Path(shotlog.wear.__file__).parent.rglob("*.py"))
CHANGES = {"append", "clear", "extend", "insert", "pop", "popleft", "remove", "setdefault", "sort", "update"}


def owner(node: ast.expr) -> str:
    """Return the name of the object whose attribute an expression lies in; empty for a name or element by itself."""
    inside = False
    while isinstance(node, ast.Attribute | ast.Subscript):
        inside |= isinstance(node, ast.Attribute)
        node = node.value
    return node.id if inside and isinstance(node, ast.Name) else ""


def single(target: ast.expr) -> list[ast.expr]:
    return [one for part in target.elts for one in single(part)] if isinstance(target, ast.Tuple) else [target]


def owners(tree: ast.AST) -> set[str]:
    """Whose state is assigned to, or changed in place by one of the methods of a list or dict."""
    found: list[ast.expr] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign | ast.Delete):
            found += [one for target in node.targets for one in single(target)]
        elif isinstance(node, ast.AugAssign | ast.AnnAssign):
            found.append(node.target)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CHANGES:
            found.append(node.func.value)
    return {owner(one) for one in found} - {""}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_nobody_writes_into_anothers_state(path: Path) -> None:
    assert owners(ast.parse(path.read_text(encoding="utf-8"))) <= {"self"}


@pytest.mark.parametrize(
    "line",
    ["a.call = None", "a.stretch.odd.append(3)", "b, a.x = 1, 2", "del a.rows[:4]", "a.held.n += 1", "a.b[2] = 1"],
)
def test_such_a_write_would_be_seen(line: str) -> None:
    assert owners(ast.parse(line)) == {"a"}
