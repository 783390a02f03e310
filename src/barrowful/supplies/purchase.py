"""What is bought: a seller as a supply, and draws on sellers joined into orders."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from barrowful.catalogue.judgements import judged_time
from barrowful.costs.order import Order, order
from barrowful.site.records import Site
from barrowful.site.ways import Buy
from barrowful.supplies.supply import Cost, Draw, Lot, Supply, yearly


@dataclass(frozen=True)
class PlacedOrder:
    """An order of a seller for a day, and the needs it is for."""

    day: date
    way: Buy
    order: Order
    needs: tuple[str, ...] = ()


def place_orders(draws: Iterable[Draw], currency: str) -> list[PlacedOrder]:
    """Return the orders that bring what is drawn, by day.

    Draws on one seller soon after the first share an order on the first day: one load serves all the
    places, and the heap, that want it. What is left over serves the next draw while it keeps.
    """
    together = judged_time("orders_joined")
    groups: dict[str, list[list[Draw]]] = {}
    for draw in sorted(draws, key=lambda draw: draw.day):
        own = groups.setdefault(draw.way.name, [])
        if own and draw.day - own[-1][0].day <= together:
            own[-1].append(draw)
        else:
            own.append([draw])
    placed = [one for own in groups.values() for one in _of_seller(own, currency)]
    return sorted(placed, key=lambda one: one.day)


def _of_seller(groups: list[list[Draw]], currency: str) -> list[PlacedOrder]:
    """Return one seller's orders, each less what the one before left over."""
    placed: list[PlacedOrder] = []
    left, since, keeps = 0.0, date.min, judged_time("leftover_keeps")
    for group in groups:
        day, way = group[0].day, group[0].way
        if placed and day - since > keeps:
            left = 0.0
        wanted = sum(draw.loose for draw in group)
        made = order(way, wanted - left, currency) if wanted > left * (1 + 1e-9) else None
        if made is None:
            left = max(0.0, left - wanted)
            continue
        needs = tuple(dict.fromkeys(need for draw in group for need in draw.needs))
        placed.append(PlacedOrder(day, way, made, needs))
        left, since = made.leftover, day
    return placed


class Purchase(Supply):
    """A seller: as much as is ordered, first after the lead time and then each year that day."""

    def __init__(self, way: Buy, site: Site) -> None:
        self.way, self.material, self.site = way, way.material, site
        self.first = way.lead.after(site.start)

    def lots(self, until: date) -> list[Lot]:
        return yearly(self.first, until, math.inf)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        assert isinstance(self.way, Buy)
        return Cost(tuple(Draw(day, self.way, loose) for day, loose in sorted(draws.items())))
