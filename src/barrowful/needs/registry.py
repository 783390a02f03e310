"""Every kind of need, in the order they are settled: the one list of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from barrowful.needs.cover import Covering
from barrowful.needs.decision import CannotServe, Decision, Serving, refused
from barrowful.needs.dress import Dressing
from barrowful.needs.feed import Feeding
from barrowful.needs.fill import Filling
from barrowful.needs.kind import NeedKind
from barrowful.needs.lime import Liming
from barrowful.needs.raising import Raising
from barrowful.needs.settled import Settled
from barrowful.site.records import Place, Site
from barrowful.supplies.joint import Source

NEEDS: dict[str, NeedKind[Any]] = {
    need.kind: need for need in (Filling(), Liming(), Raising(), Dressing(), Covering(), Feeding())
}


def decide(
    site: Site, kind: str, places: Sequence[Place], supply: Source, settled: Settled | None = None
) -> Decision:
    """Return what one kind of need gets of a supply; a way that cannot serve says why."""
    if supply.stands:
        return _standing(site, places, supply)
    try:
        return NEEDS[kind].decide(site, places, supply, settled)
    except CannotServe as refusal:
        why_not, never = str(refusal), len(places) == 1
        servings = tuple(Serving(place=place, why_not=why_not, refused=never, share=0.0) for place in places)
        return Decision(servings=servings, feasible=False, why_not=why_not)


def serve(site: Site, kind: str, place: Place, supply: Source, settled: Settled) -> Serving:
    """Return what a place gets of a supply beside what is settled, taken from its stock."""
    if supply.stands:
        return _standing(site, [place], supply).servings[0]
    try:
        return NEEDS[kind].suited(site, place, supply, settled)
    except CannotServe as refusal:
        return refused(place, str(refusal))


def _standing(site: Site, places: Sequence[Place], supply: Source) -> Decision:
    """Return the decision of plants that close the ground round their trees, with nothing spread."""
    closes = supply.closes_on
    if closes is None or closes > site.end:
        why_not = "does not close the ground within the horizon"
        unmet = (Serving(place=place, why_not=why_not, share=0.0) for place in places)
        return Decision(servings=tuple(unmet), feasible=False, why_not=why_not)
    ready = max(closes, site.start)
    met = (Serving(place=place, ready_on=ready) for place in places)
    return Decision(servings=tuple(met), ready_on=ready, founds=True)
