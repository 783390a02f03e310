"""What doses cost draw by draw: orders, other money, and hours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from barrowful.answers.costs import handling, placing_hours
from barrowful.measures.draws import nearest_levels
from barrowful.planning.ranges.amounts import Amounts, Drawn
from barrowful.planning.ranges.orders import DrawnOrder, drawn_orders
from barrowful.soil.application import Application, draws_of
from barrowful.supplies.lot import YEAR
from barrowful.supplies.supply import Cost, Draw, Supply


class Share(NamedTuple):
    """The doses of one way, and whether planting it is all there is to it."""

    supply: Supply[Any]
    doses: Sequence[Application]
    founds: bool = False


class DrawnBill(NamedTuple):
    """What doses cost, draw by draw: each order to the last coin."""

    orders: list[DrawnOrder]
    cash: Any
    cash_first_year: Any
    hours: Any


class _Spent(NamedTuple):
    """What a way costs beside spreading, draw by draw."""

    bought: list[Draw]
    paid: Any
    paid_first_year: Any
    hours: Any


def drawn_bill(amounts: Amounts, shares: Iterable[Share], drawn: Drawn) -> DrawnBill:
    """Return what the doses of ways cost together, each order placed once."""
    site, year = amounts.site, YEAR.after(amounts.site.start)
    bought: list[Draw] = []
    paid: Any = 0.0
    early: Any = 0.0
    hours: Any = 0.0
    for share in shares:
        own = [drawn[id(dose)] for dose in share.doses]
        spent = _spent(amounts, share, own, year)
        bought += spent.bought
        paid, early = paid + spent.paid, early + spent.paid_first_year
        hours = hours + spent.hours + placing_hours(site, own, share.supply).likely
    orders = drawn_orders(amounts.draws, bought, site)
    return DrawnBill(
        orders=orders,
        cash=sum((order.cash for order in orders), paid),
        cash_first_year=sum((order.cash for order in orders if order.day < year), early),
        hours=sum((collecting(order) for order in orders), hours),
    )


def collecting(order: DrawnOrder) -> Any:
    """Return the hours of rounds to a seller from whom one collects, and of carrying bags or loading."""
    rounds = (order.way.trip or 0.0) * order.trips
    return rounds + handling(order.way, order.quantity, order.volume).likely


def _spent(amounts: Amounts, share: Share, own: Sequence[Application], year: date) -> _Spent:
    supply, wanted = share.supply, draws_of(share.doses)
    if share.founds or not wanted:
        return _all_alike(supply.founding(1) if share.founds else Cost(), year)
    if not supply.limited:
        return _all_alike(supply.cost(draws_of(own)), year)
    likely = sum(wanted.values())
    times = sum(dose.loose for dose in own) / (likely * amounts.share_of(supply)) if likely else 1.0
    levels, which = nearest_levels(times)
    costs = [supply.cost({day: loose * level for day, loose in wanted.items()}) for level in levels]
    spent = [_all_alike(cost, year) for cost in costs]
    return _Spent(
        bought=_bought([each.bought for each in spent], which),
        paid=which([each.paid for each in spent]),
        paid_first_year=which([each.paid_first_year for each in spent]),
        hours=which([each.hours for each in spent]),
    )


def _all_alike(cost: Cost, year: date) -> _Spent:
    """Return a cost that is the same in every draw but for what is bought and the hours."""
    return _Spent(
        bought=[*cost.bought],
        paid=float(sum(payment.cash for payment in cost.paid)),
        paid_first_year=float(sum(payment.cash for payment in cost.paid if payment.day < year)),
        hours=cost.hours.likely,
    )


def _bought(levels: Sequence[Sequence[Draw]], which: Any) -> list[Draw]:
    """Return what is bought on each day of each way, draw by draw, where each level buys something else."""
    first = {(draw.day, draw.way.name): draw for draws in levels for draw in draws}
    by_level: list[Mapping[tuple[date, str], float]] = []
    for draws in levels:
        loose: dict[tuple[date, str], float] = {}
        for draw in draws:
            key = draw.day, draw.way.name
            loose[key] = loose.get(key, 0.0) + draw.loose
        by_level.append(loose)
    return [draw._replace(loose=which([of.get(key, 0.0) for of in by_level])) for key, draw in first.items()]
