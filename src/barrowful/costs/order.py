"""Orders in the seller's own units: bags, steps, minimum, loads, trips, delivery, what is left over."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from functools import reduce
from typing import Any, NamedTuple

from barrowful.ground import amount
from barrowful.measures.elementwise import DUST, at_least, likely, round_up
from barrowful.measures.money import rounded
from barrowful.measures.text import in_figures
from barrowful.site.ways import Buy, Selling, Size

#: Units of sellers that are words, and have a plural.
WORDS = ("bag", "load")


class Charge(NamedTuple):
    """What an order is charged: for the stuff, for its deliveries, the tax, and all together.

    Where price and delivery hold the tax already, it is a part of them; else it comes on top.
    """

    goods: Decimal
    delivery: Decimal
    tax: Decimal
    cash: Decimal


class Order(NamedTuple):
    """An order: quantity in the seller's unit, loose volume [m3], mass [kg], trips, and what is charged."""

    quantity: Decimal
    unit: str
    volume: float
    mass: float | None
    leftover: float
    trips: int
    charge: Charge

    @property
    def cash(self) -> Decimal:
        """Return the money for it, tax and all."""
        return self.charge.cash


def units_of(size: Size, sold: Selling, density: float | None) -> float:
    """Return how many of the seller's units an amount is; density [kg/m3] joins mass and volume.

    >>> units_of(Size(3.0, None), Selling("bag", 0.04, None), None)
    75.0
    """
    if size.volume is not None and sold.volume is not None:
        return size.volume / sold.volume
    if size.mass is not None and sold.mass is not None:
        return size.mass / sold.mass
    if density is None:
        raise ValueError("mass and volume need a density between them")
    if sold.volume is not None:
        return amount.loose_volume(0.0 if size.mass is None else size.mass, density) / sold.volume
    return amount.mass(0.0 if size.volume is None else size.volume, density) / (sold.mass or 1.0)


def quantity_for(way: Buy, loose: float) -> float:
    """Return the quantity to order, in the seller's units, for a loose volume [m3]."""
    density = way.material.get("density")
    wanted = units_of(Size(loose, None), way.selling, density)
    if way.minimum is not None:
        wanted = at_least(wanted, units_of(way.minimum, way.selling, density))
    step = step_of(way)
    if not likely(step):
        return wanted
    steps: float = round_up(wanted / step)
    return steps * step


def step_of(way: Buy) -> float:
    """Return the step of orders, in the seller's units; nothing where any quantity is brought."""
    step = units_of(way.step, way.selling, way.material.get("density")) if way.step else 0.0
    whole = way.selling.word == "bag" or (way.selling.word == "load" and way.whole_loads)
    return float(max(1.0, math.floor(likely(step) + DUST))) if whole else step


def trips_for(way: Buy, quantity: float, volume: float, mass: float | None) -> Any:
    """Return the trips, a whole number: by volume or by mass, whichever binds; a load is a trip."""
    by_volume = [round_up(volume / room) for room in (way.truck, way.box) if room]
    if way.selling.word == "load" and not way.truck:
        by_volume.append(round_up(quantity))
    by_mass = [round_up(mass / way.payload)] if way.payload and mass is not None else []
    return reduce(at_least, [*by_volume, *by_mass], 1)


def order(way: Buy, loose: float, currency: str) -> Order | None:
    """Return the order that brings a loose volume [m3], or None when none is needed."""
    if loose <= 0:
        return None
    quantity = quantity_for(way, loose)
    volume, mass = volume_and_mass(way, quantity)
    trips = trips_for(way, quantity, volume, mass)
    exact = Decimal(str(round(quantity, 9))).normalize()
    return Order(
        quantity=exact,
        unit=way.selling.word,
        volume=volume,
        mass=mass,
        leftover=max(0.0, volume - loose),
        trips=trips,
        charge=charge_for(way, exact, trips, currency),
    )


def volume_and_mass(way: Buy, quantity: float) -> tuple[float, float | None]:
    """Return the loose volume [m3] and the mass [kg] of a quantity in the seller's units."""
    density = way.material.get("density")
    if way.selling.volume is not None:
        volume = quantity * way.selling.volume
        return volume, amount.mass(volume, density) if density is not None else None
    mass = quantity * (way.selling.mass or 0.0)
    return amount.loose_volume(mass, 1.0 if density is None else density), mass


