"""What is bought: a seller as a supply, and draws on sellers joined into orders."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any, NamedTuple

from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.costs.order import (
    Order,
    brought_together,
    order,
    ordered,
    price_by_volume,
    step_of,
)
from barrowful.measures.dates import Step
from barrowful.measures.text import written_amount
from barrowful.site.carried import AS_IT_IS, DIGITS, Carried
from barrowful.site.records import HistoryEntry, Site
from barrowful.site.ways import Buy
from barrowful.soil.application import Application
from barrowful.supplies.flow import OUTSIDE
from barrowful.supplies.lot import Lot, yearly
from barrowful.supplies.supply import Cost, Draw, Supply, wet_of
from barrowful.supplies.taken import SPECK, after_taking, takes


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


def place_orders(draws: Iterable[Draw], currency: str, known: Placed | None = None) -> list[PlacedOrder]:
    """Return the orders that bring what is drawn, by day.

    Draws on one seller soon after the first share an order on the first day, and its deliveries: one load
    serves all the places, and the heap, that want it. What is left over serves the next draw while it keeps.
    Of draws that are kept, those of one seller are placed once.
    """
    known, placed = {} if known is None else known, list[PlacedOrder]()
    for own in with_one_seller(draws):
        key = tuple([id(draw) for group in own for draw in group])
        if key not in known:
            known[key] = _of_seller(own, currency)
        placed += known[key]
    return sorted(placed, key=lambda one: one.day)


def with_one_seller(draws: Iterable[Draw]) -> list[list[list[Draw]]]:
    """Return draws by seller, those that share an order and its deliveries together, in the order of days."""
    together = judged_time("orders_joined")
    groups: dict[tuple[str, str], list[list[Draw]]] = {}
    for draw in sorted(draws, key=lambda draw: draw.day):
        own = groups.setdefault(draw.way.sold_by, [])
        if own and draw.day - own[-1][0].day <= together and _can_be_with(draw, own[-1][0]):
            own[-1].append(draw)
        else:
            own.append([draw])
    return [*groups.values()]


def _can_be_with(draw: Draw, first: Draw) -> bool:
    """Say whether a draw can come on the day of another: what takes longer cannot be there earlier."""
    return draw.day == first.day or draw.way.lead.years <= first.way.lead.years


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
    if day - left.day > judged_time("leftover_keeps"):
        left, too_old = Leftover(0.0, left.day), left.loose
    wanted = sum(draw.loose for draw in draws)
    made = order(way, wanted - left.loose, currency) if wanted > left.loose * (1 + 1e-9) else None
    if made is None:
        leftovers[way.name] = Leftover(max(0.0, left.loose - wanted), left.day)
        return None
    leftovers[way.name] = Leftover(made.leftover, day)
    needs = tuple(dict.fromkeys(need for draw in draws for need in draw.needs))
    bought_for = too_old > SPECK and _is_less(way, wanted - too_old, made, currency)
    return PlacedOrder(day, way, made, needs, too_old if bought_for else 0.0, too_old)


def _is_less(way: Buy, wanted: float, made: Order, currency: str) -> bool:
    """Say whether what is wanted [loose m3] would be a smaller order than the one that is made, or none."""
    less = order(way, wanted, currency) if wanted > SPECK else None
    return less is None or less.quantity < made.quantity


def least_cash(way: Buy, loose: float) -> Decimal:
    """Return what a loose volume [m3] costs at the seller's price, with no step, minimum or delivery."""
    return price_by_volume(way) * Decimal(str(loose))


#: The conditions of cautions that buying itself brings about.
BUYING = frozenset(
    {
        *("bag too heavy", "bag for a machine", "over payload", "own collection"),
        *("brought by lorry", "on the road", "unknown chip"),
    }
)


