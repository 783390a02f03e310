"""Every relation of ground says where it is from, by a key that stands in the catalogue."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import barrowful.ground
from barrowful.catalogue.figures import sources

PACKAGE = Path(barrowful.ground.__file__).parent
KEYS = re.compile(r"Source:\s+(\[[a-z0-9-]+\](?:,\s+\[[a-z0-9-]+\])*)")
#: What a relation says that is from no source.
OTHERWISE = re.compile(r"needs no source|[Bb]y definition|judgement")


MODULES = {path.stem: ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.glob("*.py"))}
#: Every docstring of ground, those of modules, classes and methods too.
TEXTS = [
    ast.get_docstring(node) or ""
    for tree in MODULES.values()
    for node in ast.walk(tree)
    if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
]
RELATIONS = {
    f"{module}.{node.name}": ast.get_docstring(node) or ""
    for module, tree in MODULES.items()
    for node in tree.body
    if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
}


def keys_in(text: str) -> list[str]:
    """Return the keys of the sources a docstring cites."""
    return [key.strip("[], \n") for cited in KEYS.findall(text) for key in cited.split(",")]


def cited() -> set[str]:
    """Return every key that ground cites."""
    return {key for text in TEXTS for key in keys_in(text)}


def test_every_source_is_a_key_of_the_catalogue() -> None:
    """The word is followed by keys in brackets and nothing else, and each key stands in the catalogue."""
    assert [text for text in TEXTS if len(re.findall("Source", text)) != len(KEYS.findall(text))] == []
    assert sorted(cited() - sources().keys()) == []
    assert len(cited()) >= 15


@pytest.mark.parametrize("name", sorted(RELATIONS))
def test_every_relation_says_where_it_is_from(name: str) -> None:
    """A relation cites a source, or says that it is a definition, plane geometry or a judgement."""
    assert keys_in(RELATIONS[name]) or OTHERWISE.search(RELATIONS[name])


def test_sources_kept_for_ground_are_cited_there() -> None:
    """No source stands in the file for ground that none of its docstrings names."""
    file = PACKAGE.parent / "catalogue" / "sources" / "ground.toml"
    kept = re.findall(r"(?m)^\[(.+)\]$", file.read_text(encoding="utf-8"))
    assert sorted(set(kept) - cited()) == []
