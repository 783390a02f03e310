"""What would serve instead where a way stops at a ceiling: another way, or a material and how much of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from barrowful.answers.choices import PLAN, WholeSite
from barrowful.answers.option import Option, first_among_equals
from barrowful.answers.options import Answer
from barrowful.answers.search import rows_of
from barrowful.catalogue.figures import load
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material, material
from barrowful.ground.amount import mass_on
from barrowful.measures.telling import FEED, MASS, SMALL_VOLUME, mass_told, measured
from barrowful.measures.text import all_of
from barrowful.needs.ceilings import is_kept_from_water
from barrowful.needs.decision import Serving
from barrowful.needs.doses import DUST
from barrowful.needs.feed import Feeding
from barrowful.needs.feed_balance import (
    brought_over,
    feed_of,
    lacking_after,
    lacking_with,
    loose_beside,
    still_wanted,
)
from barrowful.needs.harvests import RAW, wait_of
from barrowful.needs.meal import nitrogen_let_on, sizing, wanted_by
from barrowful.needs.registry import NEEDS
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.history import as_done
from barrowful.soil.nitrogen import usable
from barrowful.soil.seasons import first_fed


def instead(answer: Answer, row: Option) -> str:
    """Return what would serve instead of a row that a ceiling stops, or of a feed that lacks something."""
    lacks = row.need == Feeding.kind and bool(row.decision.doses)
    if row.decision.feasible or not (row.decision.ceiling or lacks):
        return ""
    places = {place.name for place in row.places}
    others = [
        other
        for other in rows_of(answer, row.need)
        if other.feasible
        and places <= {place.name for place in other.places}
        and not any(
            is_kept_from_water(place, stuff) for place in row.places for stuff in other.supply.materials
        )
    ]
    if others:
        return min(others, key=first_among_equals).name
    serving = min(row.decision.short_of, key=_most_ground_first)
    if row.need != Feeding.kind:
        return suggestion(answer, row.need, serving)
    rows = sorted(rows_of(answer, row.need), key=first_among_equals)
    every = (of for other in rows for of in other.decision.servings)
    fed = (serving, *(of for of in every if of.place is serving.place))
    return suggestion(answer, row.need, serving, fed)


def _most_ground_first(serving: Serving) -> tuple[float, str]:
    """Return what a serving is told first by: its ground, else its name, whatever the order of the file."""
    return -serving.place.total_area, serving.place.name


def would_serve(whole: WholeSite, kind: str, serving: Serving) -> str:
    """Return a material of the catalogue for a need that is left out, and how much of it.

    Of a feed it is what lacks beside all that is followed: mulch ties nitrogen up, and compost brings some.
    """
    if kind != Feeding.kind:
        return suggestion(whole.together.answer, kind, serving)
    fed = sorted((of for _, of in _fed_beside(whole, serving.place)), key=lambda of: -of.share)
    return suggestion(
        replace(whole.together.answer, site=_site_beside(whole, serving.place)), kind, serving, fed
    )


def _fed_beside(whole: WholeSite, place: Place) -> list[tuple[str, Serving]]:
    """Return what each way that may be followed would feed a place beside all that is, with its name."""
    rows = [row for row, _ in whole.alone(Feeding.kind, place.name)]
    return [(row.name, whole.together.beside_all(Feeding.kind, place, row.supply)) for row in rows]


def _site_beside(whole: WholeSite, place: Place) -> Site:
    """Return the site on which all that is followed for other needs of a place was put on it."""
    others = (dose for dose in whole.together.doses_on(place.name) if dose.kind != Feeding.kind)
    return as_done(whole.together.answer.site, others)


def suggestion(answer: Answer, kind: str, serving: Serving, fed: Iterable[Serving] = ()) -> str:
    """Return a material of the catalogue for a need that is not met, with how much each place would take.

    Where no money is to be spent it is nothing that has to be bought. Of a feed it is rather what one of the
    ways there is, as they have ``fed`` the place, leaves wanted; nothing that only brings what one of them
    does already.
    """
    site, place = answer.site, serving.place
    ours = [supply.material for supply in answer.supplies.values()]
    there = {stuff.name for stuff in ours}
    need = place.need(kind)
    assert need is not None
    stuffs = [
        stuff
        for name in _names(kind, place.kind)
        if name not in there and (stuff := material(name)) and not _is_kept_off(site, place, kind, stuff)
        if _is_payable(site, stuff)
    ]
    sized = [of for of in fed if _sizes(site, of)]
    if filler := _first(_filler(site, of, stuffs, all_of_it=True) for of in sized):
        return filler
    would = [
        stuff
        for stuff in stuffs
        if NEEDS[kind].may_serve(site, place, stuff) and NEEDS[kind].is_missing(place, ours, stuff)
    ]
    if not would and kind == Feeding.kind:
        if _manures_stop(place, ours, fed):
            return "" if site.limits.cash == 0 else _mineral(site, place)
        if sized:
            return _first(_filler(site, of, stuffs, all_of_it=False) for of in sized)
        would = _least_surplus_first(site, place, stuffs)
    if not would:
        return ""
    beside = _beside(site, place, would[0]) if kind == Feeding.kind else ""
    return f"{would[0].name}, {_each(site, place, need, would[0])}{beside}; add it as a way with your price"


def _is_kept_off(site: Site, place: Place, kind: str, stuff: Material) -> bool:
    """Say whether stuff is kept off a place: raw manure for a harvest, manure and compost near water."""
    wait = wait_of(site, place, kind, False, stuff)
    return is_kept_from_water(place, stuff) or (wait is not None and wait.ceiling == RAW)


def _is_payable(site: Site, stuff: Material) -> bool:
    """Say whether a stuff may be paid for: no money buys what is sold by weight; chip may be free."""
    return site.limits.cash != 0 or not stuff.sort.as_sold


def lacking_of_feed(whole: WholeSite, kind: str, name: str) -> str:
    """Return what a place lacks yet of its feed in the first season, for each of equal places.

    It is beside all that is followed; nothing of a plan, whose lines feed a place together. Wood and straw
    that go on may tie up nitrogen: then more is lacking than the feed wants, and that is said.
    """
    if kind != Feeding.kind or whole.title == PLAN:
        return ""
    site = whole.together.answer.site
    place = site.place(name)
    season = first_fed(site, place)
    lacking = lacking_with(site, place, whole.together.doses_on(name), season)
    told = [f"{mass_told(of / place.count)} of {what}" for what, of in lacking.items()]
    tied = lacking.get("nitrogen", 0.0) - wanted_by(place, feed_of(place))["nitrogen"]
    more = f", {mass_told(tied / place.count)} of it tied up by what goes on" if tied > DUST else ""
    return f" (lacks {all_of(told)}{' each' if place.count > 1 else ''}{more})" if told else ""


def left_out_alike(whole: WholeSite, kind: str) -> list[list[str]]:
    """Return the places a need is not met in: those that get nothing for it, then those that get some."""
    getting: dict[bool, list[str]] = {False: [], True: []}
    for place in whole.places_left_out(kind):
        part_way = whole.part_way(kind, place)
        getting[part_way is not None and bool(part_way.every_dose)].append(place)
    return [places for places in getting.values() if places]


def others_get_some(whole: WholeSite, kind: str) -> str:
    """Return how many places get a part of what they need, where others get nothing for it; else nothing."""
    _, *getting = left_out_alike(whole, kind)
    return f"; {len(getting[0])} of them get{'' if len(getting[0]) > 1 else 's'} a part" if getting else ""


def _manures_stop(place: Place, ours: Iterable[Material], servings: Iterable[Serving]) -> bool:
    """Say whether a farm's limit on the nitrogen of manures stops a feed, and nothing mineral is ours."""
    limits, need = place.limits, feed_of(place)
    binds = limits.farm and limits.nitrogen is None and any(of.ceiling == "nitrogen" for of in servings)
    let_on = nitrogen_let_on(place, need) >= wanted_by(place, need)["nitrogen"]
    salts = any(stuff.is_mineral_fertiliser and (stuff.get("nitrogen") or 0.0) > 0 for stuff in ours)
    return binds and let_on and not salts


