"""What is settled already: doses on each place and what is left of stocks, one need after another."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from math import inf
from typing import Any, Literal

from barrowful.catalogue.judgements import judged_time
from barrowful.catalogue.materials import Material
from barrowful.measures.dates import Step
from barrowful.needs.ceilings import Room, room
from barrowful.needs.doses import DUST, Taken
from barrowful.needs.lime_and_manure import lose_nitrogen
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done
from barrowful.supplies.joint import Source
from barrowful.supplies.stock import FAR_YEARS, Lots, Stock, lots_of
from barrowful.supplies.supply import Supply

#: What comes of a need that cannot be met in time.
IfLate = Literal["later", "part", "nothing"]
#: What places share on which each square metre gets the same and becomes the same.
Sort = tuple[object, ...]


def sort_with(sorts: Mapping[str, int], place: Place, doses: Iterable[Application]) -> Sort:
    """Return the sort of a place with its doses: as deep and on the same days on equal ones."""
    area = place.total_area
    deep = (
        (dose.number, dose.way, dose.kind, dose.dug, dose.share, f"{dose.loose / area:.12g}")
        for dose in doses
    )
    return sorts[place.name], *deep


class Settled:
    """What is put on places for needs settled before, beside the history, and what is left of stocks.

    What cannot be met in time is either met later, or gets what can be put on in time, or nothing. Where it
    is asked how much is wanted, and not how much there is, stocks are without end.
    """

    def __init__(self, site: Site, if_late: IfLate = "later", without_end: bool = False) -> None:
        self.site, self.if_late, self.without_end = site, if_late, without_end
        self.spares = False  #: do ways together take little of what has an end, whatever that costs?
        self.day: date | None = None  #: on which a way goes on first, where that is written
        #: What places of one sort get beside the same, with whatever it is settled further.
        self.known: dict[Sort, Any] = {}
        self._doses: dict[str, tuple[Application, ...]] = {}
        self._stocks: dict[str, Stock] = {}

    def branch(self) -> Settled:
        """Return another with the same settled, to go on from."""
        other = Settled(self.site, self.if_late, self.without_end)
        other.known, other._doses, other.spares = self.known, dict(self._doses), self.spares
        other.day = self.day
        for way, stock in self._stocks.items():
            other._stocks[way] = stock.copy()
        return other

    def sharing(self, source: Source, part: float) -> Settled:
        """Return another with the same settled, and with a part of what is left of a source, or times it."""
        other = self.branch()
        for supply in source.parts:
            if supply.limited:
                other._stocks[supply.way.name] = self.stock(supply).part(part)
        return other

    def begun_on(self, supply: Supply[Any], day: date, alone: bool) -> Settled:
        """Return another with the same settled, where a supply goes on first on a day, or on it ``alone``."""
        other = self.branch()
        other.known, other.day = {}, day
        other._stocks[supply.way.name] = self.stock(supply).begun_on(day.toordinal(), alone)
        return other

    def sparing(self) -> Settled:
        """Return another with the same settled, where ways together take little of what has an end."""
        other = self.branch()
        other.spares = True
        return other

    def on(self, place: Place) -> tuple[Application, ...]:
        """Return what is settled for a place, beside its history."""
        return self._doses.get(place.name, ())

    def sort(self, place: Place, bears: Callable[[Place], object]) -> Sort:
        """Return the sort of a place with what is settled for it, by what of a place bears on that."""
        return sort_with(self.site.sorts_by(bears), place, self.on(place))

    def begins(self, place: Place, kind: str, stuff: Material) -> date:
        """Return the day before which a stuff does not go on a place for a need: the order of work there.

        What is put on a place waits until it is filled, a cover for what is dug in soon after the start, and
        fresh manure for lime that goes on as soon, or lime for manure that was put on. A day that is written
        waits for nothing.
        """
        if self.day is not None:
            return self.site.start
        soon = self.site.start + judged_time("dug_before_cover")
        waits_for = [
            dose.day
            for dose in self.on(place)
            if dose.kind == "fill" or (kind == "cover" and dose.dug and dose.day <= soon)
        ]
        waits_for += [
            dose.day + judged_time("lime_and_manure")
            for dose in self.there(place)
            if dose.day <= soon and lose_nitrogen(dose.material, stuff)
        ]
        return max(waits_for, default=self.site.start)

    def there(self, place: Place) -> list[Application]:
        """Return all that is put on a place: its history and what is settled."""
        return [*done(self.site, place), *self.on(place)]

    def room(self, place: Place, need: Need, material: Material) -> Room:
        """Return what the ceilings leave on a place for a material and a need."""
        return room(place, need, material, self.there(place))

    def stock(self, supply: Supply[Any]) -> Stock:
        """Return what is left of a supply's lots, to take from."""
        name = supply.way.name
        if name not in self._stocks:
            lots = all_lots(supply)
            self._stocks[name] = Stock(lots.without_end if self.without_end else lots)
        return self._stocks[name]

    def shares_out(self, source: Source) -> bool:
        """Say whether what one place takes of a source leaves less for another: until it is used up."""
        return source.limited and not all(
            not supply.limited or self.stock(supply).nothing_by(self.site.end) for supply in source.parts
        )

    def put_on(self, doses: Iterable[Application]) -> None:
        """Settle doses; what they draw on is taken from stocks by whoever decided them."""
        by_place: dict[str, list[Application]] = {}
        for dose in doses:
            by_place.setdefault(dose.place.name, []).append(dose)
        for name, more in by_place.items():
            self._doses[name] = (*self._doses.get(name, ()), *more)


def all_lots(supply: Supply[Any]) -> Lots:
    """Return all lots of a supply, as far ahead as anything is looked at."""
    return lots_of(supply, Step(months=12 * FAR_YEARS).after(supply.site.start))


def times_of(supply: Supply[Any], wanted: float, parts: Taken) -> float | None:
    """Return how many times what a supply brings would be enough; None where it has no end."""
    there = all_lots(supply).brought_by(supply.site.end)
    if not 0 < there < inf:
        return None
    return wanted / parts.given if parts.lacking > DUST and parts.given > 0 else wanted / there


def days_of(stock: Stock, until: date, since: int | None = None) -> list[tuple[date, float]]:
    """Return the lots [m3] of a stock up to a day of which something is left; infinite where no end is.

    What has no end waits where nothing goes on before a day ``since``.
    """
    days, left = stock.lots.days, stock.left
    if since is not None and stock.lots.endless and days and days[0] < since <= until.toordinal():
        later = [(date.fromordinal(day), inf) for day in days if since < day <= until.toordinal()]
        return [(date.fromordinal(since), inf), *later]
    return [
        (date.fromordinal(days[index]), left[index])
        for index in range(bisect_right(days, until.toordinal()))
        if left[index] > 0
    ]
