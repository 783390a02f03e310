"""The lines of an order sheet: each order with what it is for, its day, place, hours, questions, cautions."""

from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Iterable, Sequence
from datetime import date

from barrowful.answers.buying import Minded, minded
from barrowful.answers.costs import collecting_hours, placing_hours
from barrowful.answers.options import Answer
from barrowful.catalogue.questions import Question, questions
from barrowful.costs.labour import Hours
from barrowful.costs.order import Order
from barrowful.measures.fixed import fixed
from barrowful.site.records import Site
from barrowful.site.ways import Buy
from barrowful.soil.application import Application
from barrowful.supplies.placing import PlacedOrder, order_day


@fixed
class OrderLine:
    """One order: the day it is needed, the day to place it, the seller's terms, and what it is for.

    Of one that cannot come in time ``order_by`` lies before the start, and ``earliest`` is the day it can.
    ``doses`` are what it brings to places; ``hours`` are those of fetching, barrowing out and digging in.
    """

    needed: date
    order_by: date
    way: Buy
    order: Order
    currency: str
    needs: tuple[str, ...]
    earliest: date | None = None
    doses: tuple[Application, ...] = ()
    hours: Hours
    drop: str = ""
    questions: tuple[Question, ...] = ()
    cautions: tuple[Minded, ...] = ()

    @property
    def seller(self) -> str:
        """Return who sells it: the seller named, else the way itself."""
        return self.way.seller or self.way.name

    @property
    def allowance(self) -> float | None:
        """Return the share ordered on top for spills and uneven ground; None where a heap takes it all."""
        bare = sum(dose.loose / (1 + dose.need.allowance) for dose in self.doses if dose.need)
        return sum(dose.loose for dose in self.doses) / bare - 1 if bare else None


def order_lines(
    answer: Answer, orders: Sequence[PlacedOrder], doses: Sequence[Application]
) -> list[OrderLine]:
    """Return the line of each order, those of one seller together, the seller to be rung first first."""
    brought = _brought(orders, doses)
    lines = [_line(answer, placed, own) for placed, own in zip(orders, brought, strict=True)]
    first: dict[str, date] = {}
    for line in lines:
        first[line.seller] = min(line.order_by, first.get(line.seller, line.order_by))
    return sorted(
        lines, key=lambda line: (first[line.seller], line.seller, line.order_by, line.needed, line.way.name)
    )


def _brought(orders: Sequence[PlacedOrder], doses: Iterable[Application]) -> list[list[Application]]:
    """Return the doses each order brings: those of its way from its day on, until the next of it comes."""
    brought: list[list[Application]] = [[] for _ in orders]
    days: dict[str, list[tuple[date, int]]] = {}
    for number, placed in enumerate(orders):
        insort(days.setdefault(placed.way.name, []), (placed.day, number))
    for dose in doses:
        of_way = days.get(dose.way, [])
        came = bisect_right(of_way, (dose.day, len(orders)))
        if came:
            brought[of_way[came - 1][1]].append(dose)
    return brought


def _line(answer: Answer, placed: PlacedOrder, doses: Sequence[Application]) -> OrderLine:
    site, way, supply = answer.site, placed.way, answer.supplies[placed.way.name]
    earliest = supply.earliest
    late = earliest is not None and placed.day < earliest
    return OrderLine(
        needed=placed.day,
        order_by=order_day(way, placed.day, site),
        way=way,
        order=placed.order,
        currency=site.currency,
        needs=tuple(dict.fromkeys([*placed.needs, *(dose.kind for dose in doses)])),
        earliest=earliest if late else None,
        doses=tuple(doses),
        hours=collecting_hours([placed]) + placing_hours(site, doses, supply),
        drop=drop_of(way, site),
        questions=questions(way.material, {"origin"} if way.origin else ()),
        cautions=tuple(minded(placed, supply)),
    )


def drop_of(way: Buy, site: Site) -> str:
    """Return where an order is tipped, in words; nothing where that is not said, or one fetches it."""
    place = way.drop_at or ("" if way.collected else site.drop_at)
    if not way.on_public_ground:
        return place
    return f"{way.drop}: {place}" if place else way.drop
