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
    """What a name can be of: code and sentence when there is none of it, the list, and which of its items."""

    code: str
    sentence: str
    key: str
    is_one: Callable[[Section], bool] = bool

    def names(self, values: Section) -> Iterator[str]:
        """Yield the names that there are."""
        return (section["name"] for section in _named(values, self.key) if self.is_one(section))

    def all_known(self, values: Section) -> bool:
        """Say whether each item of the list was read as far as its name, so that no other name is there."""
        if self.key not in values:
            return not values.stray
        items = values[self.key]
        return items is not None and all(isinstance(item, Section) and item.get("name") for item in items)


def _ringed(place: Section) -> bool:
    """Say whether a place has rings, or may have: its shape could not be read."""
    shape = place.get("shape", {})
    return shape is None or "ring" in shape


def _named(values: Section, key: str) -> Iterator[Section]:
    """Yield the sections of a list that have a name; the list may have holes."""
    for item in values.get(key) or ():
        if isinstance(item, Section) and item.get("name"):
            yield item


#: What the description says a name can be of.
REFERENTS = {
    "way": Referent("unknown-way", 'there is no way "{}"', "ways"),
    "place": Referent("unknown-place", 'there is no place "{}"', "places"),
    "place with rings": Referent("unknown-place", '"{}" is not a place with rings', "places", _ringed),
}


def check_names(values: Section, context: ReadContext) -> None:
    """Note every way and place that is named but not there.

    ``values`` may have holes where the reader noted problems of its own. Where it did so of a name, any that
    is not there may be that one.
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
    known = {
        of: dict.fromkeys(referent.names(values))
        for of, referent in REFERENTS.items()
        if referent.all_known(values)
    }
    for reference in context.references:
        names, referent = known.get(reference.of), REFERENTS[reference.of]
        if names is not None and reference.name not in names:
            sentence = referent.sentence.format(reference.name) + context.nearest(reference.name, names)
            context.problem(reference.mark, referent.code, f"{reference.path}: {sentence}")
