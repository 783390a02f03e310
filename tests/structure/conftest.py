"""What the structure tests share: every module of the package, parsed."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest

import barrowful

PACKAGE = Path(barrowful.__file__).parent


@dataclass(frozen=True)
class Module:
    """A module of the package: its dotted name, its layer and its source."""

    name: str
    layer: str
    path: Path

    @cached_property
    def source(self) -> str:
        """Return the text."""
        return self.path.read_text(encoding="utf-8")

    @cached_property
    def tree(self) -> ast.Module:
        """Return the syntax tree."""
        return ast.parse(self.source)

    @property
    def where(self) -> str:
        """Return the path inside the package, for messages."""
        return self.path.relative_to(PACKAGE).as_posix()

    def imports(self) -> Iterator[tuple[str, int]]:
        """Yield each imported module with its line, those inside functions and for typing included."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import | ast.ImportFrom):
                relative = isinstance(node, ast.ImportFrom) and node.level
                assert not relative, f"{self.where}:{node.lineno}: a relative import"
                yield from ((name, node.lineno) for name in imported(node))

    def needs_to_load(self, modules: list[Module]) -> set[str]:
        """Return the modules of the package that must be loaded before this one can be: not those that its
        functions import, or that are for typing.
        """
        names = {module.name for module in modules}
        asked = {name for node in loaded(self.tree.body) for name in imported(node)}
        folders = {
            name.rsplit(".", depth)[0]
            for name in asked | {self.name}
            for depth in range(1, name.count(".") + 1)
        }
        return (asked | folders) & names - {self.name}

    def functions(self) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
        """Yield each function and method."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield node


def loaded(body: list[Any]) -> Iterator[ast.Import | ast.ImportFrom]:
    """Yield each import that is carried out as a module is loaded."""
    for node in body:
        if isinstance(node, ast.Import | ast.ImportFrom):
            yield node
        elif isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            yield from loaded(node.orelse)
        elif not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            for part in ("body", "handlers", "orelse", "finalbody", "cases"):
                yield from loaded(getattr(node, part, []))


def imported(node: ast.Import | ast.ImportFrom) -> Iterator[str]:
    """Yield each name that an import names: of a module, or of what may be one."""
    if isinstance(node, ast.ImportFrom):
        yield str(node.module)
        yield from (f"{node.module}.{alias.name}" for alias in node.names)
    else:
        yield from (alias.name for alias in node.names)


def find_modules() -> list[Module]:
    """Return every module of the package, in order."""
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
        name = ".".join(parts).removesuffix(".__init__")
        found.append(Module(name, parts[1] if len(parts) > 2 else "", path))
    return found


@pytest.fixture(scope="session")
def modules() -> list[Module]:
    """Give every module of the package."""
    return find_modules()
