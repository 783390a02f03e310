"""What a plan asks of amounts so that a cover has its depth on a first day and is kept up from then on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf

from barrowful.ground.amount import depth
from barrowful.needs.ceilings import deepest_cover, within
from barrowful.needs.layers import Layers, covers, settled_depth, share_of_depth
from barrowful.needs.rows import LET_OFF, Asked, Manner, Row
from barrowful.site.needs import Cover


def cover_manners(asked: Asked, need: Cover) -> list[Manner]:
    """Return a manner for each day on which the cover may have its depth first.

    What lies on top covers, whatever need it is for; it is looked at before anything is put on, and at the
    end of the horizon, as it only falls between.
    """
    lying = _Lying(asked, need)
    start, last, end = asked.site.start.toordinal(), asked.last(need.kind), asked.site.end.toordinal()
    # a top-up on the last day would keep nothing up
    at_the_end = frozenset(number for number, of in asked.of(need.kind) if start < end <= of.number)
    first = sorted({start, *(asked.portions[number].number for number in lying.shares)})
    eves = sorted({end, *(of.number - 1 for of in asked.portions if of.number > start)})
    kept_up = {eve: tuple(lying.at_least(eve, need.keep)) for eve in eves}
    not_too_deep = tuple(lying.not_too_deep())
    return [
        Manner(
            rows=(
                *lying.at_least(day, 1.0),
                *(row for eve in eves if eve > day for row in kept_up[eve]),
                *not_too_deep,
            ),
            without=asked.put_off(need.kind, day) | at_the_end,
            ready_on=day,
        )
        for day in first
        if day <= last
    ]


class _Lying:
    """What lies on top of a place, as shares of the depth it is to have."""

    def __init__(self, asked: Asked, need: Cover) -> None:
        self.asked, self.need = asked, need
        #: Shares of its depth that each m3 of a portion makes when it is put on.
        self.shares: Mapping[int, float] = {
            number: share_of_depth(asked.site, need, asked.dose(number))
            / (1 + need.allowance if of.kind == need.kind else 1.0)
            for number, of in enumerate(asked.portions)
            if covers(asked.dose(number))
        }
        stuffs = {of.material for number, of in asked.of(need.kind)}
        self.before = [
            (Layers(asked.site, asked.place, (), stuff), settled_depth(need, stuff)) for stuff in stuffs
        ]

    def at_least(self, day: int, share: float) -> Iterator[Row]:
        """Yield the row by which so much of the depth lies on a day, where what lies there is not enough."""
        wanted = share * (1 - LET_OFF) - self._there(day)
        if wanted > 0:
            yield Row(self._left(self.shares, day), least=wanted)

    def _there(self, day: int) -> float:
        """Return the share that what lies there already makes: that of the stuff that makes least of it."""
        return min((layers.on(day) / depth if depth else 1.0 for layers, depth in self.before), default=0.0)

    def _left(self, each: Mapping[int, float], day: int) -> dict[int, float]:
        """Return what is left on a day of portions put on by then."""
        site, portions = self.asked.site, self.asked.portions
        return {
            number: share * self.asked.dose(number).response(site).depth[day - portions[number].number]
            for number, share in each.items()
            if portions[number].number <= day
        }

    def not_too_deep(self) -> Iterator[Row]:
        """Yield the rows by which no stuff lies deeper than it may."""
        place, area = self.asked.place, self.asked.place.total_area
        for stuff in dict.fromkeys(of.material for _, of in self.asked.of(self.need.kind)):
            deepest = within(settled_depth(self.need, stuff), deepest_cover(place, stuff))
            if deepest == inf or not area:
                continue
            own = {n: of for n, of in self.asked.of(self.need.kind) if of.material is stuff}
            spread = {n: stuff.settled_depth(depth(1.0, area)) / (1 + self.need.allowance) for n in own}
            for day in sorted({of.number for of in own.values()}):
                yield Row(self._left(spread, day), most=deepest)
