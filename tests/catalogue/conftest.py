"""What the audit of the catalogue shares: the files as they stand, read without the package's own loader."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

import barrowful.catalogue

FOLDER = Path(barrowful.catalogue.__file__).parent


class Entry(NamedTuple):
    """A table of a catalogue file that cites a source: where it stands, its key and what it says."""

    file: str
    path: str
    key: str
    table: dict[str, Any]

    @property
    def is_figure(self) -> bool:
        """Say whether it is a low, a likely and a high with a unit."""
        return "unit" in self.table and "values" not in self.table


def cited(node: Any, file: str, path: str, key: str) -> Iterator[Entry]:
    """Yield every table inside a node that has a source or a unit."""
    if isinstance(node, dict):
        if "source" in node or "unit" in node:
            yield Entry(file, path, key, node)
        for name, inner in node.items():
            yield from cited(inner, file, f"{path}.{name}", name)
    elif isinstance(node, list):
        for index, inner in enumerate(node, 1):
            label = inner.get("name") or inner.get("key") or index if isinstance(inner, dict) else index
            yield from cited(inner, file, f"{path}.{label}", key)


@pytest.fixture(scope="session")
def contents() -> dict[str, dict[str, Any]]:
    """Give every catalogue file by its path, parsed."""
    return {
        path.relative_to(FOLDER).as_posix(): tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted(FOLDER.rglob("*.toml"))
    }


@pytest.fixture(scope="session")
def entries(contents: dict[str, dict[str, Any]]) -> list[Entry]:
    """Give every entry that cites a source, of every file but the sources themselves."""
    return [
        one
        for file, content in contents.items()
        if not file.startswith("sources/")
        for one in cited(content, file, file, "")
    ]


@pytest.fixture(scope="session")
def known_sources(contents: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """Give every source by its key."""
    return {
        key: source
        for file, content in contents.items()
        if file.startswith("sources/")
        for key, source in content.items()
    }