def brought_together(orders: Sequence[tuple[Buy, Order]], currency: str) -> list[Order]:
    """Return the orders of one seller with shared deliveries: the trips of all stand with the largest."""
    first = max(range(len(orders)), key=lambda index: (orders[index][1].volume, orders[index][0].name))
    trips = trips_of_all([(way, float(of.quantity), of.volume, of.mass) for way, of in orders])
    return [
        order._replace(trips=of_trips, charge=charge_for(way, order.quantity, of_trips, currency))
        for index, (way, order) in enumerate(orders)
        for of_trips in [trips if index == first else 0]
    ]


def trips_of_all(orders: Sequence[tuple[Buy, float, float, float | None]]) -> Any:
    """Return the trips that bring several orders: way, quantity, volume [m3], mass [kg].

    By volume or by mass, whichever binds; a load is a trip.
    """
    volume = sum(of for _, _, of, _ in orders)
    mass: float = sum(0.0 if of is None else of for _, _, _, of in orders)
    rooms = [room for way, *_ in orders for room in (way.truck, way.box) if room]
    payloads = [way.payload for way, *_ in orders if way.payload]
    loads = [quantity for way, quantity, _, _ in orders if way.selling.word == "load" and not way.truck]
    counts = [
        round_up(sum(loads)),
        *([round_up(volume / min(rooms))] if rooms else []),
        *([round_up(mass / min(payloads))] if payloads else []),
    ]
    return reduce(at_least, counts, 1)


def charge_for(way: Buy, quantity: Decimal, trips: int, currency: str) -> Charge:
    """Return what a quantity and its trips are charged; the parts add up to the last coin."""
    goods, delivery = rounded(way.price * quantity, currency), rounded(way.delivery * trips, currency)
    told = goods + delivery
    cash = rounded(told * with_tax(way), currency)
    net = rounded(cash / tax_factor(way), currency) if way.tax_included else told
    return Charge(goods=goods, delivery=delivery, tax=cash - net, cash=cash)


def break_even(bags: Buy, bulk: Buy) -> float | None:
    """Return the loose volume [m3] from which bulk is cheaper than bags, before steps and minimum.

    V = (bulk delivery - bag delivery) / (bag price - bulk price), prices by volume; None when bags
    are never dearer by volume. Zero means bulk is cheaper from the first barrow.
    """
    dear, cheap = (price_by_volume(way) for way in (bags, bulk))
    if dear <= cheap:
        return None
    fixed = bulk.delivery * with_tax(bulk) - bags.delivery * with_tax(bags)
    return max(0.0, float(fixed / (dear - cheap)))


def tax_factor(way: Buy) -> Decimal:
    """Return what a money without tax comes to with it."""
    return 1 + Decimal(str(round(way.tax, 9)))


def with_tax(way: Buy) -> Decimal:
    """Return what each money of price and delivery, as they are given, comes to with tax."""
    return Decimal(1) if way.tax_included else tax_factor(way)


def price_by_volume(way: Buy) -> Decimal:
    """Return the price of each loose m3, tax and all."""
    held = way.selling.volume
    if held is None:
        held = way.material.loose_of(way.selling.mass or 0.0)
    return way.price / Decimal(str(held)) * with_tax(way)


def ordered(quantity: Decimal, unit: str) -> str:
    """Return how much is ordered of a unit of the seller's.

    >>> ordered(Decimal(2), "bag"), ordered(Decimal("14.250"), "m3"), ordered(Decimal(1), "load")
    ('2 bags', '14.25 m3', '1 load')
    """
    return of_unit(quantity_told(quantity), float(quantity), unit)


def of_unit(told: str, quantity: float, unit: str) -> str:
    """Return a quantity that is told already with its unit, in the plural where that is a word."""
    return f"{told} {unit}{'s' if unit in WORDS and quantity != 1 else ''}"


def quantity_told(quantity: Decimal) -> str:
    """Return a quantity of the seller's unit to a hundredth, as tables have it; what is less in a figure.

    >>> quantity_told(Decimal("1200.50")), quantity_told(Decimal("0.0042"))
    ('1,200.5', '0.004')
    """
    text = f"{quantity:,.2f}".rstrip("0").rstrip(".")
    return text if text != "0" else in_figures(float(quantity), 1)
