"""Every relation of ground is called by the program: nothing stands there for its own tests alone."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import barrowful

PACKAGE = Path(barrowful.__file__).parent
GROUND = "barrowful.ground"


def module_name(path: Path) -> str:
    """Return the dotted name of a module of the package."""
    return ".".join(("barrowful", *path.relative_to(PACKAGE).with_suffix("").parts))


TREES = {
    module_name(path): ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.rglob("*.py"))
}


def imported(tree: ast.Module) -> dict[str, str]:
    """Return what each name that a module imports stands for, dotted; imports inside functions too."""
    names: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            names |= {alias.asname or alias.name: f"{node.module}.{alias.name}" for alias in node.names}
    return names


def named(node: ast.AST, names: dict[str, str]) -> Iterator[str]:
    """Yield the dotted name of each thing of ground that is called, or handed on to be, inside a part."""
    for part in ast.walk(node):
        if isinstance(part, ast.Name | ast.Attribute) and isinstance(part.ctx, ast.Load):
            first, _, rest = ast.unparse(part).partition(".")
            dotted = f"{names.get(first, '')}.{rest}".rstrip(".")
            if dotted.startswith(f"{GROUND}."):
                yield dotted


def functions() -> dict[str, ast.FunctionDef]:
    """Return the functions of ground by their dotted name, those that start with an underscore too."""
    return {
        f"{name}.{node.name}": node
        for name, tree in TREES.items()
        if name.startswith(f"{GROUND}.")
        for node in tree.body
        if isinstance(node, ast.FunctionDef)
    }


def reached() -> set[str]:
    """Return what is called from outside ground, and what that calls in ground, to the end."""
    inside = functions()
    ways_in = [tree for name, tree in TREES.items() if not name.startswith(GROUND)]
    waiting = [dotted for tree in ways_in for dotted in named(tree, imported(tree))]
    seen: set[str] = set()
    while waiting:
        dotted = waiting.pop()
        if dotted in seen or dotted not in inside:
            continue
        seen.add(dotted)
        home = dotted.rpartition(".")[0]
        beside = {other.rpartition(".")[2]: other for other in inside if other.rpartition(".")[0] == home}
        waiting += named(inside[dotted], beside | imported(TREES[home]))
    return seen


def test_every_relation_is_called_by_the_program() -> None:
    """Each function of ground is called from outside it, or by a relation that is."""
    assert len(functions()) > 50
    assert sorted(functions().keys() - reached()) == []
