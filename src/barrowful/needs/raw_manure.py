"""Raw manure waits for the harvest: from which day on it may go on a place."""

from __future__ import annotations

from datetime import date, timedelta

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.judgements import usual_frosts
from barrowful.catalogue.materials import Material
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.site.records import Climate, Place

#: A day that never comes.
NEVER = date(date.max.year - 1, 1, 1)


def waits_for_harvest(place: Place, material: Material) -> bool:
    """Say whether a material has to wait for the harvest of a place: where that is told, raw manure has."""
    return place.harvest_from is not None and material.has("raw")


def open_from(climate: Climate, hemisphere: str, place: Place, material: Material, day: date) -> date:
    """Return the first day, from a day on, on which a material may go on: raw manure waits for a harvest.

    It is barred so long before the first harvest, and from then to the first frost, while the crop stands:
    where that is all the year, it is never open.
    """
    if place.harvest_from is None or not waits_for_harvest(place, material):
        return day
    wait, ends = timedelta(days=round(_wait(place))), first_frost(climate, hemisphere)
    for year in range(day.year - 1, day.year + 2):
        harvest, frost = _in(year, place.harvest_from), _in(year, ends)
        frost = frost if frost > harvest else _in(year + 1, ends)
        if frost >= _in(harvest.year + 1, place.harvest_from) - wait - timedelta(days=1):
            return NEVER
        if harvest - wait <= day <= frost:
            day = frost + timedelta(days=1)
    return day


def _wait(place: Place) -> float:
    """Return the days between raw manure and the harvest."""
    return (most("raw_manure", "eaten_raw" if place.eaten_raw else "other") or 0.0) * DAYS_PER_YEAR


def first_frost(climate: Climate, hemisphere: str) -> tuple[int, int]:
    """Return month and day of the first frost; the usual one where the file has none."""
    return climate.first_frost or usual_frosts(hemisphere)[1]


def _in(year: int, day: tuple[int, int]) -> date:
    """Return a day of the year, by month and number, in one year."""
    return date(year, *day)
