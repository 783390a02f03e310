"""What may harm in any dose: dug through mulch or among roots, or much nitrogen at once."""

from __future__ import annotations

from collections.abc import Iterator

from barrowful.catalogue.judgements import judgement
from barrowful.ground import amount
from barrowful.needs.doses import SLACK_SHARE, nitrogen_of
from barrowful.soil.application import Application

THROUGH_MULCH, AMONG_ROOTS = "dug through mulch", "dug among roots"
AT_ONCE, ON_A_RING = "much nitrogen at once", "much nitrogen on a ring"
#: The conditions of cautions that a dose may bring about.
WORDS = frozenset({THROUGH_MULCH, AMONG_ROOTS, AT_ONCE, ON_A_RING})


def hazards_of(dose: Application) -> Iterator[str]:
    """Yield the conditions of cautions that hold for a dose by itself."""
    place = dose.place
    if dose.dug and place.need("cover"):
        yield THROUGH_MULCH
    if dose.dug and place.kind in {"tree", "row"}:
        yield AMONG_ROOTS
    ring = place.kind == "tree"
    most_at_once = judgement("nitrogen_on_ring" if ring else "nitrogen_at_once")
    if nitrogen_of(dose) > amount.mass_on(place.total_area, most_at_once) * (1 + SLACK_SHARE):
        yield ON_A_RING if ring else AT_ONCE
