"""Tender crops: planted out after the last frost, and fed with quick nitrogen then."""

from __future__ import annotations

from barrowful.site.records import Place, Site


def is_tender(site: Site, place: Place) -> bool:
    """Say whether a crop grows on a place that is planted out after the last frost, both frosts being stated.

    What is picked while it freezes grows under glass, and is not.
    """
    last, first = site.climate.last_frost, site.climate.first_frost
    if last is None or first is None or not any(crop.tender for crop in place.grown):
        return False
    picked = place.harvest_from or first
    return last < picked <= first if last < first else picked > last or picked <= first
