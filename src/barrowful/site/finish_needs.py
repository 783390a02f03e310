"""From a checked section to the record of a need: each kind that is more than its keys says how."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.catalogue.suits import why_unsuited
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.measures.elementwise import likely
from barrowful.site.finish_feeds import Ground, feed
from barrowful.site.grown import beside, wants_acid
from barrowful.site.needs import NEEDS, Cover, Dress, Feed, Fill, Lime, Need
from barrowful.site.pairs import record
from barrowful.site.records import Place
from barrowful.site.ways import Buy, Way
from barrowful.sitefile.language.context import ReadContext, Section

#: Places of a depth in metres to which an inch reads as 25 mm.
MILLIMETRES = 3
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


def beside_ways(place: Place, ways: Iterable[Way], planned: Collection[str]) -> Place:
    """Return a place that knows of better stuff among its ways: milder lime, and what does not lime.

    What covers or feeds it is chosen already where that need is ``planned`` in the file.
    """
    own = [way for way in ways if place.ways is None or way.name in place.ways]
    bought = [way.material for way in own if isinstance(way, Buy)]
    limed = [need for need in place.needs if isinstance(need, Cover | Feed) and need.kind not in planned]
    needs = () if place.soil.ph is None and not wants_acid(place) else limed
    choice = {f"{need.kind} that limes not" for need in needs if _limes_not(place, need, bought)}
    if any(_is_lime(way.material, "caustic") for way in own):
        choice.add("milder lime")
    if any(_is_lime(stuff, "caustic", "magnesian") for stuff in bought):
        choice.add("plain lime")
    if Dress.kind not in planned and _compost_dresses(place, bought):
        choice.add("compost for a crop that is fed")
    return replace(place, choice=frozenset(choice))


def _compost_dresses(place: Place, stuffs: Iterable[Material]) -> bool:
    """Say whether one of some stuffs is compost that may dress a place whose crop is fed, as deep as asked.

    Where phosphorus tests high none may.
    """
    dress, rich = place.need(Dress.kind), place.soil.phosphorus_test in {"high", "very high"}
    if not isinstance(dress, Dress) or place.need(Feed.kind) is None or rich:
        return False
    deepest = most("yearly_depth", "garden") or 0.0
    return round(dress.depth or 0.0, MILLIMETRES) <= deepest and any(
        stuff.class_ == "compost"
        and not stuff.holds_manure
        and not why_unsuited(stuff, dress.kind, place.kind, dress.dug, beside(place))
        for stuff in stuffs
    )


def _is_lime(stuff: Material, *without: str) -> bool:
    return stuff.class_ == "lime" and not any(map(stuff.has, without))


def _limes_not(place: Place, need: Need, stuffs: Iterable[Material]) -> bool:
    """Say whether one of some stuffs suits a need, brings what a feed wants first, and does not lime."""
    first = next((name for name in NUTRIENTS if getattr(need, name, 0.0) > 0), "")
    return any(
        not stuff.limes
        and not why_unsuited(stuff, need.kind, place.kind, need.dug, beside(place))
        and (not first or likely(stuff.get(first) or 0.0) > 0)
        for stuff in stuffs
    )


#: The kinds of need that are more than their keys.
FINISHES: dict[type[Need], Finish] = {Cover: _cover, Feed: feed, Fill: _fill, Lime: _lime}
