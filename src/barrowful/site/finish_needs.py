"""From a checked section to the record of a need: each kind that is more than its keys says how."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from barrowful.catalogue.rates import rate
from barrowful.site.finish_feeds import Ground, feed
from barrowful.site.needs import NEEDS, Cover, Feed, Fill, Lime, Need
from barrowful.site.pairs import record
from barrowful.site.records import Place
from barrowful.site.ways import Way
from barrowful.sitefile.language.context import ReadContext, Section

#: Gives the record of a section, for the ground of a place.
Finish = Callable[[Section, Ground, ReadContext], Need]


def needs_of(items: tuple[Section, ...], ground: Ground, context: ReadContext) -> tuple[Need, ...]:
    """Return the needs of a place, one of a kind."""
    needs: dict[str, Need] = {}
    for item in items:
        word, terms = next(iter(item.items()))
        if word in needs:
            sentence = f'a second "{word}"; a place has one need of a kind'
            context.problem(item.place(word), "duplicate-need", f"{item.path}: {sentence}")
            continue
        kind = NEEDS[word]
        finish = FINISHES.get(kind)
        needs[word] = finish(terms, ground, context) if finish else record(terms, kind)
    return tuple(needs.values())


def _cover(terms: Section, ground: Ground, context: ReadContext) -> Cover:
    """A cover that smothers has the published depth where none is given."""
    depth = terms.get("depth") or (rate("smother_depth") if terms.get("smother") else 0.0)
    return record(terms, Cover, depth=depth)


def _fill(terms: Section, ground: Ground, context: ReadContext) -> Fill:
    """A mix that is asked for is told part by part."""
    mix = terms.get("mix") or {}
    return record(terms, Fill, mix=tuple((part, *shares) for part, shares in mix.items()))


def _lime(terms: Section, ground: Ground, context: ReadContext) -> Lime:
    """Lime is dug in, but left on top over roots that stand for years (common practice, no source)."""
    dug = terms.get("dug")
    return record(terms, Lime, dug=not ground.stands if dug is None else dug)


def beside_ways(place: Place, ways: Iterable[Way]) -> Place:
    """Return a place whose lime knows whether some among its ways does not burn."""
    lime = place.need(Lime.kind)
    mild = (
        way.material.class_ == "lime" and not way.material.has("caustic")
        for way in ways
        if place.ways is None or way.name in place.ways
    )
    if not isinstance(lime, Lime) or not any(mild):
        return place
    known = replace(lime, milder=True)
    return replace(place, needs=tuple(known if need is lime else need for need in place.needs))


#: The kinds of need that are more than their keys.
FINISHES: dict[type[Need], Finish] = {Cover: _cover, Feed: feed, Fill: _fill, Lime: _lime}
