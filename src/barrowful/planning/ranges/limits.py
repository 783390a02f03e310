"""What doses may come to in each draw: by ceilings, by what there is of them, and at one time."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import inf
from typing import Any

from barrowful.measures.draws import AtMost
from barrowful.needs.bounds import Bound, bounds_of
from barrowful.needs.ceilings import room
from barrowful.planning.ranges.figures import Draws
from barrowful.site.records import Place
from barrowful.soil.application import Application
from barrowful.supplies.stock import Stock
from barrowful.supplies.supply import Supply

#: Ceilings that are a part of what a need wants, whatever else goes on.
OF_THE_NEED = ("cover_depth", "fill_share")
#: A ceiling, and what counts together under it.
Ceiling = tuple[str, str]


def of_ceilings(
    draws: Draws, place: Place, doses: Sequence[Application], there: Sequence[Application], stopped: str
) -> Iterator[AtMost]:
    """Yield what doses [m3] may come to in twelve months, by how much their stuff uses in each draw.

    What likely goes on is let on, as a depth told in whole inches is. What ``stopped`` at a ceiling of
    another sort is no more in any draw.
    """
    area = place.total_area
    bounds = [_bounds(draws, place, dose, there) for dose in doses]
    for ceiling in dict.fromkeys(name for own in bounds for name in own):
        own = {number: of[ceiling] for number, of in enumerate(bounds) if ceiling in of}
        bound, _ = next(iter(own.values()))
        days = [doses[number].number for number in own]
        for begin, end, limit in bound.spans(min(days), days):
            inside = {number: of for number, of in own.items() if begin <= doses[number].number < end}
            used = sum(use for on, use in bound.used if begin <= on < end)
            likely = sum(plain.each * doses[number].loose / area for number, (plain, _) in inside.items())
            each = {number: drawn.each / area for number, (_, drawn) in inside.items()}
            uses = [each.get(number, 0.0) for number in range(len(doses))]
            if inside:
                yield AtMost(uses, max(limit - used, likely))
    names = {name for own in bounds for name, _ in own}
    if stopped and stopped not in {*OF_THE_NEED, *names}:
        yield from _each(doses, [dose.loose for dose in doses])


def _bounds(
    draws: Draws, place: Place, dose: Application, there: Sequence[Application]
) -> dict[Ceiling, tuple[Bound, Bound]]:
    """Return the ceilings that bind a dose, by name and what shares them: by likely and drawn figures."""
    need = dose.need
    assert need is not None, f"{place.name} is put on for no need"
    plain = room(place, need, dose.material, there).bounds
    drawn = bounds_of(place, need.kind, need.dug, draws.material(dose.material))
    return {(of.name, of.shares): (of, other) for of, other in zip(plain, drawn, strict=True)}


def of_stocks(
    doses: Sequence[Application],
    supplies: Mapping[str, Supply[Any]],
    stocks: Mapping[str, Stock],
    share_of: Callable[[Supply[Any]], Any],
) -> Iterator[AtMost]:
    """Yield what doses [m3] may come to by what there is: what likely goes on and what is left."""
    for dose in doses:
        supply, stock = supplies.get(dose.way), stocks.get(dose.way)
        if supply is None or stock is None:
            continue
        left = stock.left_by(dose.number) if supply.keeps else stock.left_on(dose.number)
        drawn = [
            of.way == dose.way and (of.day <= dose.day if supply.keeps else of.day == dose.day)
            for of in doses
        ]
        there = sum(of.loose for of, counts in zip(doses, drawn, strict=True) if counts) + left
        yield AtMost([float(counts) for counts in drawn], there * share_of(supply))


def at_once(doses: Sequence[Application], most: float) -> Iterator[AtMost]:
    """Yield the most [m3] that each dose may be at one time, where that has an end."""
    if most < inf:
        yield from _each(doses, [max(most, dose.loose) for dose in doses])


def _each(doses: Sequence[Application], most: Sequence[float]) -> Iterator[AtMost]:
    for number, limit in enumerate(most):
        yield AtMost([float(number == other) for other in range(len(doses))], limit)
