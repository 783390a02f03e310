"""Draws on sellers joined into orders: what is brought on which day, and what it leaves over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from barrowful.costs.order import Order, brought_together, order
from barrowful.measures.dates import Step
from barrowful.site.keeping import left_over_keeps, order_shared
from barrowful.site.records import Site
from barrowful.site.ways import Buy
from barrowful.supplies.supply import Draw
from barrowful.supplies.taken import SPECK


class PlacedOrder(NamedTuple):
    """An order of a seller for a day, and the needs it is for.

    ``too_old`` is what is left over of one before that does not count any more, and would have made this one
    smaller, or none [loose m3]. ``dropped`` is all that does not count any more, ``rest`` what of this one is
    left after the last use of it.
    """

    day: date
    way: Buy
    order: Order
    needs: tuple[str, ...] = ()
    too_old: float = 0.0
    dropped: float = 0.0
    rest: float = 0.0


#: The orders of one seller by where the draws are in memory, for whoever keeps these.
Placed = dict[tuple[int, ...], list[PlacedOrder]]


def place_orders(draws: Iterable[Draw], site: Site, known: Placed | None = None) -> list[PlacedOrder]:
    """Return the orders that bring what is drawn, by day.

    Draws on one seller soon after the first share an order on the first day, and its deliveries: one load
    serves all the places, and the heap, that want it. What is left over serves the next draw while it keeps.
    Of draws that are kept, those of one seller are placed once.
    """
    known, placed = {} if known is None else known, list[PlacedOrder]()
    for own in with_one_seller(draws, site.start):
        key = tuple([id(draw) for group in own for draw in group])
        if key not in known:
            known[key] = _of_seller(own, site.currency)
        placed += known[key]
    return sorted(placed, key=lambda one: one.day)


def with_one_seller(draws: Iterable[Draw], start: date) -> list[list[list[Draw]]]:
    """Return draws by seller, those that share an order and its deliveries together, in the order of days.

    What is ordered from the ``start`` on is there after the seller's lead, and not earlier.
    """
    groups: dict[tuple[str, str], list[list[Draw]]] = {}
    for draw in sorted(draws, key=lambda draw: draw.day):
        own = groups.setdefault(draw.way.sold_by, [])
        soon = own and draw.day - own[-1][0].day <= order_shared(draw.way.material)
        if soon and _can_be_with(draw, own[-1][0], start):
            own[-1].append(draw)
        else:
            own.append([draw])
    return [*groups.values()]


def _can_be_with(draw: Draw, first: Draw, start: date) -> bool:
    """Say whether a draw can come on the day of another: it can be there by then, or as soon as that can."""
    lead = draw.way.lead
    return draw.day == first.day or lead.years <= first.way.lead.years or lead.after(start) <= first.day


def _of_seller(groups: list[list[Draw]], currency: str) -> list[PlacedOrder]:
    """Return one seller's orders, each less what the one before of the same way left over."""
    placed: list[PlacedOrder] = []
    leftovers = {draw.way.name: Leftover.of(draw.way) for group in groups for draw in group}
    for group in groups:
        ways = {draw.way.name: draw.way for draw in group}
        made = [_of_way(way, group, leftovers, currency) for way in ways.values()]
        of_day = [one for one in made if one is not None]
        if len(of_day) < 2:
            placed += of_day
            continue
        shared = brought_together([(one.way, one.order) for one in of_day], currency)
        placed += [one._replace(order=order) for one, order in zip(of_day, shared, strict=True)]
    return _with_rests(placed, leftovers)


def _with_rests(placed: Sequence[PlacedOrder], leftovers: Mapping[str, Leftover]) -> list[PlacedOrder]:
    """Return orders in turn with what of each is left after its last use: what the next of its way drops."""
    rests, found = {name: left.loose for name, left in leftovers.items()}, list[PlacedOrder]()
    for one in reversed(placed):
        found.append(one._replace(rest=rests[one.way.name]))
        rests[one.way.name] = one.dropped
    return found[::-1]


class Leftover(NamedTuple):
    """What an order left over [loose m3], and the day it came."""

    loose: float
    day: date

    @classmethod
    def of(cls, way: Buy) -> Leftover:
        """Return what is left of what came before the start, counted from that on."""
        return cls(way.lies_there, way.left_on or date.max)


def _of_way(way: Buy, group: list[Draw], leftovers: dict[str, Leftover], currency: str) -> PlacedOrder | None:
    """Return the order for the draws on a way in a group, less what is left over while it keeps."""
    day, draws = group[0].day, [draw for draw in group if draw.way.name == way.name]
    left, too_old = leftovers[way.name], 0.0
    if day - left.day > left_over_keeps(way.material):
        left, too_old = Leftover(0.0, left.day), left.loose
    wanted = sum(draw.loose for draw in draws)
    made = order_beyond(way, wanted, left.loose, currency)
    if made is None:
        leftovers[way.name] = Leftover(max(0.0, left.loose - wanted), left.day)
        return None
    leftovers[way.name] = Leftover(made.leftover, day)
    needs = tuple(dict.fromkeys(need for draw in draws for need in draw.needs))
    bought_for = too_old > SPECK and _is_less(way, wanted - too_old, made, currency)
    return PlacedOrder(day, way, made, needs, too_old if bought_for else 0.0, too_old)


def order_beyond(way: Buy, wanted: float, left: float, currency: str) -> Order | None:
    """Return the order for what is wanted beyond what is left [loose m3]; None where that is enough."""
    return order(way, wanted - left, currency) if wanted > left * (1 + 1e-9) else None


def _is_less(way: Buy, wanted: float, made: Order, currency: str) -> bool:
    """Say whether what is wanted [loose m3] would be a smaller order than the one that is made, or none."""
    less = order(way, wanted, currency) if wanted > SPECK else None
    return less is None or less.quantity < made.quantity


def order_day(seller: Buy, needed: date, site: Site) -> date:
    """Return the last day to order for a delivery on a day; before the start only where that is too late."""
    lead = Step(months=-seller.lead.months, days=-seller.lead.days)
    if needed < seller.lead.after(site.start):
        return lead.after(needed)
    return max(lead.after(needed), site.start)
