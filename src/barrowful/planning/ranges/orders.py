"""Orders draw by draw: quantities, trips and money of what is wanted of sellers, on the likely days."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple

from barrowful.costs.order import quantity_for, trips_for, trips_of_all, volume_and_mass, with_tax
from barrowful.measures.elementwise import at_least, likely, to_coins, where
from barrowful.measures.money import currencies
from barrowful.planning.ranges.figures import Draws
from barrowful.site.keeping import left_over_keeps
from barrowful.site.records import Site
from barrowful.site.ways import Buy
from barrowful.supplies.placing import Leftover, with_one_seller
from barrowful.supplies.supply import Draw

#: What is wanted of a way beyond what is left over counts from so much on [m3]: rounding.
DUST = 1e-9


class DrawnOrder(NamedTuple):
    """An order on a day, draw by draw: what is wanted and ordered [m3], and what it comes to."""

    day: date
    way: Buy
    wanted: Any  #: m3, less what is left over
    quantity: Any  #: in the seller's own unit
    volume: Any  #: m3
    mass: Any  #: kg, None where no density is known
    trips: Any

    digits: int  #: of the smallest coin

    @property
    def cash(self) -> Any:
        """Return the money for it, tax and all, to the last coin."""
        price, delivery = float(self.way.price), float(self.way.delivery)
        goods, brought = (to_coins(of, self.digits) for of in (price * self.quantity, delivery * self.trips))
        return to_coins((goods + brought) * float(with_tax(self.way)), self.digits)

    @property
    def leftover(self) -> Any:
        """Return what is left over [m3]."""
        return at_least(self.volume - self.wanted, 0.0)


def drawn_orders(draws: Draws, wanted: Iterable[Draw], site: Site) -> list[DrawnOrder]:
    """Return the orders that bring what is wanted, by day; those of one seller are joined as is likely."""
    orders: list[DrawnOrder] = []
    digits = currencies()[site.currency]
    for groups in with_one_seller(wanted, site.start):
        sold = {draw.way.name: draw.way for group in groups for draw in group}
        leftovers = {name: _left_before(draws, way) for name, way in sold.items()}
        for group in groups:
            ways = {draw.way.name: draw.way for draw in group}
            made = [_of_way(draws, way, group, leftovers)._replace(digits=digits) for way in ways.values()]
            orders += _brought_together(made) if len(made) > 1 else made
    return sorted(orders, key=lambda order: order.day)


def _left_before(draws: Draws, way: Buy) -> tuple[Any, Any]:
    """Return what is left [m3] of what came before the start, and the day number it counts from."""
    left = Leftover.of(_drawn(draws, way))
    return left.loose, left.day.toordinal()


def _drawn(draws: Draws, way: Buy) -> Buy:
    """Return a way whose material has figures drawn."""
    return replace(way, material=draws.material(way.material))


def _of_way(
    draws: Draws, way: Buy, group: Sequence[Draw], leftovers: dict[str, tuple[Any, Any]]
) -> DrawnOrder:
    """Return the order for what is wanted of a way in a group, less what is left over while it keeps.

    Of what is left over [m3] the number of the day it came on is kept.
    """
    day, way = group[0].day, _drawn(draws, way)
    left, came = leftovers[way.name]
    left = where(day.toordinal() - came > left_over_keeps(way.material).days, 0.0, left)
    asked: Any = sum(draw.loose for draw in group if draw.way.name == way.name)
    wanted = at_least(asked - left, 0.0)
    quantity = where(wanted > DUST, quantity_for(way, wanted), 0.0)
    volume, mass = volume_and_mass(way, quantity)
    trips = where(wanted > DUST, trips_for(way, quantity, volume, mass), 0.0)
    over = at_least(left - asked, 0.0) + at_least(volume - wanted, 0.0)
    leftovers[way.name] = over, where(wanted > DUST, day.toordinal(), came)
    return DrawnOrder(day, way, wanted, quantity, volume, mass, trips, digits=0)


def _brought_together(orders: Sequence[DrawnOrder]) -> list[DrawnOrder]:
    """Return the orders of one seller and day with shared deliveries: their trips stand with the largest."""
    trips = trips_of_all([(of.way, of.quantity, of.volume, of.mass) for of in orders])
    some = sum(of.quantity for of in orders)
    largest = max(orders, key=lambda order: (likely(order.volume), order.way.name))
    return [
        order._replace(trips=where(some > 0, trips, 0.0) if order is largest else 0.0) for order in orders
    ]