def _mineral(site: Site, place: Place) -> str:
    """Return how much of each nutrient mineral fertiliser would have to give, and how to describe it."""
    lacking = lacking_with(site, place, (), first_fed(site, place))
    return (
        f"mineral fertiliser, {_amounts(lacking, place.total_area)} ({place.name}); give its label under"
        ' materials, with "class: fertiliser" and "available_nitrogen: 100 %", and add it as a way with your'
        " price"
    )


def _least_surplus_first(site: Site, place: Place, stuffs: Sequence[Material]) -> list[Material]:
    """Return what meets a feed's first nutrient, the one first that brings least of the others too much."""
    feeding = Feeding()

    def surplus(stuff: Material) -> float:
        loose = feeding.bare_loose(site, place, stuff)
        return sum(brought_over(site, place, stuff, loose).values())

    return sorted((stuff for stuff in stuffs if feeding.may_serve_in_part(site, place, stuff)), key=surplus)


def _first(words: Iterable[str]) -> str:
    return next(filter(None, words), "")


def _sizes(site: Site, serving: Serving) -> bool:
    """Say whether a way brings all of the nutrient that sizes a feed, whatever it leaves wanted."""
    return bool(serving.doses) and sizing(feed_of(serving.place)) not in lacking_after(site, serving)


