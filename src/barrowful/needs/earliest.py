"""The parts of what a need wants that come of the earliest lots of a supply, within the ceilings."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from math import inf
from typing import Any

from barrowful.ground.decay import depth_left
from barrowful.measures.dates import years_between
from barrowful.needs.doses import SLACK_SHARE, Taken, most_at_once
from barrowful.needs.harvests import wait_of, waited
from barrowful.needs.settled import Settled, days_of
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.supplies.supply import Supply

#: Loose depths [m] by day number.
Depths = list[tuple[int, float]]
#: What is there on a day of other stuff, as a loose volume [m3] of the stuff that is put on.
There = Callable[[date], float]


def nothing_there(day: date) -> float:
    """Return that nothing is there on any day."""
    return 0.0


class Earliest:
    """Lots in their order for a need of a place, up to a last day; it loses half in a time [years]."""

    def __init__(
        self,
        site: Site,
        place: Place,
        need: Need,
        supply: Supply[Any],
        beside: Settled,
        until: date,
        half: float = inf,
    ) -> None:
        self.site, self.place, self.need, self.supply = site, place, need, supply
        self.stock, self.until, self.half = beside.stock(supply), until, half
        self.room = beside.room(place, need, supply.material)
        self.begins = beside.begins(place, need.kind, supply.material)
        self.wait = wait_of(site, place, need.kind, need.dug, supply.material)
        self.waits = supply.keeps and half == inf and beside.day is None

    def taken(self, wanted: float, there: There = nothing_there) -> Taken:
        """Return the parts [m3] of what is wanted on the day of the first lot, beside what is there then.

        What they, and what is there, lose while the next lot is waited for is made up; what does not lose
        rather waits for the day on which the ceilings let it on whole.
        """
        area, stock, begins = self.place.total_area, self.stock, self.begins
        last = max(self.site.start, stock.lots.first or self.site.start)
        at_once, whole, parts = (
            most_at_once(self.place, self.need),
            wanted + there(last),
            Taken(lacking=wanted),
        )
        lies = 0.0  # of the parts [m3], on the last day something went on
        for lot, comes in days_of(stock, self.until, self.room.first_dressing):
            if lot < begins and not self.supply.keeps:
                continue
            day = self._open_from(max(lot, begins))
            if parts.lacking <= SLACK_SHARE * whole:
                break
            if day > self.until:
                parts.ceiling = self.wait.ceiling if self.wait else ""
                break
            if parts.lacking < whole:
                lies *= depth_left(self.half, years_between(last, day))
                parts.lacking = max(0.0, whole - lies - there(day))
            part = min(parts.lacking, at_once, comes)
            put_on = (
                [(on.toordinal(), loose / area) for on, loose in parts.by_day] if self.room.bounds else []
            )
            last = day = self._whole_on(day, part, put_on)
            begins = max(begins, day)
            part, parts.ceiling = self.room.keeps_to(part, area, day.toordinal(), put_on)
            if part > 0 and (put := stock.take(day.toordinal(), part)) > 0:
                parts.add(day, put)
                lies += put
            if parts.ceiling:
                parts.again = self.room.opens_again(day.toordinal(), put_on)
                break
        return parts

    def _open_from(self, day: date) -> date:
        """Return the first day from one on on which stuff may go on the place."""
        return waited(self.wait, day)

    def _whole_on(self, day: date, part: float, put_on: Depths) -> date:
        """Return the day from one on on which a part [m3] may go on whole; the day itself where none is.

        It waits for that where it keeps, what is wanted does not fade meanwhile, and no day is written.
        """
        area = self.place.total_area
        if not (self.waits and self.room.bounds and area):
            return day
        fits = self.room.opens_for(part / area, day.toordinal(), put_on)
        later = day if fits is None else self._open_from(date.fromordinal(fits))
        return later if later <= self.until else day
