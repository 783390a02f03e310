"""The order sheet: what to order of whom by when, and who gets which part of each order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from barrowful.answers.choices import best_whole, fitting, needs_of
from barrowful.answers.combined import combined
from barrowful.answers.options import Answer, Option, make_option, options
from barrowful.answers.together import overdrawn
from barrowful.costs.order import Order
from barrowful.measures.problems import CannotMeet, did_you_mean
from barrowful.needs.decision import Decision
from barrowful.needs.kind import dose_for
from barrowful.needs.registry import decide as decision_for
from barrowful.site.records import Place, PlanLine, Site
from barrowful.site.ways import Buy
from barrowful.soil.application import Application
from barrowful.supplies.purchase import BreakEven, PlacedOrder, break_evens, order_day
from barrowful.supplies.supply import Payment, Supply


@dataclass(frozen=True)
class OrderLine:
    """One order: the day it is needed, the day to place it, the seller's terms and the needs.

    Of one that cannot come in time ``order_by`` lies before the start, and ``earliest`` is the day it can.
    """

    needed: date
    order_by: date
    way: Buy
    order: Order
    needs: tuple[str, ...]
    earliest: date | None = None


@dataclass(frozen=True)
class Selection:
    """What is followed: the plan, one way, or the cheapest; with what the grower should know of it."""

    answer: Answer
    title: str
    chosen: list[Option]
    warnings: list[str]
    remarks: list[str]


@dataclass(frozen=True)
class Sheet:
    """Orders, other payments, shares and bag-against-bulk of some selection."""

    orders: list[OrderLine]
    payments: list[Payment]
    shares: list[Application]
    break_evens: list[BreakEven]
    selection: Selection


def decide(site: Site, way: str = "") -> Selection:
    """Return what to follow; raise :class:`CannotMeet` for an unknown way."""
    names = [one.name for one in site.ways]
    if way and way not in names:
        raise CannotMeet(f'there is no way "{way}" in this site file{did_you_mean(way, names)}')
    answer = options(site)
    if way:
        does = [row for row in answer.options if row.way.name == way and row.acts]
        rows = fitting(answer, does)
        return Selection(answer, way, rows, [], _left_out(site, rows, f"{way} does not meet it"))
    if site.plan:
        rows = [_planned(site, answer, line) for line in site.plan]
        return Selection(
            answer,
            "your plan",
            rows,
            [*(f"plan: {short}" for short in overdrawn(answer, rows)), *_late_lines(site, answer)],
            _left_out(site, rows, "it is not in your plan"),
        )
    best = best_whole(answer)
    rows = list(best.rows) if best else []
    title = best.title if best else "nothing"
    return Selection(
        answer,
        title,
        rows,
        [],
        _left_out(site, rows, "no way that is not used up meets it everywhere in time"),
    )


def _late_lines(site: Site, answer: Answer) -> list[str]:
    """Return a sentence on the lines of the plan that a seller cannot meet: the worst, and how many more."""
    late = [
        (earliest - line.day, line, earliest)
        for line in site.plan
        if line.day is not None
        and (earliest := answer.supplies[line.way].earliest) is not None
        and line.day < earliest
    ]
    if not late:
        return []
    _, worst, earliest = max(late, key=lambda one: one[0])
    more = f" (and {len(late) - 1} more late)" if len(late) > 1 else ""
    return [
        f"plan: {worst.place}, {worst.need} by {worst.way} is wanted on {worst.day}, but comes on {earliest}"
        f" at the soonest when it is ordered on {site.start}{more}"
    ]


def _left_out(site: Site, rows: list[Option], why: str) -> list[str]:
    served = {row.need for row in rows}
    return [f"{kind}: {why}; nothing is ordered for it." for kind in needs_of(site) if kind not in served]


def _planned(site: Site, answer: Answer, line: PlanLine) -> Option:
    """Return the option a line of the plan makes: the grower's own amount and day, or as reckoned."""
    place = site.place(line.place)
    supply = answer.supplies[line.way]
    plan = decision_for(site, line.need, [place], supply)
    if line.amount is not None or line.day is not None:
        doses = _as_written(site, line, place, plan.doses, supply)
        plan = Decision(doses=doses, ready_on=max((dose.day for dose in doses), default=None))
    return make_option(site, line.need, supply, [place], replace(plan, as_written=True))


def _as_written(
    site: Site, line: PlanLine, place: Place, reckoned: Sequence[Application], supply: Supply[Any]
) -> tuple[Application, ...]:
    need = place.need(line.need)
    assert need is not None
    loose = sum(dose.loose for dose in reckoned)
    if line.amount is not None:
        loose = line.amount.loose(supply.material.get("density") or float("nan"))
    lots = supply.lots(site.end)
    first = reckoned[0].day if reckoned else lots[0].day if lots else site.start
    return (dose_for(place, need, supply, line.day or first, loose),) if loose > 0 else ()


def sheet(site: Site, way: str = "") -> Sheet:
    """Return the order sheet of what is followed."""
    selection = decide(site, way)
    whole = combined(selection.answer, selection.chosen)
    shares = [dose for doses in whole.doses.values() for dose in doses]
    orders = [_order_line(site, placed, selection.answer) for placed in whole.orders]
    orders.sort(key=lambda line: (line.order_by, line.way.name))
    return Sheet(orders, sorted(whole.paid, key=lambda one: one.day), shares, break_evens(site), selection)


def _order_line(site: Site, placed: PlacedOrder, answer: Answer) -> OrderLine:
    """Return an order with the last day to place it, and the earliest it can come where it is too late."""
    earliest = answer.supplies[placed.way.name].earliest
    late = earliest is not None and placed.day < earliest
    return OrderLine(
        needed=placed.day,
        order_by=order_day(placed.way, placed.day, site),
        way=placed.way,
        order=placed.order,
        needs=placed.needs,
        earliest=earliest if late else None,
    )
