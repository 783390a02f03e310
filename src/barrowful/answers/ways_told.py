"""What is ordered or taken of a way, and what it is put on for, in a line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from barrowful.answers.choices import WholeSite
from barrowful.answers.orders_told import quantity_told
from barrowful.answers.together import Part
from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.measures.elementwise import round_up
from barrowful.site.records import Place
from barrowful.soil.application import Application
from barrowful.supplies.placing import PlacedOrder, order_day


def way_told(whole: WholeSite, way: str) -> str:
    """Return what is ordered or taken of a way first, and what for, and how often it is ordered again."""
    site = whole.together.answer.site
    orders = _orders_of(whole, way)
    first_of_all = _first_of(orders)
    parts = [part for part in whole.together.parts if way in {of.name for of in part.source.parts}]
    by_need: dict[str, list[Part]] = {}
    for part in parts:
        by_need.setdefault(part.need, []).append(part)
    told = (for_what(site.labour.barrow, of_need, way) for of_need in by_need.values())
    uses = "; ".join(filter(None, told))
    there = ["what is left of it"] if whole.together.answer.supplies[way].lies_there else []
    if not orders:
        return f"- {way}: {'; '.join([*there, uses])}." if uses else ""
    ordering = f"{quantity_told(first_of_all)}, order by {order_day(orders[0].way, orders[0].day, site)}"
    first = ", then ".join([*there, ordering])
    later = len(orders) - len(first_of_all)
    more = f"; {later} more order{'s' if later > 1 else ''} to {orders[-1].day}" if later else ""
    return f"- {way}: {first}; {uses}{_left_over(orders, whole.together.all_doses)}{more}."


def way_in_short(whole: WholeSite, way: str) -> str:
    """Return how much of a way is ordered first, else how much of it goes on, or its name alone."""
    orders = _orders_of(whole, way)
    if orders:
        return f"{quantity_told(_first_of(orders))} of {way}"
    doses = [dose for dose in whole.together.all_doses if dose.way == way]
    return f"{doses[0].material.told(sum(of.loose for of in doses), 2)} of {way}" if doses else way


def _orders_of(whole: WholeSite, way: str) -> list[PlacedOrder]:
    return [placed for placed in whole.bill.orders if placed.way.name == way]


def _first_of(orders: Sequence[PlacedOrder]) -> list[PlacedOrder]:
    return [placed for placed in orders if placed.day == orders[0].day]


def begins(whole: WholeSite, way: str) -> date:
    """Return the day by which a way is ordered first, or on which it goes on first where it is not bought."""
    orders = _orders_of(whole, way)
    if orders:
        return order_day(orders[0].way, orders[0].day, whole.together.answer.site)
    return min((dose.day for dose in whole.together.all_doses if dose.way == way), default=date.max)


def _left_over(orders: Sequence[PlacedOrder], doses: Iterable[Application]) -> str:
    """Return how much the first order of a way leaves over, where it is much of a load or of a bulk order.

    What goes on of it before the next order is no surplus.
    """
    first, *later = orders
    if first.way.selling.word == "bag":
        return ""
    joined, again = first.day + judged_time("orders_joined"), later[0].day if later else date.max
    used = sum(dose.loose for dose in doses if dose.way == first.way.name and joined < dose.day < again)
    left = first.order.leftover - used
    load = first.way.selling.volume if first.way.selling.word == "load" else None
    if left < judgement("left_over_told") * (load or first.order.volume):
        return ""
    return f", {first.way.material.told(left, 0)} left over"


def for_what(barrow: float, parts: Sequence[Part], way: str) -> str:
    """Return a need, the places that get some, what is put on first of a way, and later.

    A plan may have many parts for one need. Nothing where nothing is ever put on.
    """
    need, decisions = parts[0].need, [part.decision for part in parts]
    doses = [dose for decision in decisions for dose in decision.doses if dose.way == way]
    if not doses:
        later = [dose for decision in decisions for dose in decision.later if dose.way == way]
        served = [of.place for decision in decisions for of in decision.servings]
        if not later and all(decision.feasible for decision in decisions):
            closed = max((of.ready_on for of in decisions if of.founds and of.ready_on), default=None)
            return f"plants {need} {_where(served)}, closed by {closed}" if closed else ""
        if later:
            return f"{need} {_where(dose.place for dose in later)}: from {min(dose.day for dose in later)} on"
        return f"{need} {_where(served)}: nothing goes on"
    days = sorted({dose.day for dose in doses})
    soon = days[0] + judged_time("orders_joined")
    at_first, more = [[dose for dose in doses if (dose.day > soon) is late] for late in (False, True)]
    first = f"{need} {_where(dose.place for dose in at_first)}, {_told(barrow, at_first)} from {days[0]}"
    if not more:
        return first
    others = {dose.place.name for dose in more} - {dose.place.name for dose in at_first}
    where = f" on {_where(dose.place for dose in more)}" if others else ""
    return f"{first}, {_told(barrow, more)} more{where} to {days[-1]}"


def _where(places: Iterable[Place]) -> str:
    return named(place.name for place in places)


def named(names: Iterable[str]) -> str:
    """Return names, each once: two, and how many more.

    >>> named(["long beds", "plums", "long beds", "pears", "figs"])
    'long beds, plums and 2 more'
    """
    names = list(dict.fromkeys(names))
    return ", ".join(names[:2]) + (f" and {len(names) - 2} more" if len(names) > 2 else "")


def _told(barrow: float, doses: Sequence[Application]) -> str:
    """Return how much some doses of one stuff are: by weight what is sold so, else by volume and barrows."""
    loose, stuff = sum(dose.loose for dose in doses), doses[0].material
    if stuff.sort.as_sold:
        return stuff.told(loose, 0)
    loads = round_up(loose / barrow)
    return f"{stuff.told(loose, 0)} ({loads} barrow{'s' if loads > 1 else ''})"
