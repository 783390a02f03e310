"""Equal ground in plots: where not all of it can be met, each place of it is met or not by itself."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from barrowful.planning.ground import Ground
from barrowful.planning.programme import ALL_ALIKE, SiteProgramme
from barrowful.site.records import Place
from barrowful.soil.application import Application
from barrowful.supplies.supply import Supply

#: Places up to which each is a plot of its own, and amounts there may be in all where needs are not met, and
#: where they are: settings of the search.
MOST_APART, MOST_AMOUNTS, FEW_AMOUNTS = 16, 600, 200
#: What share of what has come is all of it.
AS_GOOD_AS_ALL = 0.99
#: Digits of an area [m2] that tell places apart.
SAME = 6


def run_short(of: SiteProgramme, doses: Sequence[Application]) -> bool:
    """Say whether places that are alike share what a way brings, and doses take all there is by a day."""
    alike = {
        place.name
        for amounts in of.amounts
        if len(amounts.ground.places) > 1
        for place in amounts.ground.places
    }
    ways = of.answer.supplies
    shared = {dose.way for dose in doses if dose.place.name in alike and ways[dose.way].limited}
    return any(_runs_out(ways[name], [dose for dose in doses if dose.way == name]) for name in shared)


def _runs_out(way: Supply[Any], doses: Sequence[Application]) -> bool:
    """Say whether doses take all that a way has brought by a day; of what does not keep, on one."""
    for day in {dose.day for dose in doses}:
        taken = sum(dose.loose for dose in doses if dose.day == day or (way.keeps and dose.day < day))
        come = sum(lot.loose for lot in way.lots(day) if lot.day == day or way.keeps)
        if taken >= come * AS_GOOD_AS_ALL:
            return True
    return False


def plots_of(programme: SiteProgramme, unmet: Collection[tuple[str, str]] = ()) -> Mapping[str, int]:
    """Return the plots of places that are alike, by name, as fine as time allows; none where it does not.

    Of many alike each plot is twice the one before, the smallest places first: so any number of places that
    are the same can be met. ``unmet`` are the needs that are not, by kind and place: where time is short
    places without one are left together.
    """
    named = {name for _, name in unmet}
    every = {amounts.ground: len(amounts.loose) for amounts in programme.amounts}
    short = {ground for ground in every if any(place.name in named for place in ground.places)}
    most = MOST_AMOUNTS if unmet else FEW_AMOUNTS
    for parted in (every.keys(), short):
        for apart in (MOST_APART, 1):
            sizes = {ground: list(_sizes(ground, apart if ground in parted else 0)) for ground in every}
            if sum(len(sizes[ground]) * amounts for ground, amounts in every.items()) <= most:
                split = [ground for ground in every if len(sizes[ground]) > 1]
                return {name: number for of in split for name, number in _numbered(of, sizes[of])}
    return ALL_ALIKE


def _sizes(ground: Ground, apart: int) -> Iterator[int]:
    """Yield how many places each plot has: one where there are few enough, all where none are to be apart."""
    left, size = len(ground.places), 1
    while left > 0:
        if not apart:
            size = left
        yield min(size, left)
        left -= size
        if len(ground.places) > apart:
            size *= 2


def _numbered(ground: Ground, sizes: Sequence[int]) -> Iterator[tuple[str, int]]:
    """Yield the name of each place with the number of its plot."""
    places: Iterator[Place] = iter(sorted(ground.places, key=lambda place: (place.total_area, place.name)))
    for number, size in enumerate(sizes):
        for _ in range(size):
            yield next(places).name, number


def are_coarse(of: SiteProgramme) -> bool:
    """Say whether there are places that are planned together though which of them is met may matter.

    It does not where they are the same and in plots that make up any number of them.
    """
    return any(
        len(ground.places) > 1
        and (
            not all(place.name in of.plots for place in ground.places)
            or len({round(place.total_area, SAME) for place in ground.places}) > 1
        )
        for amounts in of.amounts
        for ground in [amounts.ground]
    )
