"""The order sheet: what to order of whom by when, and who gets which part of each order."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import cached_property

from barrowful.answers.begun_plan import begun, with_needs_begun
from barrowful.answers.buying import with_those_of_orders
from barrowful.answers.cautions import CautionInForce, cautions_for
from barrowful.answers.choices import WholeSite, cheapest, of_way, your_plan
from barrowful.answers.instead import lacking_of_feed, left_out_alike
from barrowful.answers.option import Option
from barrowful.answers.options import Answer, options
from barrowful.answers.order_lines import OrderLine, order_lines
from barrowful.answers.order_totals import Month, Total, by_month, by_seller, total
from barrowful.answers.plan_warnings import over_limits, plan_warnings
from barrowful.answers.shortages import Allotment, allotments
from barrowful.answers.together import doses_by_way
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import CannotMeet, did_you_mean
from barrowful.site.records import Site
from barrowful.soil.application import Application
from barrowful.supplies.bags import BreakEven, break_evens
from barrowful.supplies.supply import Payment

#: What the totals of an order sheet are of.
FIRST_YEAR, HORIZON = "first twelve months", "horizon"
NOTHING_DUE = "Nothing is to be ordered or paid for"


@fixed(kw_only=False)
class Selection:
    """What is followed: the plan, one way, or the cheapest; with what the grower should know of it."""

    whole: WholeSite
    warnings: list[str]
    remarks: list[str]
    file: Site | None = None  #: the site with all of its history, where it is asked for

    @property
    def answer(self) -> Answer:
        """Return the options it is chosen from."""
        return self.whole.together.answer

    @property
    def title(self) -> str:
        """Return what it is called."""
        return self.whole.title if self.whole.together.parts or self.answer.site.plan else "nothing"

    @cached_property
    def chosen(self) -> list[Option]:
        """Return what is followed, as options."""
        return self.whole.together.options()


@fixed
class Sheet:
    """Orders, other payments, shares and bag-against-bulk of some selection, and what it comes to.

    ``until`` is the day before which an order is to be placed to stand here; None for every one. ``lines``
    are those of every order.
    """

    lines: list[OrderLine]
    orders: list[OrderLine]
    payments: list[Payment]
    shares: list[Application]
    totals: list[Total]
    break_evens: list[BreakEven]
    selection: Selection
    cautions: list[CautionInForce]
    until: date | None

    @property
    def sellers(self) -> list[Total]:
        """Return what each seller's orders come to."""
        return by_seller(self.orders)

    @cached_property
    def short(self) -> list[Allotment]:
        """Return who gets what of each way that there is too little of."""
        return allotments(self.selection.whole)

    @property
    def months(self) -> list[Month]:
        """Return the months in which money is due."""
        return by_month(self.orders, self.payments)


def decide(site: Site, way: str = "", partial: bool = False) -> Selection:
    """Return what to follow; raise :class:`CannotMeet` for an unknown way."""
    names = [of.name for of in site.ways]
    if way and way not in names:
        raise CannotMeet(f'there is no way "{way}" in this site file{did_you_mean(way, names)}')
    if way:
        return _selection(of_way(options(with_needs_begun(site)), way, partial), site)
    answer = options(begun(site))
    if site.plan:
        whole = your_plan(answer)
        return Selection(whole, plan_warnings(whole), left_out(whole))
    return _selection(cheapest(answer, partial), site)


def _selection(whole: WholeSite, file: Site) -> Selection:
    return Selection(whole, over_limits(whole), left_out(whole), file)


def left_out(whole: WholeSite) -> list[str]:
    """Return sentences on each kind of need that is not met everywhere: where, why, what would serve.

    Places that get a part of what they need have one of their own.
    """
    alike = [(kind, places) for kind in whole.unmet for places in left_out_alike(whole, kind)]
    return [_left_out(whole, kind, places) for kind, places in alike]


