"""Every kind of need, in the order they are settled: the one list of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from barrowful.needs.cover import Covering
from barrowful.needs.decision import CannotServe, Decision
from barrowful.needs.dress import Dressing
from barrowful.needs.feed import Feeding
from barrowful.needs.fill import Filling
from barrowful.needs.kind import NeedKind
from barrowful.needs.raising import Raising
from barrowful.site.records import Place, Site
from barrowful.supplies.supply import Supply

NEEDS: dict[str, NeedKind[Any]] = {
    need.kind: need for need in (Covering(), Dressing(), Raising(), Feeding(), Filling())
}


def decide(site: Site, kind: str, places: Sequence[Place], supply: Supply[Any]) -> Decision:
    """Return the doses of one kind of need by one supply; a way that cannot serve says why."""
    if supply.stands:
        return _standing(site, supply)
    try:
        return NEEDS[kind].decide(site, places, supply)
    except CannotServe as refusal:
        return Decision(feasible=False, why_not=str(refusal))


def _standing(site: Site, supply: Supply[Any]) -> Decision:
    """Return the decision of plants that close the ground round their trees, with nothing spread."""
    closes = supply.closes_on
    if closes is None or closes > site.end:
        return Decision(feasible=False, why_not="does not close the ground within the horizon")
    return Decision(ready_on=max(closes, site.start), founds=True)
