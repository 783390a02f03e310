"""What is there already: stock on hand as a supply."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.costs.order import Order
from barrowful.measures.dates import SHORTEST_MONTH
from barrowful.measures.telling import VOLUME, measured
from barrowful.measures.text import written_amount
from barrowful.site.carried import Carried
from barrowful.site.records import HistoryEntry, Site
from barrowful.site.ways import Have
from barrowful.soil.application import Application
from barrowful.supplies.flow import OUTSIDE
from barrowful.supplies.lot import YEAR, Lot, together, yearly
from barrowful.supplies.supply import Cost, Supply
from barrowful.supplies.taken import SPECK, after_taking


class Stockpile(Supply[Have]):
    """Stock on hand: one lot at the start that can be spread in later years too, or one each year."""

    hazard_words = Supply.hazard_words | {"unknown chip"}

    def __init__(self, way: Have, site: Site, drawn: Mapping[str, Supply[Any]]) -> None:
        super().__init__(way, site, drawn)
        self.material = way.material
        self.keeps = not way.material.sort.spoils  # greens are put on as they come, or rot where they lie
        self.lots_by = "volume" if way.amount.volume is not None else "weight"

    def lots(self, until: date) -> list[Lot]:
        lots, _ = self._taken(until)
        return [lot for lot in lots if lot.day <= until]

    @property
    def overtaken(self) -> str:
        _, lacking = self._taken(self.site.start)
        if not lacking:
            return ""
        return f"{self.name}: the history takes {measured(lacking, VOLUME)} more of it than there was"

    def carried_on(self, day: date) -> Carried:
        """Return what is left before a day; of what comes each year, that stands beside what comes next."""
        lots, _ = self._taken(day, before=day)
        left = sum(lot.loose for lot in lots if lot.day < day)
        told = self.overtaken
        if self._first >= day:
            return Carried(told=told)
        if not self.way.per_year:
            taken = any(entry.day < day for entry in self._entries)
            once = self.way.comes is not None or self.way.left is not None
            keys = {"amount": self._written(left), "left": None, "comes": None}
            return Carried(keys=keys if taken or once else {}, told=told)
        comes = self.way.comes or (self.site.start.month, min(self.site.start.day, SHORTEST_MONTH))
        keys = {"left": self._written(left) if left > SPECK else None}
        if self.way.comes is None and comes != (day.month, day.day):
            keys["comes"] = f"{comes[0]:02}-{comes[1]:02}"
        return Carried(keys=keys, told=told)

    def _written(self, loose: float) -> str:
        """Return a loose volume [m3] of it as a site file has it, by weight where its amount is."""
        if loose <= SPECK:
            return "0 m3"
        weighed = self.way.amount.volume is None
        return written_amount(None if weighed else loose, self.material.wet_mass(loose) if weighed else None)

    @property
    def _entries(self) -> list[HistoryEntry]:
        """Return the entries that took of it; what was taken before the start is not in its amount."""
        return [entry for entry in self.site.done_by(self.way.name) if entry.day >= self.site.start]

    def _taken(self, until: date, before: date = date.max) -> tuple[list[Lot], float]:
        """Return what is left of what comes up to a day, and what there was too little [m3] of."""
        entries = [entry for entry in self._entries if entry.day < before]
        last = max((entry.day for entry in entries), default=until)
        return after_taking(self._coming(max(last, until)), entries)

    def _coming(self, until: date) -> list[Lot]:
        """Return all that comes up to a day; what comes once can be spread in later years too."""
        start, density = self.site.start, self.material.get("density") or math.nan
        days = yearly(self._first, until, self.way.amount.loose(density))
        if not self.way.per_year:
            days = [*days[:1], *(lot._replace(loose=0.0) for lot in days[1:])]
        if self.way.left is None:
            return days
        return together([Lot(start, self.way.left.loose(density)), *days])

    @property
    def _first(self) -> date:
        """Return the first day on which anything comes."""
        start = self.site.start
        if self.way.comes is None:
            return start
        this_year = date(start.year, *self.way.comes)
        return this_year if this_year >= start else YEAR.after(this_year)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        return Cost()

    def hazards(self, doses: Sequence[Application], orders: Sequence[Order]) -> Iterator[str]:
        yield from super().hazards(doses, orders)
        if self.of_unknown_trees:
            yield "unknown chip"

    @property
    def source(self) -> str:
        return super().source if self.way.from_site else OUTSIDE
