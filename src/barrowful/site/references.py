"""Names of ways and places that lead nowhere: told together with everything else that is wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from barrowful.site.ways import JOINS
from barrowful.sitefile.language.context import ReadContext, Section

#: What stands where a way's name does: of the whole site the cheapest and the grower's plan, and no way.
TITLES, NO_WAY = ("cheapest for each need", "your plan"), "nothing"
#: What stands under the names of a table before its sums.
IN_ALL = "in all"
#: Words of answers that would be taken for a name, by the list whose names they would be.
WORDS_OF_ANSWERS = {"ways": frozenset({*TITLES, NO_WAY, IN_ALL}), "places": frozenset({IN_ALL})}


class Referent(NamedTuple):
    """What a name can be of: the code and sentence when there is none of it, and those that there are."""

    code: str
    sentence: str
    names: Callable[[Section], Iterator[str]]


def _names(values: Section, key: str) -> Iterator[str]:
    return (section["name"] for section in _named(values, key))


def _ringed(values: Section) -> Iterator[str]:
    return (place["name"] for place in _named(values, "places") if "ring" in (place.get("shape") or ()))


def _named(values: Section, key: str) -> Iterator[Section]:
    """Yield the sections of a list that have a name; the list may have holes."""
    for item in values.get(key) or ():
        if isinstance(item, Section) and item.get("name"):
            yield item


#: What the description says a name can be of.
REFERENTS = {
    "way": Referent("unknown-way", 'there is no way "{}"', lambda values: _names(values, "ways")),
    "place": Referent("unknown-place", 'there is no place "{}"', lambda values: _names(values, "places")),
    "place with rings": Referent("unknown-place", '"{}" is not a place with rings', _ringed),
}


def check_names(values: Section, context: ReadContext) -> None:
    """Note every way and place that is named but not there.

    ``values`` may have holes where the reader noted problems of its own.
    """
    for section in _named(values, "ways"):
        if JOINS in section["name"]:
            sentence = f'a way may not have "{JOINS}" in its name, which joins the names of two; write "and"'
            context.problem(section.place("name"), "name", f"{section.path}: {sentence}")
    for key, words in WORDS_OF_ANSWERS.items():
        for section in _named(values, key):
            if section["name"].casefold() in words:
                sentence = f'"{section["name"]}" stands in answers for something else; give it another name'
                context.problem(section.place("name"), "name", f"{section.path}: {sentence}")
    known = {of: dict.fromkeys(referent.names(values)) for of, referent in REFERENTS.items()}
    for reference in context.references:
        names, referent = known[reference.of], REFERENTS[reference.of]
        if reference.name not in names:
            sentence = referent.sentence.format(reference.name) + context.nearest(reference.name, names)
            context.problem(reference.mark, referent.code, f"{reference.path}: {sentence}")
