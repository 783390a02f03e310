"""Cover crops: when to sow, when to end, what sowing late or ending early costs in growth."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from barrowful.catalogue.judgements import judged_time, judgement, usual_frosts
from barrowful.ground import growth
from barrowful.ground.amount import mass_on
from barrowful.measures.dates import DAYS_PER_YEAR, Step, date_after, years_between
from barrowful.site.records import Site
from barrowful.site.ways import Grow

#: The frost each season's sowing is reckoned from, and whether it comes before or after it.
SOWING = {"autumn": ("first", -1), "summer": ("last", 1), "spring": ("last", -1)}


class Sowing(NamedTuple):
    """One sowing: the day it should be sown by, is sown, ends, and when planting may follow."""

    best: date
    sown: date
    ended: date
    plant_from: date
    dry: float

    @property
    def weeks_late(self) -> float:
        """Return weeks sown after the best day."""
        return max(0.0, (self.sown - self.best).days / 7)

    @property
    def weeks(self) -> float:
        """Return the weeks it keeps the ground."""
        return (self.ended - self.sown).days / 7


def frosts(site: Site) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return last and first frost as (month, day); usual ones where the file has none."""
    climate = site.climate
    if climate.last_frost is not None and climate.first_frost is not None:
        return climate.last_frost, climate.first_frost
    return usual_frosts(site.hemisphere)


def best_sowing(way: Grow, site: Site, near: date) -> date:
    """Return the best sowing day for a crop sown near a date, of the seasons the plant is sown in.

    It is the last one that is not too far ahead: what is sown long after it is late.
    """
    last, first = frosts(site)
    days = []
    for season in way.plant.sown_in or ("autumn",):
        which, side = SOWING[season]
        for year in (near.year - 1, near.year, near.year + 1):
            frost = date(year, *(first if which == "first" else last))
            days.append(frost + side * judged_time(f"sow_{season}"))
    return max(day for day in days if day <= near + judged_time("sown_early"))


def sowings(way: Grow, site: Site) -> list[Sowing]:
    """Return each year's sowing that ends within the horizon."""
    found: list[Sowing] = []
    count = 0
    while True:
        sowing = _sowing(way, site, Step(months=12 * count))
        if sowing.ended > site.end:
            return found
        if sowing.ended >= site.start:
            found.append(sowing)
        count += 1


def _sowing(way: Grow, site: Site, later: Step) -> Sowing:
    plant = way.plant
    sown = later.after(way.planted)
    best = best_sowing(way, site, sown)
    wait = plant.get("plant_back") or judgement("cover_crop_wait")
    full = date_after(
        min(sown, best) if plant.get("late_loss") else sown,
        plant.get("full_term") or judgement("cover_crop_term"),
    )
    ended = later.after(way.ended) if way.ended else full
    if way.next_planting is not None and not way.ended:
        ended = min(ended, later.after(way.next_planting) - timedelta(days=round(wait * DAYS_PER_YEAR)))
    ended = max(sown, ended)  # sown when its time is over already, it brings nothing
    return Sowing(best, sown, ended, date_after(ended, wait), _dry(way, sown, best, ended, full))


def _dry(way: Grow, sown: date, best: date, ended: date, full: date) -> float:
    """Return the dry mass [kg] on the land: the table's or the sample's, less what time it lacks.

    Plants with a published loss for late sowing lose by that; others grow in proportion to time.
    """
    area = way.area or 0.0
    if way.sample is not None:
        return mass_on(area, way.sample.dry)
    whole = mass_on(area, way.plant.get("dry_matter") or 0.0)
    loss = way.plant.get("late_loss")
    if loss is None:
        return whole * max(0.0, min(1.0, years_between(sown, ended) / years_between(sown, full)))
    late, early = years_between(best, sown), years_between(ended, full)
    return whole * growth.cover_crop_left(late, early, loss) if ended > sown else 0.0