def _left_out(whole: WholeSite, kind: str, places: Sequence[str]) -> str:
    """Return the sentence on places whose need is not met: the first, how many more, and why it is not."""
    first = places[0] + (f" and {len(places) - 1} more" if len(places) > 1 else "")
    because, serving = whole.why_left_out(kind, places[0])
    because = (because or "no way meets it") + lacking_of_feed(whole, kind, places[0])
    part_way = whole.part_way(kind, places[0])
    ordered = "what goes part of the way" if part_way and part_way.every_dose else "nothing"
    partly = serving is not None and 0 < serving.share < 1 and ordered == "nothing"
    hint = " (--partial orders what goes part of the way)" if partly else ""
    return f"{kind}, {first}: {because}; {ordered} is ordered for it{hint}."


def every_line(whole: WholeSite) -> list[OrderLine]:
    """Return the lines of every order of what is followed."""
    return order_lines(whole.together.answer, whole.bill.orders, _doses(whole))


def _doses(whole: WholeSite) -> list[Application]:
    """Return all that is put on, by way."""
    return [dose for of_way in doses_by_way(whole.together.parts).values() for dose in of_way]


def sheet(site: Site, way: str = "", partial: bool = False, until: date | None = None) -> Sheet:
    """Return the order sheet of what is followed: of what is to be ordered before a day, or of all."""
    selection = decide(site, way, partial)
    together, bill, end = selection.whole.together, selection.whole.bill, until or date.max
    doses, lines = _doses(selection.whole), every_line(selection.whole)
    paid = sorted(bill.paid, key=lambda payment: payment.day)
    orders = [line for line in lines if line.order_by < end]
    payments = [payment for payment in paid if payment.day < end]
    later = {id(dose) for line in lines if line.order_by >= end for dose in line.doses}
    ordered = {id(dose) for line in orders for dose in line.doses}
    return Sheet(
        lines=lines,
        orders=orders,
        payments=payments,
        shares=[dose for dose in doses if id(dose) in ordered or (id(dose) not in later and dose.day < end)],
        totals=[*([total(FIRST_YEAR, orders, payments)] if until else []), total(HORIZON, lines, paid)],
        break_evens=break_evens(site),
        selection=selection,
        cautions=with_those_of_orders(
            cautions_for(together.answer, selection.chosen),
            ((line.way.name, line.cautions) for line in orders),
        ),
        until=until,
    )


def told(orders: Sheet) -> list[str]:
    """Return what an order sheet comes to, in sentences: all that stands there, and what comes later."""
    site, first, whole = orders.selection.answer.site, orders.totals[0], orders.totals[-1]
    due = [_comes_to(site, first)] if first.orders or first.paid else []
    later, more = whole.orders - first.orders, whole.cash - first.cash
    if not orders.until or not (later or more):
        return due or [f"{NOTHING_DUE}."]
    stands = f"{'Here stands what is to be ordered' if due else NOTHING_DUE} before {orders.until}."
    what = f"{_counted(later, 'more order')} for" if later else "Further payments of"
    further = f"{what} {more:,} {site.currency} by {site.end}: --all shows the whole horizon."
    return [*due, f"{stands} {further}"]


def _comes_to(site: Site, of: Total) -> str:
    """Return the grand total in words."""
    parts = [f"{of.delivery:,} for delivery"] if of.delivery else []
    parts += [f"{of.tax:,} tax"] if of.tax else []
    parts += [f"{of.paid:,} beside the orders"] if of.paid else []
    within = f" ({', '.join(parts)} in it)" if parts else ""
    orders = f"{_counted(of.orders, 'order')} in {_counted(of.trips, 'trip')}"
    hours = f"{of.hours.likely:,.1f} h to fetch and spread what they bring"
    return f"In all: {of.cash:,} {site.currency}{within}; {orders}; {hours}."


def _counted(count: int, word: str) -> str:
    return f"{count:,} {word}{'' if count == 1 else 's'}"
