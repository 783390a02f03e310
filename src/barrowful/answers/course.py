"""Courses of a whole site: for the chosen ways, one way, every way, or the past alone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from barrowful.answers.combined import doses_of
from barrowful.answers.options import Answer, Option
from barrowful.answers.orders import Decisions, decide
from barrowful.catalogue.judgements import judgement
from barrowful.measures.dates import Step
from barrowful.measures.problems import CannotMeet
from barrowful.site.records import Place, Site
from barrowful.soil.history import Application, base, done, followed_depth
from barrowful.soil.other_models import other_models
from barrowful.soil.trajectory import Point, days_of, follow
from barrowful.soil.turnover import soil_mass_at


@dataclass(frozen=True)
class Course:
    """One place followed under a way (or the chosen ways): its points and what others make of it."""

    title: str
    place: Place
    points: list[Point]
    others: dict[str, tuple[date, float]]
    remark: str


@dataclass(frozen=True)
class CourseRequest:
    """What a course is asked for: steps, length, whether the past is shown, and whose doses."""

    monthly: bool = False
    years: int | None = None
    from_history: bool = False
    way: str = ""
    every_way: bool = False


def course(site: Site, asked: CourseRequest) -> tuple[Decisions, list[Course]]:
    """Return what is followed, and the courses of every place with a need or a past."""
    said = decide(site, asked.way)
    first = min((one.day for one in site.history), default=None) if asked.from_history else None
    days = days_of(site, asked.monthly, asked.years, first)
    found = []
    for title, rows in _groups(said, asked):
        doses = _puts(said.answer, rows)
        for place in site.places:
            applications = doses.get(place.name, [])
            if applications or done(site, place):
                found.append(_one(site, title, place, applications, days, rows))
    if not found:
        raise CannotMeet("nothing is put on any place: no way serves a need, and there is no history")
    return said, found


def _groups(said: Decisions, asked: CourseRequest) -> list[tuple[str, list[Option]]]:
    if not asked.every_way:
        return [(said.title, said.chosen)]
    rows = said.answer.options
    names = dict.fromkeys(row.way.name for row in rows if row.plan.doses)
    return [(name, [row for row in rows if row.way.name == name]) for name in names]


def _puts(answer: Answer, rows: list[Option]) -> dict[str, list[Application]]:
    """Return planned applications by place, each way's doses shared between the needs it serves.

    A fill makes the ground itself; it is not followed.
    """
    found: dict[str, list[Application]] = {}
    for name, doses in doses_of(answer, rows).items():
        for dose in doses:
            if dose.need.kind != "fill":
                put = Application(
                    dose.day,
                    answer.supplies[name].material,
                    dose.loose,
                    dose.need.dug,
                    covers=dose.need.kind == "cover",
                )
                found.setdefault(dose.place.name, []).append(put)
    return {name: sorted(applications, key=lambda put: put.day) for name, applications in found.items()}


def _one(
    site: Site,
    title: str,
    place: Place,
    applications: list[Application],
    days: list[date],
    rows: list[Option],
) -> Course:
    then = Step(months=12 * round(judgement("other_models_ahead"))).after(site.start)
    mass = soil_mass_at(place, followed_depth(place))
    others: dict[str, tuple[date, float]] = {}
    if place.soil.organic_matter is not None and any(put.dug for put in applications):
        start = base(site, place, site.start).matter
        ours = follow(site, place, applications, [then])[0].matter
        said = other_models(site, place, applications, then, mass, start)
        others = {name: (then, share) for name, share in said.items()}
        others |= {"barrowful": (then, ours[1])} if ours else {}
    remarks = [row.plan.why_not for row in rows if place in row.places and row.plan.why_not]
    return Course(
        title, place, follow(site, place, applications, days), others, "; ".join(dict.fromkeys(remarks))
    )
