"""What is told of orders: which come first, how much of a way, what is left over, what they do not meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from barrowful.answers.choices import WholeSite
from barrowful.answers.order_lines import OrderLine
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import RAW, Material
from barrowful.costs.order import ordered
from barrowful.site.keeping import left_over_keeps
from barrowful.supplies.placing import PlacedOrder
from barrowful.supplies.taken import SPECK

#: Places, or orders, that are told of in one line.
MOST_TOLD = 4


def order_headline(lines: Sequence[OrderLine]) -> tuple[str, ...]:
    """Return what is to be ordered first, by when; nothing where nothing is."""
    if not lines:
        return ()
    day = min(line.order_by for line in lines)
    due = [
        f"{ordered(line.order.quantity, line.order.unit)} of {line.way.name}"
        for line in lines
        if line.order_by == day
    ]
    more = f" and {len(due) - MOST_TOLD} more" if len(due) > MOST_TOLD else ""
    return (f"Order first, by {day}: {', '.join(due[:MOST_TOLD])}{more}.",)


def quantity_told(orders: Sequence[PlacedOrder]) -> str:
    """Return how much is ordered, in the seller's unit."""
    return ordered(sum((placed.order.quantity for placed in orders), Decimal(0)), orders[0].order.unit)


def too_old_told(orders: Iterable[PlacedOrder]) -> tuple[str, ...]:
    """Return which ways are ordered again although what is left over counts no more, the first of each.

    It is told where it is much of that order, and finished stuff or sold by weight: what still rots is not
    what it was by then.
    """
    again: dict[str, PlacedOrder] = {}
    for placed in orders:
        stuff = placed.way.material
        much = placed.too_old >= judgement("left_over_told") * placed.order.volume
        if much and (stuff.finished or stuff.sort.as_sold):
            again.setdefault(placed.way.name, placed)
    return tuple(
        f"{name}: {placed.way.material.told(placed.too_old)} is left over by {placed.day} and is not counted"
        f" on after {left_over_keeps(placed.way.material).days} days; {_still_good(placed.way.material)}."
        for name, placed in again.items()
    )


def _still_good(stuff: Material) -> str:
    """Return what may be done with stuff that is left over and too old to count."""
    if stuff.has(RAW) and not stuff.sort.as_sold:
        return "it is rotted and less by then: measure it, and order so much less"
    return "kept covered it may still be good, and less is ordered then"


def used_later_told(orders: Sequence[PlacedOrder]) -> tuple[str, ...]:
    """Return what is left of ways after the last use, where later uses take of what orders leave over."""
    used = {of.way.name for of in orders if of.order.leftover > of.rest + SPECK}
    if not used:
        return ()
    rests = dict[str, float]()
    for of in orders:
        if of.way.name in used:
            rests[of.way.name] = rests.get(of.way.name, 0.0) + of.rest
    stuffs = {of.way.name: of.way.material for of in orders}
    left = [f"{stuffs[name].told(rest, 2)} of {name}" for name, rest in rests.items() if rest > SPECK]
    none = [name for name, rest in rests.items() if rest <= SPECK]
    told = [*left, *([f"nothing of {' and '.join(none)}"] if none else [])]
    return (f"What is left over serves later uses; after the last of these is left: {', '.join(told)}.",)


def unmet_headline(whole: WholeSite) -> tuple[str, ...]:
    """Return which kinds of need what is followed does not meet everywhere; nothing where it meets all."""
    return (f"Not met everywhere: {', '.join(whole.unmet)}; why stands at the end.",) if whole.unmet else ()
