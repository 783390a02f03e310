"""The part of a plan's programme about sellers: orders in their units, shared deliveries, what is left over.

An order brings what is wanted on its days and not yet there, as the order sheet has it: a day's draws and
those soon after it share an order, and what a whole load leaves over serves the next while it keeps.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.answers.costs import handling
from barrowful.costs.order import step_of, units_of, with_tax
from barrowful.measures.elementwise import round_up
from barrowful.measures.fixed import fixed
from barrowful.planning.books import Books, Counts
from barrowful.site.keeping import left_over_keeps, order_shared
from barrowful.site.ways import Buy, Size
from barrowful.supplies.supply import Supply, wet_of

#: The least share of an order's last step, or of the least that is brought, that is wanted then, beyond all
#: rounding: else it would be ordered ahead, as the order sheet never does.
LAST_STEP = 1e-3


@fixed(eq=True)
class Ordered:
    """The columns of one way's order on the days that share it; or of what came before the start."""

    days: Sequence[int]  #: day numbers it may be for
    volume: int  #: m3 brought
    placed: int  #: is there an order?
    left: int | None  #: m3 left over after it
    steps: int | None = None  #: in which it is brought


def add_sellers(books: Books, ways: Mapping[str, Supply[Any]], start: date) -> None:
    """Add the orders of all sellers for what is drawn on their ways, none of them ahead of the start."""
    sellers: dict[tuple[str, str], list[Buy]] = defaultdict(list)
    for name in sorted(ways):
        way = ways[name].way
        if not ways[name].limited and books.drawn.get(name):
            sellers[way.sold_by].append(way)
    for sold in sellers.values():
        _add_seller(books, sold, start)


def _add_seller(books: Books, sold: Sequence[Buy], start: date) -> None:
    """Add one seller's orders, and the trips that bring them."""
    days = sorted({day for way in sold for day, of in books.drawn[way.name].items() if of})
    there = {way.name: way.lead.after(start).toordinal() for way in sold}
    soonest = {day: max(there[way.name] for way in sold if books.drawn[way.name].get(day)) for day in days}
    shared = _sharing(soonest, _spans(books, sold, days), books.year_end if books.years_apart else 0)
    orders = {way.name: _orders_of(books, way, shared) for way in sold}
    trips = list[int | None]()
    for number, group in enumerate(shared):
        of_day = [(way, orders[way.name][number]) for way in sold if orders[way.name][number] is not None]
        trips.append(_add_trips(books, group[0], [(way, of) for way, of in of_day if of is not None]))
    for counted in (trips, *([of.steps for of in of_way if of] for of_way in orders.values())):
        _add_in_all(books, [column for column in counted if column is not None])


def _spans(books: Books, sold: Sequence[Buy], days: Sequence[int]) -> dict[int, int]:
    """Return by day how many days before it an order may be for it too: no more than all of it keeps."""
    spans = {way.name: order_shared(way.material).days for way in sold}
    return {day: min(span for name, span in spans.items() if books.drawn[name].get(day)) for day in days}


def _sharing(soonest: Mapping[int, int], spans: Mapping[int, int], apart: int) -> list[list[int]]:
    """Return days in groups that share an order: those soon after the first of each, within their ``spans``.

    ``soonest`` has by day when all that may come on it can be there; on no earlier day it comes with others.
    Days before a day number ``apart`` share none with those from it on.
    """
    groups = list[list[int]]()
    for day, there in soonest.items():
        first = groups[-1][0] if groups else day
        soon = groups and day - first <= spans[day] and not first < apart <= day
        if soon and there <= first:
            groups[-1].append(day)
        else:
            groups.append([day])
    return groups


def _orders_of(books: Books, way: Buy, shared: Sequence[Sequence[int]]) -> list[Ordered | None]:
    """Add the orders of one way, one after another with what each leaves over."""
    orders, before = list[Ordered | None](), _left_before(books, way)
    for days in shared:
        drawn = books.drawn_on(way.name, days)
        came = [*before, *(of for of in orders if of)]
        orders.append(_order(books, way, days, drawn, came) if drawn else None)
    return orders


def _left_before(books: Books, way: Buy) -> list[Ordered]:
    """Add what is left of what came before the start, as an order that is placed and paid."""
    if way.left_on is None:
        return []
    there = books.programme.column(way.lies_there)
    books.programme.row({there: 1.0}, least=way.lies_there)
    return [Ordered(days=(way.left_on.toordinal(),), volume=there, placed=there, left=there)]


