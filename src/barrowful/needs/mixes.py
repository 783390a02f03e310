"""Mixes that fill a place: by how much of it each sort of stuff may be, and which ways make one together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations
from math import inf
from typing import Any

from barrowful.catalogue.ceilings import ceilings, most
from barrowful.catalogue.materials import Material
from barrowful.ground.linear import AtLeast, NoAnswer, least_of
from barrowful.ground.soil import mixed_conductivity
from barrowful.needs.ceilings import unsuited
from barrowful.needs.rows import Row
from barrowful.site.needs import Fill
from barrowful.site.records import Place
from barrowful.supplies.joint import Joint, most_promising
from barrowful.supplies.supply import Supply

#: Most ways in one mix, and mixes times places that are looked at: settings of the search.
MOST_WAYS, MOST_LOOKED_AT = 3, 4_000
#: What each m3 counts besides its price, so that nothing is for nothing: a setting of the search.
NO_PRICE = 1e-6


def largest_share(place: Place, material: Material) -> float:
    """Return the largest share of a fill that a material may be."""
    if "fill_share" in place.limits.lift:
        return 1.0
    if material.holds_manure:
        return most("fill_share", "manure_based") or 1.0
    sort = "pot" if place.kind == "pot" else "bed"
    return most("fill_share", f"{sort}_{part_of(material)}") or 1.0


def part_of(material: Material) -> str:
    """Return what a material is in a mix that fills a place: sand, or its class."""
    return "sand" if material.has("sand") else material.class_


def shares_of(place: Place, need: Fill) -> Mapping[str, tuple[float, float]]:
    """Return the least and the largest share of a mix by its parts: as asked for, or by good practice."""
    if need.mix:
        return {part: (low, high) for part, low, high in need.mix}
    sort = "pot" if place.kind == "pot" else "bed"
    figures = ceilings()["fill_share"].figures
    return {
        name.removeprefix(f"{sort}_"): (figure.low, figure.likely)
        for name, figure in figures.items()
        if name.startswith(f"{sort}_")
    }


def most_of(place: Place, need: Fill, material: Material) -> float:
    """Return the largest share of a fill that a material may be, by the mix asked for and good practice."""
    if not need.mix:
        return largest_share(place, material)
    _, high = shares_of(place, need).get(part_of(material), (0.0, 0.0))
    return high if part_of(material) in {"soil", "sand"} else min(high, largest_share(place, material))


def mixed(
    place: Place, need: Fill, supplies: Sequence[Supply[Any]], there: Sequence[float]
) -> list[float] | None:
    """Return the share of each way in the mix that costs least, None where none is within the shares.

    ``there`` is how much of the whole each way brings at most.
    """
    stuffs = [supply.material for supply in supplies]
    parts = [part_of(stuff) for stuff in stuffs]
    if any(low > 0 and part not in parts for part, (low, _) in shares_of(place, need).items()):
        return None
    every = [1.0] * len(supplies)
    rows = [(every, 1.0), ([-each for each in every], -1.0), *_share_rows(place, need, stuffs)]
    at_most = [min(most_of(place, need, stuff), share) for stuff, share in zip(stuffs, there, strict=True)]
    try:
        return least_of([_price(supply) for supply in supplies], at_most, rows)
    except NoAnswer:
        return None


def mix_rows(place: Place, need: Fill, stuffs: Mapping[int, Material]) -> list[Row]:
    """Return the rows that portions of stuffs, by number, keep to so that they are a good mix.

    A share of the whole is at least so much where what is over it, of all there is, is at least nothing.
    Where shares are lifted and no mix is asked for, only salt is bound.
    """
    if "fill_share" in place.limits.lift and not need.mix:
        salt = _salt_limit(place, [*stuffs.values()])
        return [_row_of(stuffs, *salt)] if salt else []
    alone = [
        ([-float(other is stuff) for other in stuffs.values()], -most_of(place, need, stuff))
        for stuff in dict.fromkeys(stuffs.values())
    ]
    rows = [*alone, *_share_rows(place, need, [*stuffs.values()])]
    return [_row_of(stuffs, *each) for each in rows]


def _row_of(stuffs: Mapping[int, Material], row: Sequence[float], least: float) -> Row:
    return Row({number: each - least for number, each in zip(stuffs, row, strict=True)}, least=0.0)


def _share_rows(place: Place, need: Fill, stuffs: Sequence[Material]) -> list[AtLeast]:
    """Return the rows that the shares of stuffs in a mix keep to: as asked for, good practice, and salt."""
    parts, rows = [part_of(stuff) for stuff in stuffs], list[AtLeast]()
    for part, (low, high) in shares_of(place, need).items():
        of_part = [float(part == other) for other in parts]
        rows += [(of_part, low), ([-each for each in of_part], -high)]
    if "fill_share" not in place.limits.lift:
        rows += _good_practice(place, stuffs)
    if salt := _salt_limit(place, stuffs):
        rows.append(salt)
    return rows


def _good_practice(place: Place, stuffs: Sequence[Material]) -> list[AtLeast]:
    """Return the rows that keep all compost, and all that holds manure, to their shares of a good mix."""
    rows = list[AtLeast]()
    for held in (lambda stuff: part_of(stuff) == "compost", lambda stuff: stuff.holds_manure):
        of_it = [float(held(stuff)) for stuff in stuffs]
        shares = [largest_share(place, stuff) for stuff in stuffs if held(stuff)]
        if shares:
            rows.append(([-each for each in of_it], -max(shares)))
    return rows


def _salt_limit(place: Place, stuffs: Sequence[Material]) -> AtLeast | None:
    """Return the row that keeps the salt of a pot's mix to what plants stand; None where none is known of.

    What is known binds: a part of which it is not known counts as if it held none.
    """
    limit = salt_limit(place)
    salt = [stuff.get("conductivity") or 0.0 for stuff in stuffs]
    return ([-each / limit for each in salt], -1.0) if limit and any(salt) else None


def salt_limit(place: Place) -> float | None:
    """Return the most salt [dS/m] that a mix in a place may hold; None where nothing binds it."""
    return most("mix_salt", "pot") if place.kind == "pot" and "mix_salt" not in place.limits.lift else None


def salt_of(parts: Iterable[tuple[Material, float]]) -> float:
    """Return the salt [dS/m] of stuffs with their shares of a fill: what is not known of counts as none."""
    return mixed_conductivity([(share, stuff.get("conductivity") or 0.0) for stuff, share in parts])


def _price(supply: Supply[Any]) -> float:
    """Return the price of each m3, with no delivery."""
    return supply.price_by_volume + NO_PRICE


def mixes_of(fills: Sequence[tuple[Place, Fill, float]], ways: Sequence[Supply[Any]]) -> list[Joint]:
    """Return the ways that may fill places together, those first that fill most of them at least cost.

    ``fills`` are places with their fill and its volume [m3].
    """
    suiting = [{way.name for way in ways if _suits(place, need, way)} for place, need, _ in fills]
    suited = [way for way in ways if any(way.name in names for names in suiting)]
    every = [several for count in range(2, MOST_WAYS + 1) for several in combinations(suited, count)]
    found = []
    for several in every[: max(1, MOST_LOOKED_AT // len(fills))] if fills else ():
        names = {way.name for way in several}
        costs = [
            _cost(place, need, volume, several) if names <= suit else inf
            for (place, need, volume), suit in zip(fills, suiting, strict=True)
        ]
        filled = [cost for cost in costs if cost < inf]
        if filled:
            found.append(Joint(several, at_best=len(filled), least_cash=sum(filled)))
    return most_promising(found)


def _suits(place: Place, need: Fill, way: Supply[Any]) -> bool:
    stuff = way.material
    return not way.stands and part_of(stuff) in shares_of(place, need) and not unsuited(place, need, stuff)


def _cost(place: Place, need: Fill, volume: float, several: Sequence[Supply[Any]]) -> float:
    """Return what a mix of some ways costs with no delivery; infinite where none is within the shares."""
    if not all(way.serves(place, "fill") for way in several):
        return inf
    shares = mixed(place, need, several, [1.0] * len(several))
    if shares is None:
        return inf
    return volume * sum(share * _price(way) for share, way in zip(shares, several, strict=True))
