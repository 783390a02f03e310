"""Which ways together may feed places, the cheapest first: by what each place lacks in its first season."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import chain, combinations
from math import inf, isinf
from typing import Any, NamedTuple

from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.linear import NoAnswer, least_of
from barrowful.needs.ceilings import unsuited
from barrowful.needs.doses import most_at_once
from barrowful.needs.feed_balance import feed_of
from barrowful.needs.given import net_of, nutrients_of
from barrowful.needs.meal import nitrogen_let_on, wanted_by
from barrowful.needs.settled import Settled
from barrowful.site.needs import Feed
from barrowful.site.records import Place, Site
from barrowful.soil.response import response_of
from barrowful.soil.seasons import first_fed, season_end
from barrowful.supplies.joint import Joint, most_promising
from barrowful.supplies.supply import Supply

#: Amounts of nitrogen that are looked at from what is lacking to what is allowed: a setting of the search.
LOOKED_AT = 4
#: Places that no pair feeds, times threes of ways, that are looked at: a setting of the search.
MOST_THREES = 3_000
#: Threes that are worked out where pairs feed every place: a setting of the search.
MOST_THREES_BESIDE = 3


class Offer(NamedTuple):
    """What a way may bring a place at first: the most of it [m3], what each m3 gives [kg], its price."""

    at_most: float
    price: float
    gives: dict[str, float]


class Table(NamedTuple):
    """What a place lacks [kg] of each nutrient that it wants, and what each way may bring it."""

    lacks: dict[str, float]
    allowed: float  #: kg of nitrogen, no less than what is lacking of it
    offers: dict[str, Offer]


def joints_of(
    site: Site, places: Sequence[Place], ways: Sequence[Supply[Any]], beside: Settled
) -> list[Joint]:
    """Return the ways that may feed places together beside what is settled: first what feeds most for least.

    The cost is that of the first season at the price of the stuff alone, each way within its own ceilings: no
    pair costs less. Threes are looked at besides.
    """
    tables = [_table(site, place, ways, beside) for place in places]
    useful = {name for table in tables for name, offer in table.offers.items() if offer.at_most > 0}
    may = [way for way in ways if way.name in useful]
    costs = {
        (one.name, other.name): [_cost(table, one.name, other.name) for table in tables]
        for one, other in combinations(may, 2)
    }
    pairs = [_joint(pair, own) for pair, own in zip(combinations(may, 2), costs.values(), strict=True)]
    return most_promising([*chain(*pairs), *_threes(tables, may, costs)])


def _threes(
    tables: Sequence[Table], ways: Sequence[Supply[Any]], costs: Mapping[tuple[str, str], Sequence[float]]
) -> list[Joint]:
    """Return the threes of ways that may feed a place which lacks all nutrients, where no pair of them does.

    Of those that other pairs do without the cheapest will do: these may come with a delivery.
    """
    wanting = {number for number, table in enumerate(tables) if all(map(table.lacks.get, NUTRIENTS))}
    fed = {pair: {number for number in wanting if own[number] < inf} for pair, own in costs.items()}
    unfed = wanting.difference(*fed.values())
    threes = [
        three
        for three in (combinations(ways, len(NUTRIENTS)) if wanting else ())
        if wanting.difference(*(fed[one.name, other.name] for one, other in combinations(three, 2)))
    ]
    if len(tables) * len(threes) > MOST_THREES:
        return []
    found = (_joint(three, [_cost_of_three(table, three) for table in tables]) for three in threes)
    every = most_promising(chain(*found))
    return every if unfed else every[:MOST_THREES_BESIDE]


def _joint(ways: tuple[Supply[Any], ...], costs: Sequence[float]) -> list[Joint]:
    """Return ways as one joint where they feed any places; infinite costs are of those they do not."""
    fed = [cost for cost in costs if cost < inf]
    return [Joint(ways, at_best=len(fed), least_cash=sum(fed))] if fed else []


def _cost_of_three(table: Table, ways: Sequence[Supply[Any]]) -> float:
    """Return what three ways cost at least that bring all that a place lacks; infinite where they cannot."""
    offers = [table.offers[way.name] for way in ways if way.name in table.offers]
    if len(offers) < len(ways) or not all(_come_to(table, offers, name) for name in table.lacks):
        return inf
    rows = [
        ([of.gives[name] / lacking for of in offers], 1.0) for name, lacking in table.lacks.items() if lacking
    ]
    if not isinf(table.allowed):
        most = max(table.allowed, table.lacks.get("nitrogen", 0.0), 1e-9)
        rows.append(([-of.gives["nitrogen"] / most for of in offers], -1.0 - 1e-9))
    try:
        amounts = least_of([of.price for of in offers], [of.at_most for of in offers], rows)
    except NoAnswer:
        return inf
    return sum(of.price * amount for of, amount in zip(offers, amounts, strict=True))


def _come_to(table: Table, offers: Sequence[Offer], name: str) -> bool:
    """Say whether all that ways may bring comes to what is lacking of a nutrient."""
    most = (of.at_most * of.gives[name] for of in offers if of.gives[name] > 0)
    return sum(most) >= table.lacks[name] * (1 - 1e-9)


def _table(site: Site, place: Place, ways: Sequence[Supply[Any]], beside: Settled) -> Table:
    need = feed_of(place)
    net = net_of(site, place, beside.there(place), first_fed(site, place))
    wanted = wanted_by(place, need)
    lacks = {name: max(0.0, of - net[name]) for name, of in wanted.items() if of > 0}
    suited = [way for way in ways if way.serves(place, "feed") and not way.stands]
    offers = {way.name: _offer(site, place, need, way, beside) for way in suited}
    return Table(
        lacks=lacks,
        allowed=nitrogen_let_on(place, need) - net["nitrogen"],
        offers={name: offer for name, offer in offers.items() if offer is not None},
    )


def _offer(site: Site, place: Place, need: Feed, way: Supply[Any], beside: Settled) -> Offer | None:
    """Return what a way may bring a place; None where it does not suit it.

    What brings nothing that is wanted is not put on: another way alone may feed the place beside it.
    """
    stuff = way.material
    if stuff.lacks("density", "moisture") or unsuited(place, need, stuff):
        return None
    response = response_of(stuff, site.climate, place.soil, need.dug)
    gives = nutrients_of(stuff, stuff.dry_mass(1.0) / (1 + need.allowance), response.nitrogen(1).per_dry)
    if not any(gives[name] > 0 for name in NUTRIENTS if getattr(need, name) > 0):
        return Offer(0.0, way.price_by_volume, gives)
    room = beside.room(place, need, stuff).most * place.total_area
    # what has an end comes more than once
    first = season_end(site, first_fed(site, place))
    most = beside.stock(way).lots.brought_by(first) if way.limited else most_at_once(place, need)
    return Offer(min(most, room), way.price_by_volume, gives)


def _cost(table: Table, one: str, other: str) -> float:
    """Return what two ways cost at least that bring all that a place lacks; infinite where they cannot.

    Of nitrogen they bring what is lacking, or up to what is allowed where that is more: some amounts from the
    one to the other are looked at.
    """
    least, top = table.lacks.get("nitrogen", 0.0), table.allowed
    if top <= least * (1 + 1e-9) or isinf(top):
        return _cost_at(table, one, other, least)
    steps = (least + (top - least) * part / LOOKED_AT for part in range(LOOKED_AT + 1))
    return min(_cost_at(table, one, other, nitrogen) for nitrogen in steps)


def _cost_at(table: Table, one: str, other: str, nitrogen: float) -> float:
    """Return what two ways cost at least that bring so much nitrogen [kg] and all else that is lacking."""
    if not any(table.lacks.values()):
        return 0.0
    if one not in table.offers or other not in table.offers:
        return inf
    first, second = table.offers[one], table.offers[other]
    if nitrogen <= 0:
        return _dearest(table.lacks, (first, second))
    if second.gives["nitrogen"] <= 0:
        first, second = second, first
    each = second.gives["nitrogen"]
    if each <= 0:
        return inf
    slope = first.gives["nitrogen"] / each
    low, high = _within(0.0, first.at_most, -slope, -nitrogen / each)
    low, high = _within(low, high, slope, nitrogen / each - second.at_most)
    for name, lacking in table.lacks.items():
        if name != "nitrogen":
            rises = first.gives[name] - second.gives[name] * slope
            low, high = _within(low, high, rises, lacking - second.gives[name] * nitrogen / each)
    if low > high:
        return inf
    dearer = first.price - second.price * slope
    return second.price * nitrogen / each + dearer * (low if dearer > 0 or high == inf else high)


def _within(low: float, high: float, slope: float, least: float) -> tuple[float, float]:
    """Return from where to where an amount may go so that slope times it is no less than something."""
    least -= abs(least) * 1e-9
    if slope > 0:
        return max(low, least / slope), high
    if slope < 0:
        return low, min(high, least / slope)
    return (low, high) if least <= 0 else (inf, -inf)


def _dearest(lacks: dict[str, float], offers: Sequence[Offer]) -> float:
    """Return what the nutrient costs that comes dearest, of whichever of two brings it cheaper."""
    dearest = 0.0
    for name, lacking in lacks.items():
        prices = [offer.price / offer.gives[name] for offer in offers if offer.gives[name] > 0]
        if lacking > 0:
            dearest = max(dearest, lacking * min(prices, default=inf))
    return dearest
