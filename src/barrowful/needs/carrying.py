"""What of a need a season has done: what was put on in it, and what is left of a need done in part."""

from __future__ import annotations

from typing import Any

from barrowful.catalogue.judgements import judgement
from barrowful.measures.telling import of_count
from barrowful.measures.text import in_figures
from barrowful.site.carried import AS_IT_IS, DIGITS, Carried
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done


def since_start(site: Site, place: Place) -> list[Application]:
    """Return what was put on a place in the season that is over."""
    return [dose for dose in done(site, place) if dose.day >= site.start]


def less_by(share: float, place: Place, need: Any, keys: dict[str, tuple[str, float]]) -> Carried:
    """Return a need of which a share is done: gone where that is as good as all, else what is left.

    What it asks for stands under its keys, each with its unit and how many of it the SI unit is. Which of
    several places had theirs is not known: what is left is asked of all.
    """
    told = f"{place.name}: {share:.0%} of the {need.kind} was put on{of_count(share, place.count)}"
    if share >= judgement("as_good_as_done"):
        return gone(share, told)
    if share <= 0:
        return AS_IT_IS
    left = {
        key: f"{in_figures(times * (1 - share) * getattr(need, key), DIGITS)} {unit}"
        for key, (unit, times) in keys.items()
        if getattr(need, key) is not None
    }
    told += "; what is left of it stands in the new file"
    if place.count > 1:
        told += f", asked of all {place.count}: give those that had none a place of their own"
    return Carried(keys=left, told=told)


def gone(share: float, told: str) -> Carried:
    """Return that a need goes of which a share is done, with what is told of it where that is not all."""
    is_all = share >= 1 or f"{share:.0%}" == "100%"
    return Carried(gone=True, told="" if is_all else f"{told}; that is taken as all of it, and it goes")
