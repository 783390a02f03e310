"""What is there already: stock on hand as a supply."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.costs.order import Order
from barrowful.site.records import Site
from barrowful.site.ways import Have
from barrowful.soil.application import Application
from barrowful.supplies.flow import OUTSIDE
from barrowful.supplies.supply import Cost, Lot, Supply, yearly


class Stockpile(Supply[Have]):
    """Stock on hand: one lot at the start that can be spread in later years too, or one each year."""

    hazard_words = Supply.hazard_words | {"unknown chip"}

    def __init__(self, way: Have, site: Site, drawn: Mapping[str, Supply[Any]]) -> None:
        super().__init__(way, site, drawn)
        self.material = way.material

    def lots(self, until: date) -> list[Lot]:
        loose = self.way.amount.loose(self.material.get("density") or math.nan)
        days = yearly(self.site.start, until, loose)
        return days if self.way.per_year else [*days[:1], *(lot._replace(loose=0.0) for lot in days[1:])]

    def cost(self, draws: Mapping[date, float]) -> Cost:
        return Cost()

    @property
    def provenance(self) -> str:
        return self.way.origin

    def hazards(self, doses: Sequence[Application], orders: Sequence[Order]) -> Iterator[str]:
        yield from super().hazards(doses, orders)
        if self.material.sort.asks_origin and not self.provenance:
            yield "unknown chip"

    @property
    def source(self) -> str:
        return super().source if self.way.from_site else OUTSIDE
