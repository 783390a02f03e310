"""What to ask a seller about a material before ordering, by its class and its flags."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import cache
from typing import Any, NamedTuple

from barrowful.catalogue.classes import classes, flag_meanings
from barrowful.catalogue.figures import CatalogueError, load
from barrowful.catalogue.materials import Material

#: What a grower may have told of a way already.
TOLD = frozenset({"origin"})


class Question(NamedTuple):
    """A question; each trigger that is not empty must match, and of ``unless`` nothing may be told yet."""

    key: str
    text: str
    sources: tuple[str, ...]
    place: str
    grade: str
    classes: frozenset[str]
    flags: frozenset[str]
    without: frozenset[str]
    unless: frozenset[str]

    def is_about(self, material: Material) -> bool:
        """Say whether it is asked about a material."""
        return material.is_of(self.classes, self.flags, self.without)


@cache
def every_question() -> tuple[Question, ...]:
    """Return every question, in the order of asking."""
    return tuple(_question(entry) for entry in load("questions.toml")["question"])


def _question(entry: Mapping[str, Any]) -> Question:
    when, source = entry["when"], entry["source"]
    words: dict[str, Any] = {
        key: frozenset(when.get(key, ())) for key in ("classes", "flags", "without", "unless")
    }
    known = (classes().keys(), flag_meanings().keys(), flag_meanings().keys(), TOLD)
    if not when or any(not of <= all_of for of, all_of in zip(words.values(), known, strict=True)):
        raise CatalogueError(f"question {entry['key']}: an unknown word in when, or nothing")
    plain: dict[str, Any] = {key: entry[key] for key in ("key", "text", "place", "grade")}
    named = (source,) if isinstance(source, str) else tuple(source)
    return Question(**plain, sources=named, **words)


def questions(material: Material, told: Collection[str] = ()) -> tuple[Question, ...]:
    """Return what to ask about a material, less what the grower has told of its way already.

    >>> from barrowful.catalogue.materials import material
    >>> [question.key for question in questions(material("arborist chip"), {"origin"})]
    ['chip-species', 'chip-age', 'treated-timber']
    >>> [question.key for question in questions(material("ground limestone"))]
    ['lime-fineness']
    """
    return tuple(
        question
        for question in every_question()
        if question.is_about(material) and question.unless.isdisjoint(told)
    )
