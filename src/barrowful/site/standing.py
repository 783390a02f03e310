"""What a crop stands on: a place of the file that has room for it, or land beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barrowful.measures.telling import AREA, measured
from barrowful.site.records import Place
from barrowful.site.ways import Grow, Way
from barrowful.sitefile.language.context import ReadContext, Section

#: How much of a place a crop may take, with what rounding leaves.
NEAR = 1.01


def check_standing(
    values: Section, ways: Sequence[Way], places: Mapping[str, Place], context: ReadContext
) -> None:
    """Refuse a crop that a place has no room for; say where what is dropped in place has none."""
    sections = {section["name"]: section.get("grow") for section in values.get("ways") or ()}
    for way in ways:
        terms = sections.get(way.name)
        if isinstance(way, Grow) and isinstance(terms, Section):
            _check_crop(way, terms, places, context)


def _check_crop(way: Grow, terms: Section, places: Mapping[str, Place], context: ReadContext) -> None:
    if way.in_place and not way.stands_on:
        sentence = (
            "nothing says on which place it grows, so that what is cut is carried to where it is used, with"
            " the hours of that; name the place, e.g. grows_on: long beds, or leave in_place out"
        )
        context.warning(terms.place("in_place"), "unused", f"{terms.path}.in_place: {sentence}")
    if not way.grows_on:
        return
    if way.around:
        sentence = f"it stands round {way.around} already; leave one of the two out"
        context.problem(terms.place("grows_on"), "two-places", f"{terms.path}.grows_on: {sentence}")
        return
    room = places[way.grows_on].total_area
    if way.area is not None and room and way.area > room * NEAR:
        sentence = (
            f"{way.grows_on} is {measured(room, AREA)}, and the crop is to stand on"
            f" {measured(way.area, AREA)}; give each place a way of its own, with its own area"
        )
        context.problem(terms.place("grows_on"), "no-room", f"{terms.path}.grows_on: {sentence}")
