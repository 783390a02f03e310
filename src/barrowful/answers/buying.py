"""Cautions on an order: what buying, fetching and tipping call for, and what must be done weeks ahead."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from barrowful.answers.cautions import CautionInForce, begin_by
from barrowful.catalogue.cautions import Caution, cautions
from barrowful.supplies.placing import PlacedOrder
from barrowful.supplies.purchase import BUYING
from barrowful.supplies.supply import Supply

#: The jobs that come with an order; what belongs to others is told where these are done.
ORDER_JOBS = frozenset({"ask", "order", "delivery", "collect", "test"})


class Minded(NamedTuple):
    """A caution on an order, and by when to begin where it takes time, in words."""

    caution: Caution
    begin: str = ""


def minded(placed: PlacedOrder, supply: Supply[Any]) -> Iterator[Minded]:
    """Yield the cautions of an order, the most serious first, whatever it is for: a place or a heap."""
    hazards = BUYING & frozenset(supply.hazards((), (placed.order,)))
    for caution in cautions():
        of_buying = caution.condition in hazards if caution.condition else "buy" in caution.ways
        if of_buying and caution.jobs & ORDER_JOBS and _is_about(caution, supply):
            yield Minded(caution, begin_by(placed.day, caution, supply.site) if caution.days_before else "")


def _is_about(caution: Caution, supply: Supply[Any]) -> bool:
    """Say whether a caution is about what is bought, wherever it goes."""
    return not (caution.needs or caution.places) and caution.is_about(supply.material)


def with_those_of_orders(
    called: Iterable[CautionInForce], orders: Iterable[tuple[str, Iterable[Minded]]]
) -> list[CautionInForce]:
    """Return the cautions an answer calls for with those of orders, by way, that nothing else calls for."""
    known = {one.caution.key: one for one in called}
    for way, of_order in orders:
        for caution, _ in of_order:
            one = known.get(caution.key, CautionInForce(caution))
            known[caution.key] = one if way in one.ways else one._replace(ways=(*one.ways, way))
    return [known[caution.key] for caution in cautions() if caution.key in known]
