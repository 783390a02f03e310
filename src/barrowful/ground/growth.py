"""Growing: how many plants there are by when, and what an established stand yields by its age."""

from __future__ import annotations

import math
from collections.abc import Iterator

from barrowful.measures.dimensions import relation


@relation("count", space="length", spacing="length")
def plants_in_row(space: float, spacing: float) -> float:
    """Return how many plants a row [m] takes at a spacing [m]: one to each spacing, at least one.

    Counting; needs no source.

    >>> plants_in_row(10.0, 0.5)
    20
    """
    return max(1, math.floor(space / spacing + 1e-9))


@relation("count", radius="length", collar="length", shade="length")
def plants_round_tree(radius: float, collar: float, shade: float) -> float:
    """Return how many plants close the ring round a trunk, each shading ground of a diameter [m].

    They stand on the circle midway between collar and edge, shade touching shade.
    Plane geometry; needs no source.

    >>> plants_round_tree(0.75, 0.15, 0.8)
    4
    """
    return max(1, math.ceil(math.pi * (radius + collar) / shade - 1e-9))


@relation("count", area="area", spacing="length")
def plants_on_area(area: float, spacing: float) -> float:
    """Return how many plants stand on an area [m2] in squares of the spacing [m].

    Counting; needs no source.

    >>> plants_on_area(14.0, 0.8)
    21
    """
    return math.floor(area / spacing**2 + 1e-9)


@relation([("time", "count")], strike="share", cycle="time")
def generations(
    start: int, strike: float, cuttings: float, cycle: float, room: int
) -> Iterator[tuple[float, int]]:
    """Yield (years since planting, living plants) until the room is full.

    Of ``start`` cuttings the share ``strike`` lives. After each ``cycle`` [years] every living plant
    gives ``cuttings`` more, planted while there is room. Plants are whole.
    Counting; needs no source.

    >>> list(generations(10, 0.9, 3, 0.5, 40))
    [(0.0, 9), (0.5, 33), (1.0, 40)]
    """
    years, alive = 0.0, min(room, math.floor(start * strike + 1e-9))
    yield years, alive
    while 0 < alive < room:
        grown = min(room, alive + math.floor(alive * cuttings * strike + 1e-9))
        years += cycle
        if grown == alive:
            return
        alive = grown
        yield years, alive


@relation("share", age="time", first_cut="time", full_yield="time")
def share_of_full_yield(age: float, first_cut: float, full_yield: float) -> float:
    """Return the share of the full yield a stand gives at an age: a straight line from first cut.

    Nothing before the first cut, all from full yield on. The line is this project's judgement.

    >>> share_of_full_yield(0.75, 0.5, 1.0)
    0.5
    """
    if age >= full_yield:
        return 1.0
    if age < first_cut:
        return 0.0
    return (age - first_cut) / (full_yield - first_cut)


@relation("share", weeks_late="time", weeks_early="time", late_loss="share")
def cover_crop_left(weeks_late: float, weeks_early: float, late_loss: float) -> float:
    """Return the share of a cover crop's biomass left when sown late or ended early [years].

    ``late_loss`` is lost for each 2.5 weeks sown late, and for each month ended early. Source:
    [lawson-2015-plants], abstract: half the biomass where sowing was 2.5 weeks late, and about the same
    loss where growth was ended a month early, in late March. The form between is this project's
    judgement.

    >>> cover_crop_left(2.5 / 52.18, 0.0, 0.5)
    0.5
    """
    late, early = max(0.0, weeks_late) / (2.5 * 7 / 365.25), max(0.0, weeks_early) / (1 / 12)
    left: float = (1 - late_loss) ** (late + early)
    return left
