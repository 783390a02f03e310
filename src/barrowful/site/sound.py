"""What was read soundly of a file with problems: what else is wrong with it is told together with them.

What is refused is left out, and with it all that goes by it, so that nothing is told that follows from it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from barrowful.measures.problems import Mark, Problem
from barrowful.site.past import of_ways
from barrowful.sitefile.keys.place import PLACE
from barrowful.sitefile.keys.site import CLIMATE, LABOUR, LIMITS, SITE
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.context import ReadContext, Section

#: What stands for keys of the site that could not be read: nothing is wrong with any other key for these.
STAND_INS: Mapping[str, Any] = {"site": "", "currency": "", "start": date.min, "places": ()}
#: What must be known of a place to say what is wrong with the rest of it.
SIZED = ("name", "kind", "shape", "count")
#: Lists of the site whose items are looked at each for itself.
LISTS = ("places", "ways", "plan", "history")


def sound(values: Section, problems: Iterable[Problem], context: ReadContext) -> Section:
    """Return what was read soundly of the values of a file, as if that were all it said."""
    return _Sieve(problems, context).site(values)


class _Sieve:
    """Leaves out what problems are noted of."""

    def __init__(self, problems: Iterable[Problem], context: ReadContext) -> None:
        self.context = context
        self.told = {(problem.line, problem.column) for problem in problems}

    def site(self, values: Section) -> Section:
        """Return the whole file: what cannot be read of it has its default, or what stands in for it."""
        kept = self._part(values, SITE)
        unread = {key for key in SITE.by_key if self._is_unread(values, key)}
        kept.update({key: value for key, value in STAND_INS.items() if key not in kept})
        for key, group in (("climate", CLIMATE), ("labour", LABOUR), ("limits", LIMITS)):
            if isinstance(values.get(key), Section):
                kept[key] = self._part(values[key], group)
        if "hemisphere" in unread:
            kept.pop("climate", None)
        kept.update({key: tuple(self._items(values, key)) for key in LISTS if key in values})
        self._without_soil(kept, unread)
        self._without_strays(kept, values)
        return kept

    def _items(self, values: Section, key: str) -> Iterator[Section]:
        """Yield the sound items of a list; places may lack what can be left out, and needs."""
        for item in values[key] or ():
            if key != "places":
                if self._is_sound(item):
                    yield item
            elif isinstance(item, Section) and (place := self._place(item)) is not None:
                yield place

    def _place(self, section: Section) -> Section | None:
        """Return a place as far as it is sound, nothing where it is not known what or how large it is."""
        kept = self._part(section, PLACE)
        needed = all(key in section and self._is_read(section, key) for key in SIZED)
        if not needed or self._is_told(section.mark):
            return None
        if not self._is_sound(section):
            kept.unread |= {"needs"}
        if "needs" in section:
            kept["needs"] = tuple(need for need in section["needs"] or () if self._is_sound(need))
        if self._is_unread(section, "soil"):
            kept.unread |= {"soil"}
        if isinstance(section.get("limits"), Section):
            kept["limits"] = self._part(section["limits"], PLACE.below("limits"))
        return kept

    def _without_soil(self, kept: Section, unread: Collection[str]) -> None:
        """Note of every place that its soil is not known, where that of the site is not."""
        if "soil" in unread:
            kept.pop("soil", None)
            for place in kept["places"]:
                place.unread |= {"soil"}

    def _without_strays(self, kept: Section, values: Section) -> None:
        """Leave out what goes by a place or a way that is not wholly known."""
        places = _named(kept, "places", lambda place: not place.unread) - self._lost(kept, values, "places")
        kept["ways"] = tuple(way for way in kept.get("ways") or () if _stands_on(way) in {"", *places})
        ways = _named(kept, "ways") - self._lost(kept, values, "ways")
        for key in ("plan", "history"):
            lines = [line for line in kept.get(key) or () if line.get("place", "") in {"", *places}]
            kept[key] = tuple(of_ways(lines, _named(values, "ways"), ways))

    @staticmethod
    def _lost(kept: Section, values: Section, key: str) -> set[str]:
        """Return the names of the items that are left out, one of two of the same name too."""
        marks = {item.mark for item in kept.get(key) or ()}
        return _named(values, key, lambda item: item.mark not in marks)

    def _part(self, section: Section, group: Group) -> Section:
        """Return a section with its sound keys; what is left out has its default."""
        kept = group.blank(section.mark, self.context)
        kept.path, kept.marks = section.path, section.marks
        kept.update({key: value for key, value in section.items() if self._is_read(section, key)})
        return kept

    def _is_unread(self, section: Section, key: str) -> bool:
        """Say whether a key may have said something that is not known."""
        return not self._is_read(section, key) if key in section.marks else section.stray

    def _is_read(self, section: Section, key: str) -> bool:
        return self._is_sound(section[key]) and not self._is_told(section.marks.get(key))

    def _is_sound(self, value: Any) -> bool:
        """Say whether there is no problem in a value, nor in what it holds."""
        if isinstance(value, Section):
            read = all(self._is_read(value, key) for key in value)
            return read and not value.stray and not self._is_told(value.mark)
        if type(value) in {tuple, frozenset}:  # of a list, not of a record that has gaps of its own
            return all(map(self._is_sound, value))
        return value is not None

    def _is_told(self, mark: Mark | None) -> bool:
        return mark is not None and (mark.line, mark.column) in self.told


def _named(values: Section, key: str, is_one: Callable[[Section], bool] = lambda item: True) -> set[str]:
    """Return the names of some items of a list."""
    items = (item for item in values.get(key) or () if isinstance(item, Section) and is_one(item))
    return {item["name"] for item in items if item.get("name")}


def _stands_on(way: Section) -> str:
    """Return the name of the place whose ground a way takes, or nothing."""
    grow = way.get("grow")
    return (grow.get("grows_on") or "") if isinstance(grow, Section) else ""
