"""What a feed leaves wanted and brings over, and what a crop takes away: nutrients of a place in a season."""

from __future__ import annotations

from collections.abc import Sequence

from barrowful.catalogue.materials import Material
from barrowful.ground.amount import mass_on
from barrowful.needs.ceilings import unsuited
from barrowful.needs.decision import Serving
from barrowful.needs.doses import DUST, SLACK_SHARE
from barrowful.needs.given import BESIDE, net_of
from barrowful.needs.meal import sizing, unwanted_nitrogen, wanted_by
from barrowful.needs.settled import Settled
from barrowful.site.needs import Feed
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.nitrogen import Lying, first_season, usable
from barrowful.soil.seasons import first_fed, season_of


def feed_of(place: Place) -> Feed:
    """Return a place's feed, which must be there."""
    need = place.need(Feed.kind)
    assert isinstance(need, Feed), f"{place.name} has no feed"
    return need


def net_when_fed(site: Site, place: Place) -> dict[str, float]:
    """Return the nutrients [kg] a place can use, of all that is there, in the first season it is fed."""
    return net_of(site, place, Settled(site).there(place), first_fed(site, place))


def lacking_with(site: Site, place: Place, doses: Sequence[Application], season: int) -> dict[str, float]:
    """Return the nutrients [kg] wanted yet in a season beside what is there and doses.

    Nothing is lacking of what a feed does not ask for, though wood or straw ties it up.
    """
    net = net_of(site, place, [*Settled(site).there(place), *doses], season)
    lacks = {name: of - net[name] for name, of in wanted_by(place, feed_of(place)).items() if of > 0}
    return {name: kilograms for name, kilograms in lacks.items() if kilograms > DUST}


def lacking_after(site: Site, serving: Serving) -> dict[str, float]:
    """Return the nutrients [kg] wanted yet in the season of the first doses of a serving."""
    if not serving.doses:
        return {}
    return lacking_with(site, serving.place, serving.doses, season_of(site, serving.doses[0].day))


def shares_met(site: Site, place: Place, doses: Sequence[Application]) -> dict[str, float]:
    """Return the share of each nutrient wanted that doses make up, in the season of the first of them."""
    season = season_of(site, min((dose.day for dose in doses), default=site.start))
    lacks = lacking_with(site, place, doses, season)
    wanted = wanted_by(place, feed_of(place))
    return {name: max(0.0, 1 - lacks.get(name, 0.0) / of) for name, of in wanted.items() if of > 0}


def loose_beside(
    site: Site, serving: Serving, material: Material, nutrient: str, kilograms: float
) -> float | None:
    """Return how much [m3] of a material brings so much of a nutrient beside a serving, if it may.

    It may bring no more nitrogen than a feed that wants none.
    """
    place, need, beside = serving.place, feed_of(serving.place), Settled(site)
    known = not material.lacks("density", "moisture")
    each = material.dry_mass(1.0) * usable(material, nutrient) if known else 0.0
    if each <= 0 or unsuited(place, need, material):
        return None
    loose, lying = kilograms / each, Lying(need.dug, place.soil.is_sandy)
    gives = material.dry_mass(loose) * first_season(material, lying).per_dry
    beside.put_on(serving.doses)
    left = beside.room(place, need, material).left(serving.doses[0].number) * place.total_area
    let_on = gives <= unwanted_nitrogen(place)
    return loose if let_on and loose <= left * (1 + SLACK_SHARE) else None


def still_wanted(site: Site, place: Place, material: Material, loose: float) -> dict[str, float]:
    """Return the phosphorus and potassium [kg] that a dose [m3] leaves wanted, beside what sizes the feed."""
    need, dry, net = feed_of(place), material.dry_mass(loose), net_when_fed(site, place)
    wanted = wanted_by(place, need)
    lacks = {
        name: wanted[name] - net[name] - dry * usable(material, name)
        for name in BESIDE
        if name != sizing(need)
    }
    return {name: kilograms for name, kilograms in lacks.items() if kilograms > DUST}


def brought_over(site: Site, place: Place, material: Material, loose: float) -> dict[str, float]:
    """Return the phosphorus and potassium [kg] that a dose [m3] brings above what the crop wants.

    All that it holds counts, as what a crop does not take stays in the soil, and no more: what is there
    already is not of the dose. So does what a crop carries off.
    """
    need, net, over = feed_of(place), net_when_fed(site, place), {}
    _, *taken = need.taken
    for name, away in zip(BESIDE, taken, strict=True):
        holds = 0.0 if material.lacks(name) else material.holds(loose, name)
        wanted = mass_on(place.total_area, max(getattr(need, name), away or 0.0))
        over[name] = min(holds, net[name] + holds - wanted)
    return {name: kilograms for name, kilograms in over.items() if kilograms > DUST}


def harvest_of(place: Place) -> tuple[float | None, ...]:
    """Return the nutrients [kg] that one season of the crop named takes from a place; nothing without one.

    None stands for what is not known: of a crop without a figure, and of a tree, as what it is fed is advice,
    not what its fruit takes away.
    """
    need = place.need(Feed.kind)
    taken = need.taken if isinstance(need, Feed) else (0.0, 0.0, 0.0)
    return tuple(None if of is None else mass_on(place.total_area, of) for of in taken)