def _order(books: Books, way: Buy, days: Sequence[int], drawn: Counts, before: Sequence[Ordered]) -> Ordered:
    """Add an order for what is drawn on some days, beside what those before it left over."""
    programme, terms = books.programme, _Terms.of(way)
    wanted = sum(max(0.0, loose) * programme.most[column] for column, loose in drawn.items())
    most = max(wanted, terms.least) + terms.step
    volume = programme.column(most)
    whole = terms.least or way.delivery or way.trip or way.left
    placed = programme.yes() if whole else programme.waits([volume])
    programme.row({volume: 1.0, placed: -most}, most=0.0)
    steps = None
    if terms.step:
        steps = programme.column(math.ceil(most / terms.step), whole=True)
        programme.row({volume: 1.0, steps: -terms.step}, least=0.0, most=0.0)
    supplied = {column: -loose for column, loose in drawn.items()}
    left = None
    if terms.step or terms.least or way.left:
        programme.row({volume: 1.0, placed: -terms.least}, least=0.0)
        over = max(terms.step, terms.least) * (1 - LAST_STEP)
        left = programme.column(over + way.lies_there)
        if way.lies_there:
            programme.row({left: 1.0, placed: way.lies_there}, most=over + way.lies_there)
        used = _used_up(books, days, before, left_over_keeps(way.material).days)
        programme.row({volume: 1.0, left: -1.0, **supplied, **used}, least=0.0, most=0.0)
        if terms.least > terms.step:
            _add_least(books, (volume, placed, left), terms, most, way.lies_there)
    else:
        programme.row({volume: 1.0, **supplied}, least=0.0)
    books.pay(volume, float(way.price * with_tax(way)) * terms.units, days[0])
    books.order(placed, volume)
    books.work(volume, handling(way, terms.units, 1.0).likely)
    return Ordered(days=days, volume=volume, placed=placed, left=left, steps=steps)


@fixed(eq=True)
class _Terms:
    """A seller's terms in loose m3."""

    units: float  #: the seller's units in each m3
    step: float  #: m3, nothing where any quantity is brought
    least: float  #: m3, the least that is brought

    @classmethod
    def of(cls, way: Buy) -> _Terms:
        """Return the terms of a way."""
        density = way.material.get("density")
        units, step = units_of(Size(1.0, None), way.selling, density), step_of(way)
        least = units_of(way.minimum, way.selling, density) if way.minimum else 0.0
        if step:
            least = round_up(least / step) * step
        return cls(units=units, step=step / units, least=least / units)


def _used_up(books: Books, days: Sequence[int], before: Sequence[Ordered], keeps: int) -> dict[int, float]:
    """Return the column of what is used of that left over, while it ``keeps``: so long from an order on.

    Nobody knows yet which of the days that share an order it is for: it may be for the last of one, and then
    the first of the next. Only the last of these is sure to find there what was left over from the first.
    """
    last = before[-1].left if before else None
    if last is None:
        return {}
    programme = books.programme
    used = programme.column(programme.most[last])
    programme.row({used: 1.0, last: -1.0}, most=0.0)
    apart = (days[-1], 0) if books.sure_of_leftovers else (days[0], -1)
    fresh = [of for of in before if apart[0] - of.days[apart[1]] <= keeps]
    if len(fresh) < len(before):
        programme.row({used: 1.0, **{of.volume: -1.0 for of in fresh}}, most=0.0)
    return {used: 1.0}


def _add_least(books: Books, order: tuple[int, int, int], terms: _Terms, most: float, there: float) -> None:
    """Add that nothing is ordered ahead: an order leaves less than a step, or is the least brought.

    Where there is none, as much may be left as there was [m3] before the start.
    """
    programme, (volume, placed, left) = books.programme, order
    brings_least = programme.yes()
    programme.row({volume: 1.0, brings_least: most}, most=terms.least + most)
    step, least = terms.step * (1 - LAST_STEP), terms.least * (1 - LAST_STEP)
    rest = {left: 1.0, placed: least - step + there, brings_least: step - least}
    programme.row(rest, most=least + there)


def _add_in_all(books: Books, wholes: Sequence[int]) -> None:
    """Add how many trips or steps there are in all: where that is whole, parts of one on many days are none.

    It is so anyway, and lets the solver see sooner what is not to be had.
    """
    programme = books.programme
    if len(wholes) > 1 and all(programme.whole[column] for column in wholes):
        in_all = programme.column(math.inf, whole=True)
        programme.row({**dict.fromkeys(wholes, 1.0), in_all: -1.0}, least=0.0, most=0.0)
        programme.in_all[in_all] = tuple(wholes)


def _add_trips(books: Books, day: int, orders: Sequence[tuple[Buy, Ordered]]) -> int | None:
    """Add the trips that bring the orders of a day together, and return their column, where there are any.

    They are by volume or by mass, whichever binds.
    """
    if not orders:
        return None
    ways = [way for way, _ in orders]
    delivery = max(float(way.delivery * with_tax(way)) for way in ways)
    hours = max(way.trip or 0.0 for way in ways)
    if not (delivery or hours):
        return None
    programme = books.programme
    volumes = {order.volume: 1.0 for _, order in orders}
    rooms = [room for way in ways for room in (way.truck, way.box) if room]
    payloads = [way.payload for way in ways if way.payload]
    loads = {
        order.volume: units_of(Size(1.0, None), way.selling, way.material.get("density"))
        for way, order in orders
        if way.selling.word == "load" and not way.truck
    }
    masses = {order.volume: wet_of(way.material, 1.0) for way, order in orders}
    counted = bool(rooms or payloads or loads)
    trips = programme.column(math.inf, whole=counted)
    for _, order in orders:
        programme.row({trips: 1.0, order.placed: -1.0}, least=0.0)
    for each, carries in ((volumes, rooms), (masses, payloads)):
        if carries:
            programme.row({trips: min(carries), **{column: -of for column, of in each.items()}}, least=0.0)
    if loads:
        programme.row({trips: 1.0, **{column: -of for column, of in loads.items()}}, least=0.0)
    books.pay(trips, delivery, day)
    books.work(trips, hours)
    return trips
