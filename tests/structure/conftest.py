"""What the structure tests share: every module of the package, parsed."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

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
            if isinstance(node, ast.Import):
                for alias in node.names:
                    yield alias.name, node.lineno
            elif isinstance(node, ast.ImportFrom):
                assert node.level == 0, f"{self.where}:{node.lineno}: a relative import"
                yield str(node.module), node.lineno
                for alias in node.names:
                    yield f"{node.module}.{alias.name}", node.lineno

    def functions(self) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
        """Yield each function and method."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield node


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
