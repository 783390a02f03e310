"""What is bought: a seller as a supply."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.catalogue.judgements import judgement
from barrowful.costs.order import (
    Order,
    order,
    ordered,
    price_by_volume,
    step_of,
)
from barrowful.measures.text import written_amount
from barrowful.site.carried import AS_IT_IS, DIGITS, Carried
from barrowful.site.keeping import left_over_keeps
from barrowful.site.records import HistoryEntry, Site
from barrowful.site.ways import Buy
from barrowful.soil.application import Application
from barrowful.supplies.flow import OUTSIDE
from barrowful.supplies.lot import Lot, yearly
from barrowful.supplies.supply import Cost, Draw, Supply, wet_of
from barrowful.supplies.taken import SPECK, after_taking, takes


def least_cash(way: Buy, loose: float) -> Decimal:
    """Return what a loose volume [m3] costs at the seller's price, with no step, minimum or delivery."""
    return price_by_volume(way) * Decimal(str(loose))


#: The conditions of cautions that buying itself brings about.
BUYING = frozenset(
    {
        *("bag too heavy", "bag for a machine", "over payload", "own collection"),
        *("brought by lorry", "on the road", "unknown chip"),
    }
)


class Purchase(Supply[Buy]):
    """A seller: as much as is ordered, first after the lead time and then each year that day."""

    limited = False
    hazard_words = Supply.hazard_words | BUYING

    def __init__(self, way: Buy, site: Site, drawn: Mapping[str, Supply[Any]]) -> None:
        super().__init__(way, site, drawn)
        self.material = way.material
        self.first = way.lead.after(site.start)

    def lots(self, until: date) -> list[Lot]:
        return yearly(self.first, until, math.inf)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        return Cost(tuple(Draw(day, self.way, loose) for day, loose in sorted(draws.items())))

    @property
    def lies_there(self) -> float:
        return self.way.lies_there

    @property
    def price_by_volume(self) -> float:
        return float(price_by_volume(self.way))

    def least_cash(self, loose: float) -> Decimal:
        return least_cash(self.way, max(0.0, loose - self.lies_there))

    @property
    def overtaken(self) -> str:
        """Return how much more was used since the start than came, where the history tells what did."""
        since = [entry for entry in self.site.done_by(self.name) if entry.day >= self.site.start]
        came = sum(entry.loose for entry in since if entry.brought)
        used = sum(entry.loose for entry in since if takes(entry))
        lacking = used - came - self.lies_there
        if not came or lacking <= (1 - judgement("as_good_as_done")) * used:
            return ""
        return f"{self.name}: the history uses {self._written(lacking)} more of it than came"

    def carried_on(self, day: date) -> Carried:
        """Return what is left before a day of what came since the start, and that no more came."""
        entries = [of for of in self.site.done_by(self.name) if self.site.start <= of.day < day]
        carried = self._left_over(day, entries)
        last = next((entry for entry in reversed(entries) if entry.brought), None)
        if last is None or not last.ends:
            return carried
        ended = f"{self.name}: no more of it came on {last.day}; where none comes again, take the way out"
        return carried._replace(told=". ".join(filter(None, (carried.told, ended))))

    def _left_over(self, day: date, entries: Sequence[HistoryEntry]) -> Carried:
        """Return what is left before a day of what came by some entries, while it keeps.

        A delivery may be logged after some of it was put on: what is used is of all that came by the day.
        What of it a heap took is not in the history, and what came may not be: then a sentence says so.
        """
        if self.material.sort.spoils:
            return AS_IT_IS
        taken = [entry for entry in entries if takes(entry)]
        came = [Lot(entry.day, entry.loose) for entry in entries if entry.brought]
        used = [replace(entry, day=day) for entry in taken]
        lots, lacking = after_taking([Lot(self.way.left_on or self.site.start, self.lies_there), *came], used)
        keeps = left_over_keeps(self.material)
        left = sum(lot.loose for lot in lots if day - lot.day <= keeps)
        too_old = sum(lot.loose for lot in lots) - left
        told_of_all = any(not entry.place for entry in taken)
        took = "" if told_of_all else next((f" less what {heap} took" for heap in self._heaps_built(day)), "")
        if took and left > SPECK:
            told = f"{self.name}: {self._written(left)} of it is left{took}; measure it, and {self._add()}"
            return Carried(keys={"left": None}, told=told)
        unknown = lacking > (1 - judgement("as_good_as_done")) * sum(entry.loose for entry in taken)
        told = self._may_lie_there(lacking, took) if unknown else self._came_untold(entries)
        if too_old > SPECK and not told:
            told = (
                f"{self.name}: {self._written(too_old)} is left out as too old; if it is good, {self._add()}"
            )
        if abs(left - self.lies_there) <= SPECK:
            return Carried(told=told)
        return Carried(keys={"left": self._written(left) if left > SPECK else None}, told=told)

    def _came_untold(self, entries: Sequence[HistoryEntry]) -> str:
        """Return that the history does not tell how much came, or nothing."""
        day = next(
            (entry.day for entry in entries if entry.brought and not entry.loose and not entry.ends), None
        )
        if day is None:
            return ""
        return (
            f"{self.name}: how much came on {day} is not in the history; look what is left, and {self._add()}"
        )

    def _heaps_built(self, day: date) -> Iterator[str]:
        """Yield the heaps that draw on it and were built since the start, before a day."""
        for way in self.site.ways:
            built = (entry.day for entry in self.site.done_by(way.name) if entry.built)
            if self.name in way.draws_from and any(self.site.start <= of < day for of in built):
                yield way.name

    def _may_lie_there(self, put_on: float, took: str) -> str:
        """Return what an order may have left over of which the history only tells what was put on [m3]."""
        made = order(self.way, put_on, self.site.currency)
        if made is None or made.leftover <= SPECK:
            return ""
        came, left = ordered(made.quantity, made.unit), self._written(made.leftover)
        return (
            f"{self.name}: {self._written(put_on)} more was put on than the history has as brought; if {came}"
            f" came, {left}{took} may lie there: look, and {self._add(left)}"
        )

    def _add(self, left: str = "...") -> str:
        """Return how what is left is written."""
        return f'write "left: {left}" under its buy'

    def _written(self, loose: float) -> str:
        """Return a loose volume [m3] of it as a site file has it, by weight where it is sold so."""
        weighed = self.way.selling.volume is None
        volume, mass = (None, self.material.wet_mass(loose)) if weighed else (loose, None)
        return written_amount(volume, mass, DIGITS)

    @property
    def earliest(self) -> date | None:
        return self.first

    def hazards(self, doses: Sequence[Application], orders: Sequence[Order]) -> Iterator[str]:
        way = self.way
        yield from super().hazards(doses, orders)
        mass = way.bag_mass or 0.0
        if mass > judgement("machine_bag"):
            yield "bag for a machine"
        elif mass > judgement("heavy_bag"):
            yield "bag too heavy"
        own = way.box is not None or (way.payload is not None and not way.delivery)
        if own and way.payload is not None and any(order.trips > 1 for order in orders):
            yield "over payload"
        if own:
            yield "own collection"
        if not way.collected and (way.selling.word != "bag" or way.delivery):
            yield "brought by lorry"
        if way.on_public_ground:
            yield "on the road"
        if self.of_unknown_trees:
            yield "unknown chip"

    @property
    def sold_in_wholes(self) -> bool:
        way = self.way
        rooms = way.truck is not None or way.payload is not None or way.box is not None
        return bool(step_of(way)) or rooms or way.selling.word == "load"

    @property
    def price_by_mass(self) -> float:
        sold = self.way.selling
        return float(self.way.price) / (sold.mass or wet_of(self.material, sold.volume or 1.0))

    @property
    def source(self) -> str:
        return OUTSIDE
