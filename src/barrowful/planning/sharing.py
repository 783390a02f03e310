"""What each line of a plan costs: its part of the orders, payments and hours of its way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from barrowful.answers.choices import WholeSite
from barrowful.answers.costs import collecting_hours, cost_of, placing_hours
from barrowful.answers.together import doses_by_way
from barrowful.catalogue.materials import Material
from barrowful.measures.fixed import fixed
from barrowful.measures.money import rounded
from barrowful.site.records import Place
from barrowful.soil.application import Application
from barrowful.supplies.supply import Cost


@fixed(eq=True)
class PlanLineCost:
    """A line of a plan with its part of what all costs; the parts add up to the whole."""

    place: Place
    need: str
    way: str
    material: Material
    day: date | None  #: None where the way stands there
    loose: float  #: m3
    cash: Decimal
    hours: float
    barrow: float  #: m3


def line_costs(whole: WholeSite) -> list[PlanLineCost]:
    """Return what a plan puts on, by day and place, and what stands there, each with its cash and hours."""
    together, site = whole.together, whole.together.answer.site
    cash, hours = _of_ways(whole)
    drawn = {way: sum(dose.loose for dose in doses) for way, doses in doses_by_way(together.parts).items()}
    standing = [
        (part, of.place) for part in together.parts if part.decision.founds for of in part.decision.servings
    ]
    doses = sorted(together.all_doses, key=lambda dose: (dose.day, dose.place.name, dose.kind, dose.way))
    share = [dose.loose / drawn[dose.way] for dose in doses]
    weights = [cash[dose.way] * part for dose, part in zip(doses, share, strict=True)]
    weights += [cash[part.way] for part, _ in standing]
    money = divided(whole.bill.cash, weights, site.currency)
    lines = [
        PlanLineCost(
            place=dose.place,
            need=dose.kind,
            way=dose.way,
            material=dose.material,
            day=dose.day,
            loose=dose.loose,
            cash=of,
            hours=hours[dose.way] * part + _placing(whole, dose),
            barrow=site.labour.barrow,
        )
        for dose, part, of in zip(doses, share, money, strict=False)
    ]
    return lines + [
        PlanLineCost(
            place=place,
            need=part.need,
            way=part.way,
            material=part.source.materials[0],
            day=None,
            loose=0.0,
            cash=of,
            hours=hours[part.way],
            barrow=site.labour.barrow,
        )
        for (part, place), of in zip(standing, money[len(lines) :], strict=True)
    ]


def _placing(whole: WholeSite, dose: Application) -> float:
    supply = whole.together.answer.supplies[dose.way]
    return placing_hours(whole.together.answer.site, [dose], supply).likely


def _of_ways(whole: WholeSite) -> tuple[dict[str, float], dict[str, float]]:
    """Return the money for each way, and its hours beside putting it on; orders go by what is drawn."""
    together = whole.together
    founded = {part.way for part in together.parts if part.decision.founds}
    costs: dict[str, Cost] = {
        way: cost_of(together.answer.supplies[way], doses, way in founded)
        for way, doses in doses_by_way(together.parts).items()
    }
    drawn: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for way, cost in costs.items():
        for draw in cost.bought:
            drawn[draw.way.name][way] += draw.loose
    cash = {way: float(sum(payment.cash for payment in cost.paid)) for way, cost in costs.items()}
    hours = {way: cost.hours.likely for way, cost in costs.items()}
    for placed in whole.bill.orders:
        by_way = drawn[placed.way.name]
        for way, loose in by_way.items():
            share = loose / sum(by_way.values())
            cash[way] += share * float(placed.order.cash)
            hours[way] += share * collecting_hours([placed]).likely
    return cash, hours


def divided(money: Decimal, weights: Sequence[float], currency: str) -> list[Decimal]:
    """Return money divided by weights in whole coins; the parts add up to it.

    >>> divided(Decimal("10.00"), [1.0, 1.0, 1.0], "EUR")
    [Decimal('3.33'), Decimal('3.34'), Decimal('3.33')]
    """
    whole, parts, told, so_far = sum(weights), list[Decimal](), Decimal(0), 0.0
    for weight in weights:
        so_far += weight
        until = rounded(money * Decimal(str(so_far / whole)), currency) if whole else Decimal(0)
        parts.append(until - told)
        told = until
    return parts
