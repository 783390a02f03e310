"""A course draw by draw: what is put on stays, and what becomes of it goes by drawn figures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from barrowful.answers.course import Course
from barrowful.catalogue.rates import rate
from barrowful.ground import decay
from barrowful.ground.amount import mass_on
from barrowful.ground.soil import organic_matter
from barrowful.measures.dates import DAYS_PER_YEAR, years_between
from barrowful.measures.elementwise import at_most
from barrowful.planning.ranges.figures import Draws
from barrowful.planning.ranges.rows import GRAMS, PERCENT, Cells
from barrowful.site.records import Site
from barrowful.soil.application import Application
from barrowful.soil.history import base, done, followed, followed_depth, kept_since, net_nitrogen
from barrowful.soil.seasons import season_of
from barrowful.soil.turnover import soil_mass_at


class DrawnCourse:
    """A place followed draw by draw, by what likely is put on it."""

    def __init__(self, site: Site, draws: Draws, course: Course) -> None:
        self.site, self.place = site, (course.doses[0].place if course.doses else course.place)
        self.times = course.place.total_area / self.place.total_area if self.place.total_area else 1.0
        self.doses = [draws.dose(dose) for dose in (*done(site, self.place), *course.doses)]
        self.followed = followed(self.doses)
        self.soil, self.factor = (
            soil_mass_at(self.place, followed_depth(self.place)),
            rate("matter_per_carbon"),
        )
        self._season_nitrogen: dict[int, Any] = {}

    def on(self, day: date) -> Cells:
        """Return what there is on a day, by the keys of its columns."""
        there = [dose for dose in self.followed if dose.day <= day]
        area = self.place.total_area * self.times
        fresh = sum(dose.carbon * self._of(dose).left(_years(dose, day)) for dose in there)
        humus = sum(dose.carbon * self._of(dose).formed(_years(dose, day)) for dose in there)
        cells: Cells = {
            "mulch_m": self._mulch(day),
            "fresh_carbon_kg": mass_on(area, fresh),
            "humus_carbon_kg": mass_on(area, humus),
            "available_nitrogen_g": GRAMS * self.times * self._nitrogen(day),
        }
        return cells | self._matter(day, there)

    def _of(self, dose: Application) -> Any:
        return dose.response(self.site).turnovers.likely

    def _matter(self, day: date, there: Sequence[Application]) -> Cells:
        """Return soil organic matter [%], and what it would be with the mulch mixed in."""
        known = base(self.site, self.place, day)
        if known.matter is None:
            return {}
        since = known.day or self.site.start
        seen = [dose for dose in there if dose.day > since or (dose.decided and dose.day >= since)]
        kept = known.matter * kept_since(self.site, self.place, known, day).likely
        counted = sum(
            dose.carbon * self._of(dose).counted_by_days[(day - dose.day).days] for dose in seen if dose.dug
        )
        on_top = [dose for dose in seen if not dose.dug]
        mixed = sum(
            dose.carbon * (self._of(dose).left(_years(dose, day)) + self._of(dose).formed(_years(dose, day)))
            for dose in on_top
        )
        matter = organic_matter(kept, counted, self.soil, self.factor)
        cells = {"organic_matter_percent": PERCENT * at_most(matter, 1.0)}
        if on_top:
            whole = organic_matter(matter, mixed, self.soil, self.factor)
            cells["if_mixed_percent"] = PERCENT * at_most(whole, 1.0)
        return cells

    def _mulch(self, day: date) -> Any:
        """Return the settled depth of mulch [m]; a stated layer stands for the past ones."""
        stated, start = self.place.layer_now, self.site.start
        if stated == 0 or day < start:
            return sum(dose.depth(self.site, day) for dose in self.followed)
        depth = sum(dose.depth(self.site, day) for dose in self.followed if dose.decided)
        covers = (dose for dose in self.followed if dose.kind == "cover" and not dose.material.lacks("lasts"))
        cover = next(covers, None)
        if cover is None:
            return depth + (stated if day == start else 0.0)
        half = cover.response(self.site).half
        return depth + stated * decay.depth_left(half, years_between(start, day))

    def _nitrogen(self, day: date) -> Any:
        """Return the net nitrogen [kg] of the season of a day."""
        season = season_of(self.site, day)
        if season not in self._season_nitrogen:
            self._season_nitrogen[season] = net_nitrogen(self.site, self.doses, season)
        return self._season_nitrogen[season]


def course_cells(site: Site, draws: Draws, courses: Sequence[Course]) -> list[list[Cells]]:
    """Return what each point of some courses comes to; equal ground is worked out once."""
    known: dict[tuple[object, ...], list[Cells]] = {}
    cells = []
    for course in courses:
        key = id(course.doses) if course.doses else course.place.name, course.place.total_area
        if key not in known:
            followed_place = DrawnCourse(site, draws, course)
            known[key] = [followed_place.on(point.day) for point in course.points]
        cells.append(known[key])
    return cells


def _years(dose: Application, day: date) -> float:
    return (day - dose.day).days / DAYS_PER_YEAR
