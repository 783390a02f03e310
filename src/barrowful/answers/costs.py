"""What doses cost: money for orders and all else, and hours to collect, carry, spread and dig in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, NamedTuple

from barrowful.costs.labour import Hours, spreading, work
from barrowful.site.records import Site
from barrowful.site.ways import Buy
from barrowful.soil.application import Application, draws_of
from barrowful.supplies.joint import Source
from barrowful.supplies.placing import PlacedOrder
from barrowful.supplies.supply import Cost, Payment, Supply


class Bill(NamedTuple):
    """What parts cost carried out together: each order placed once."""

    orders: tuple[PlacedOrder, ...]
    paid: tuple[Payment, ...]
    cash: Decimal
    cash_first_year: Decimal
    hours: Hours


def cost_of(supply: Supply[Any], doses: Sequence[Application], founds: bool = False) -> Cost:
    """Return what doses of a supply cost, or planting it where that is all there is to it."""
    draws = draws_of(doses)
    cost = supply.cost(draws) if draws else Cost()
    return supply.founding(1) if founds else cost


def cost_of_all(source: Source, doses: Sequence[Application], founds: bool = False) -> Cost:
    """Return what doses of one way cost, or of several that serve jointly."""
    return sum((cost_of(part, own, founds) for part, own in source.divide(doses)), Cost())


def cash_of(orders: Iterable[PlacedOrder], paid: Iterable[Payment], before: date = date.max) -> Decimal:
    """Return the money for orders and everything else, due before a day."""
    return sum((placed.order.cash for placed in orders if placed.day < before), Decimal(0)) + sum(
        (payment.cash for payment in paid if payment.day < before), Decimal(0)
    )


def collecting_hours(orders: Iterable[PlacedOrder]) -> Hours:
    """Return the hours of rounds to sellers from whom one collects, with loading, and of carrying bags."""
    hours = Hours()
    for placed in orders:
        way, order = placed.way, placed.order
        round_trips = (way.trip or 0.0) * order.trips
        hours += Hours(round_trips, round_trips, round_trips)
        hours += handling(way, float(order.quantity), order.volume)
    return hours


def handling(way: Buy, quantity: float, volume: float) -> Hours:
    """Return the hours to carry bags, so many of them, or to load a volume [m3] that one collects."""
    if way.selling.word == "bag":
        return work("bag", quantity)
    return work("load", volume) if way.collected else Hours()


def jobs_of(site: Site, doses: Iterable[Application], supply: Supply[Any]) -> list[tuple[date, float]]:
    """Return the likely hours to put doses of a supply on, by day."""
    days: dict[date, list[Application]] = {}
    for dose in doses:
        days.setdefault(dose.day, []).append(dose)
    return [(day, placing_hours(site, of_day, supply).likely) for day, of_day in days.items()]


def placing_hours(site: Site, doses: Iterable[Application], supply: Supply[Any]) -> Hours:
    """Return the hours to barrow, spread and dig in where it goes; some stuff is carried in its own cost."""
    every = list(doses)
    return digging_hours(every) + spreading_hours(site, every, supply)


def digging_hours(doses: Iterable[Application]) -> Hours:
    """Return the hours to dig in what is dug in of doses."""
    return work("dig_in", sum(dose.share * dose.place.total_area for dose in doses if dose.dug))


def spreading_hours(site: Site, doses: Iterable[Application], supply: Supply[Any]) -> Hours:
    """Return the hours to barrow and spread doses; some stuff is carried in its own cost."""
    if supply.carried:
        return Hours()
    return spreading(sum(dose.loose for dose in doses), site.labour.push, site.labour.barrow)
