"""Names that lead nowhere: told together with everything else, even where other values are wrong."""

from __future__ import annotations

from typing import Any

from barrowful.catalogue.crops import crops
from barrowful.catalogue.plants import plant, plant_names
from barrowful.measures.problems import Mark
from barrowful.site.builder import Builder
from barrowful.sitefile.desk import Section


def check_names(values: Section, builder: Builder) -> None:
    """Note every material, plant, crop, way and place that is named but not there.

    ``values`` may have holes where the reader found problems of its own.
    """
    ways, places = _named(values, "ways"), _named(values, "places")
    for place in _sections(values.get("places")):
        _check_place(place, ways, builder)
    for way in _sections(values.get("ways")):
        _check_way(way, ways, builder)
    for index, entry in enumerate(_list(values.get("history")), 1):
        if isinstance(entry, Section):
            _check_place_name(entry, f"history.{index}", places, builder)
            _check_material(entry, "material", f"history.{index}", builder)
    for index, entry in enumerate(_list(values.get("plan")), 1):
        if isinstance(entry, Section):
            _check_place_name(entry, f"plan.{index}", places, builder)
            _check_way_name(entry.get("way"), entry.place("way"), f"plan.{index}.way", ways, builder)


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []


def _sections(value: Any) -> list[Section]:
    return [one for one in _list(value) if isinstance(one, Section)]


def _named(values: Section, key: str) -> dict[str, None]:
    """Return the names of places or ways, in order and quick to look up."""
    return {str(one["name"]): None for one in _sections(values.get(key)) if one.get("name")}


def _check_place(place: Section, ways: dict[str, None], builder: Builder) -> None:
    where = f"places.{place.get('name')}"
    for way in _list(place.get("ways")):
        _check_way_name(way, place.place("ways"), f"{where}.ways", ways, builder)
    for need in _sections(place.get("needs")):
        feed = need.get("feed")
        named = feed.get("for") if isinstance(feed, Section) else None
        if isinstance(feed, Section) and named is not None and named not in crops():
            close = builder.desk.nearest(str(named), crops()) or "."
            builder.problem(
                feed.place("for"),
                "unknown-crop",
                f'{where}.needs.feed.for: "{named}" is not a crop known here{close}'
                ' List them with "barrowful figures crops"',
            )


def _check_way(way: Section, ways: dict[str, None], builder: Builder) -> None:
    for kind in ("buy", "have", "make", "grow"):
        section = way.get(kind)
        if not isinstance(section, Section):
            continue
        where = f"ways.{way.get('name')}.{kind}"
        _check_material(section, "material", where, builder)
        _check_plant(section, where, builder)
        for index, part in enumerate(_list(section.get("from")), 1):
            if isinstance(part, Section):
                _check_material(part, "material", f"{where}.from.{index}", builder)
                _check_way_name(
                    part.get("way"), part.place("way"), f"{where}.from.{index}.way", ways, builder
                )


def _check_material(section: Section, key: str, where: str, builder: Builder) -> None:
    name = section.get(key)
    if name is not None:
        builder.material(str(name), section.place(key), f"{where}.{key}")


def _check_plant(section: Section, where: str, builder: Builder) -> None:
    name = section.get("plant")
    if name is not None and plant(str(name)) is None:
        close = builder.desk.nearest(str(name), plant_names())
        builder.problem(
            section.place("plant"),
            "unknown-plant",
            f'{where}.plant: "{name}" is not a plant known here{close}',
        )


def _check_way_name(name: Any, mark: Mark, where: str, ways: dict[str, None], builder: Builder) -> None:
    if name is not None and name not in ways:
        close = builder.desk.nearest(str(name), ways)
        builder.problem(mark, "unknown-way", f'{where}: there is no way "{name}"{close}')


def _check_place_name(entry: Section, where: str, places: dict[str, None], builder: Builder) -> None:
    name = entry.get("place")
    if name is not None and name not in places:
        close = builder.desk.nearest(str(name), places)
        builder.problem(
            entry.place("place"), "unknown-place", f'{where}.place: there is no place "{name}"{close}'
        )