def left_by_ours(whole: WholeSite, place: Place) -> str:
    """Return what is left wanted by the way that brings all of what sizes a feed, and leaves least."""
    site = _site_beside(whole, place)
    left = [(name, lacking_after(site, of)) for name, of in _fed_beside(whole, place) if _sizes(site, of)]
    if not left:
        return ""
    name, lacking = min(left, key=lambda of: sum(of[1].values()))
    return f"{name} by itself leaves {_amounts(lacking, place.total_area)} wanted" if lacking else ""


def _filler(site: Site, serving: Serving, stuffs: Sequence[Material], all_of_it: bool) -> str:
    """Return what would bring the nutrient wanted most beside a way that brings all of what sizes a feed.

    ``all_of_it`` says that nothing else is then to be wanted.
    """
    lacking = lacking_after(site, serving)
    if not lacking or (all_of_it and len(lacking) > 1):
        return ""
    place, way = serving.place, serving.doses[0].way
    wanted = wanted_by(place, feed_of(place))
    most = max(lacking, key=lambda name: lacking[name] / wanted[name])
    for stuff in stuffs:
        loose = loose_beside(site, serving, stuff, most, lacking[most])
        if loose is not None:
            brings = {name: stuff.dry_mass(loose) * usable(stuff, name) for name in lacking}
            left = {name: of - brings[name] for name, of in lacking.items() if of - brings[name] > DUST}
            still = f", with {_amounts(left, place.total_area)} still wanted" if left else ""
            each = _amount(place, stuff, loose)
            return f"{stuff.name}, {each} beside {way}{still}; add it as a way with your price"
    return ""


@cache
def _names(kind: str, place: str) -> tuple[str, ...]:
    """Return what may be named for a need of a kind of place, the best first."""
    of_kind: dict[str, Any] = load("instead.toml")[kind]
    return tuple(of_kind.get(place, of_kind["any"]))


def _beside(site: Site, place: Place, stuff: Material) -> str:
    """Return what a fertiliser brings of phosphorus and potassium over what is wanted, or leaves wanted."""
    feeding = Feeding()
    loose, area = feeding.bare_loose(site, place, stuff), place.total_area
    told = mass_on(area, judgement("told_surplus"))
    over = {name: of for name, of in brought_over(site, place, stuff, loose).items() if of >= told}
    wanted = still_wanted(site, place, stuff, loose)
    parts = [(_amounts(over, area), "too much"), (_amounts(wanted, area), "still wanted")]
    said = " and ".join(f"{amounts} {word}" for amounts, word in parts if amounts)
    return f", with {said}" if said else ""


def _amounts(kilograms: Mapping[str, float], area: float) -> str:
    """Return amounts of nutrients for each square metre."""
    told = [f"{measured(of / area, FEED, 2)} {name}" for name, of in kilograms.items()]
    return all_of(told) if told else ""


def _each(site: Site, place: Place, need: Need, stuff: Material) -> str:
    """Return how much one of equal places would take: kilograms of fertilisers, else litres."""
    kind = NEEDS[need.kind]
    return _amount(place, stuff, kind.bare_loose(site, place, stuff) * kind.least_share(place, stuff))


def _amount(place: Place, stuff: Material, loose: float) -> str:
    """Return what each of equal places gets of a loose volume [m3] for all of them, and where round trees."""
    loose /= place.count
    of_one = f" for each of {place.count}" if place.count > 1 else ""
    if stuff.sort.as_sold:
        wide = ", over the whole root area" if place.kind == "tree" and stuff.sort.declares else ""
        return f"{measured(stuff.wet_mass(loose), MASS)}{of_one} ({place.name}{wide})"
    return f"{measured(loose, SMALL_VOLUME, 0)}{of_one} ({place.name})"
