"""Kinds: each word of the site file for a sort of thing stands in every registry of that sort, and no other does."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import plan_sites
import pytest

from barrowful.catalogue.classes import classes
from barrowful.catalogue.figures import load
from barrowful.catalogue.vocabulary import CLASSES
from barrowful.needs.registry import NEEDS as KINDS_OF_NEED
from barrowful.site.needs import NEEDS
from barrowful.site.references import REFERENTS
from barrowful.site.ways import WAYS
from barrowful.sitefile.keys.material import MATERIAL
from barrowful.sitefile.keys.need import NEED, NEED_KINDS
from barrowful.sitefile.keys.shape import AREAS, SHAPE
from barrowful.sitefile.keys.site import PLAN, SITE
from barrowful.sitefile.keys.way import WAY, WAY_KINDS
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.kinds import Choice, Kind
from barrowful.sitefile.language.lists import ListOf, Named
from barrowful.sitefile.language.names import NameOf
from barrowful.sitefile.products.manual import groups
from barrowful.supplies.registry import SUPPLIES


def words_of(group: Group, key: str) -> tuple[str, ...]:
    """Return the words of a choice."""
    kind = group.by_key[key].kind
    assert isinstance(kind, Choice)
    return kind.words


#: What the words are of -> the words of the description, and each registry that must hold them all.
REGISTRIES: dict[str, tuple[Iterable[str], dict[str, Iterable[str]]]] = {
    "way": (
        [field.key for field in WAY.fields if isinstance(field.kind, Group)],
        {"words": WAY_KINDS, "records": WAYS, "supplies": SUPPLIES},
    ),
    "need": (
        NEED.by_key,
        {
            "words": NEED_KINDS,
            "records": NEEDS,
            "kinds": KINDS_OF_NEED,
            "instead": load("instead.toml"),
            "what tests ask": plan_sites.NEEDS,
        },
    ),
    "class of material": (CLASSES, {"description": words_of(MATERIAL, "class"), "rules": classes()}),
    "shape": (SHAPE.by_key, {"areas": AREAS}),
}


@pytest.mark.parametrize("sort", REGISTRIES)
def test_every_kind_is_in_every_registry(sort: str) -> None:
    """A kind that is described and not taken up, or taken up and not described, is told by its name."""
    words, registries = REGISTRIES[sort]
    for name, registry in registries.items():
        assert set(registry) == set(words), name


#: Classes of ways and needs -> the folders that may ask which of them a thing is.
ASKED_AT_HOME = {
    **dict.fromkeys((record.__name__ for record in WAYS.values()), ("site", "supplies")),
    **dict.fromkeys((supply.__name__ for supply in SUPPLIES.values()), ("supplies",)),
    **dict.fromkeys((record.__name__ for record in NEEDS.values()), ("site", "needs")),
    **dict.fromkeys((type(need).__name__ for need in KINDS_OF_NEED.values()), ("needs",)),
}


def test_no_layer_asks_which_kind_a_thing_is(modules: list[Any]) -> None:
    """Above their own layer ways and needs are asked what they do, never which kind they are."""
    wrong = [
        f"{one.where}:{node.lineno}: {name}"
        for one in modules
        for node in ast.walk(one.tree)
        if isinstance(node, ast.Call) and ast.unparse(node.func) in {"isinstance", "issubclass", "type"}
        for name in {part.id for part in ast.walk(node) if isinstance(part, ast.Name)} & ASKED_AT_HOME.keys()
        if one.layer not in ASKED_AT_HOME[name]
    ]
    assert wrong == []


@pytest.mark.parametrize("registry", [WAYS, NEEDS])
def test_a_record_knows_its_word(registry: dict[str, type]) -> None:
    """The word a record gives for its kind is the one it is found by."""
    for word, record in registry.items():
        assert object.__new__(record).kind == word  # type: ignore[attr-defined]


def test_the_manual_tells_the_order_in_which_needs_are_settled() -> None:
    """It is typed there once more."""
    method = (Path(__file__).parents[2] / "docs" / "method.md").read_text("utf-8")
    assert f"Needs are settled in the order {', '.join(KINDS_OF_NEED)}." in method


def test_words_are_typed_once() -> None:
    """A choice of kinds offers the very words of the description."""
    assert words_of(PLAN, "need") == tuple(NEED.by_key)


def named(kind: Kind) -> Iterator[str]:
    """Yield what a kind's text can be the name of."""
    if isinstance(kind, NameOf):
        yield kind.of
    if isinstance(kind, ListOf | Named):
        yield from named(kind.kind)


def test_a_class_that_is_asked_for_is_one(modules: list[Any]) -> None:
    """A text that the class of a material is compared with is a class, so that none is misspelt."""
    asked = {
        text.value
        for one in modules
        for node in ast.walk(one.tree)
        if isinstance(node, ast.Compare) and ast.unparse(node.left).endswith("class_")
        for text in ast.walk(node)
        if isinstance(text, ast.Constant) and isinstance(text.value, str)
    }
    assert asked - set(CLASSES) == set()
    assert asked


def test_every_name_is_of_something_that_is_looked_for() -> None:
    """What the description calls a name of something has its look-up, and each look-up is used."""
    of = {word for _, group in groups(SITE, "") for field in group.fields for word in named(field.kind)}
    assert of == set(REFERENTS)