class Purchase(Supply[Buy]):
    """A seller: as much as is ordered, first after the lead time and then each year that day."""

    limited = False
    hazard_words = Supply.hazard_words | BUYING

    def __init__(self, way: Buy, site: Site, drawn: Mapping[str, Supply[Any]]) -> None:
        super().__init__(way, site, drawn)
        self.material = way.material
        self.first = way.lead.after(site.start)

    def lots(self, until: date) -> list[Lot]:
        return yearly(self.first, until, math.inf)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        return Cost(tuple(Draw(day, self.way, loose) for day, loose in sorted(draws.items())))

    @property
    def lies_there(self) -> float:
        return self.way.lies_there

    @property
    def price_by_volume(self) -> float:
        return float(price_by_volume(self.way))

    def least_cash(self, loose: float) -> Decimal:
        return least_cash(self.way, max(0.0, loose - self.lies_there))

    def carried_on(self, day: date) -> Carried:
        """Return what is left before a day of what came since the start, and that no more came."""
        entries = [of for of in self.site.done_by(self.name) if self.site.start <= of.day < day]
        carried = self._left_over(day, entries)
        last = next((entry for entry in reversed(entries) if entry.brought), None)
        if last is None or not last.ends:
            return carried
        ended = f"{self.name}: no more of it came on {last.day}; where none comes again, take the way out"
        return carried._replace(told=". ".join(filter(None, (carried.told, ended))))

    def _left_over(self, day: date, entries: Sequence[HistoryEntry]) -> Carried:
        """Return what is left before a day of what came by some entries, while it keeps.

        A delivery may be logged after some of it was put on: what is used is of all that came by the day.
        What of it a heap took is not in the history, and what came may not be: then a sentence says so.
        """
        if self.material.sort.spoils:
            return AS_IT_IS
        taken = [entry for entry in entries if takes(entry)]
        came = [Lot(entry.day, entry.loose) for entry in entries if entry.brought]
        used = [replace(entry, day=day) for entry in taken]
        lots, lacking = after_taking([Lot(self.way.left_on or self.site.start, self.lies_there), *came], used)
        left = sum(lot.loose for lot in lots if day - lot.day <= judged_time("leftover_keeps"))
        too_old = sum(lot.loose for lot in lots) - left
        told_of_all = any(not entry.place for entry in taken)
        took = "" if told_of_all else next((f" less what {heap} took" for heap in self._heaps_built(day)), "")
        if took and left > SPECK:
            told = f"{self.name}: {self._written(left)} of it is left{took}; measure it, and {self._add()}"
            return Carried(keys={"left": None}, told=told)
        unknown = lacking > (1 - judgement("as_good_as_done")) * sum(entry.loose for entry in taken)
        told = self._may_lie_there(lacking, took) if unknown else self._came_untold(entries)
        if too_old > SPECK and not told:
            told = (
                f"{self.name}: {self._written(too_old)} is left out as too old; if it is good, {self._add()}"
            )
        if abs(left - self.lies_there) <= SPECK:
            return Carried(told=told)
        return Carried(keys={"left": self._written(left) if left > SPECK else None}, told=told)

    def _came_untold(self, entries: Sequence[HistoryEntry]) -> str:
        """Return that the history does not tell how much came, or nothing."""
        day = next(
            (entry.day for entry in entries if entry.brought and not entry.loose and not entry.ends), None
        )
        if day is None:
            return ""
        return (
            f"{self.name}: how much came on {day} is not in the history; look what is left, and {self._add()}"
        )

    def _heaps_built(self, day: date) -> Iterator[str]:
        """Yield the heaps that draw on it and were built since the start, before a day."""
        for way in self.site.ways:
            built = (entry.day for entry in self.site.done_by(way.name) if entry.built)
            if self.name in way.draws_from and any(self.site.start <= of < day for of in built):
                yield way.name

    def _may_lie_there(self, put_on: float, took: str) -> str:
        """Return what an order may have left over of which the history only tells what was put on [m3]."""
        made = order(self.way, put_on, self.site.currency)
        if made is None or made.leftover <= SPECK:
            return ""
        came, left = ordered(made.quantity, made.unit), self._written(made.leftover)
        return (
            f"{self.name}: {self._written(put_on)} more was put on than the history has as brought; if {came}"
            f" came, {left}{took} may lie there: look, and {self._add(left)}"
        )

    def _add(self, left: str = "...") -> str:
        """Return how what is left is written."""
        return f'write "left: {left}" under its buy'

    def _written(self, loose: float) -> str:
        """Return a loose volume [m3] of it as a site file has it, by weight where it is sold so."""
        weighed = self.way.selling.volume is None
        volume, mass = (None, self.material.wet_mass(loose)) if weighed else (loose, None)
        return written_amount(volume, mass, DIGITS)

    @property
    def earliest(self) -> date | None:
        return self.first

    def hazards(self, doses: Sequence[Application], orders: Sequence[Order]) -> Iterator[str]:
        way = self.way
        yield from super().hazards(doses, orders)
        mass = way.bag_mass or 0.0
        if mass > judgement("machine_bag"):
            yield "bag for a machine"
        elif mass > judgement("heavy_bag"):
            yield "bag too heavy"
        own = way.box is not None or (way.payload is not None and not way.delivery)
        if own and way.payload is not None and any(order.trips > 1 for order in orders):
            yield "over payload"
        if own:
            yield "own collection"
        if not way.collected and (way.selling.word != "bag" or way.delivery):
            yield "brought by lorry"
        if way.on_public_ground:
            yield "on the road"
        if self.of_unknown_trees:
            yield "unknown chip"

    @property
    def sold_in_wholes(self) -> bool:
        way = self.way
        rooms = way.truck is not None or way.payload is not None or way.box is not None
        return bool(step_of(way)) or rooms or way.selling.word == "load"

    @property
    def price_by_mass(self) -> float:
        sold = self.way.selling
        return float(self.way.price) / (sold.mass or wet_of(self.material, sold.volume or 1.0))

    @property
    def source(self) -> str:
        return OUTSIDE


def order_day(seller: Buy, needed: date, site: Site) -> date:
    """Return the last day to order for a delivery on a day; before the start only where that is too late."""
    lead = Step(months=-seller.lead.months, days=-seller.lead.days)
    if needed < seller.lead.after(site.start):
        return lead.after(needed)
    return max(lead.after(needed), site.start)
