"""Courses of a whole site: for the chosen ways, one way, every way, or the past alone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from barrowful.answers.begun_plan import with_what_nothing_replaces
from barrowful.answers.choices import WholeSite, of_way
from barrowful.answers.orders import Selection, decide
from barrowful.catalogue.judgements import judgement
from barrowful.measures.dates import Step
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import CannotMeet, WrongUse
from barrowful.needs.cover import Covering
from barrowful.needs.registry import NEEDS
from barrowful.needs.settled import Sort, sort_with
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import base, done, followed, followed_depth, kept_since
from barrowful.soil.other_models import other_models
from barrowful.soil.trajectory import Point, Tested, days_of, follow, last_test, matter_on
from barrowful.soil.turnover import soil_mass_at

#: Longer courses than this are refused, by months or by ways and else: settings of the machine.
MOST_LINES, MOST_YEARLY_LINES = 20_000, 100_000


@fixed(kw_only=False, eq=True)
class Course:
    """One place followed under a way (or the chosen ways): its points and what others make of it."""

    title: str
    place: Place
    points: list[Point]
    others: dict[str, tuple[date, float]]
    doses: Sequence[Application] = ()  #: decided, on the ground that was worked out, covers kept up
    remark: str = ""
    tested: Tested | None = None  #: the last soil test that saw something dug in

    def on(self, place: Place, remark: str) -> Course:
        """Return the course of equal ground of another size, with why needs of it are not met."""
        points = self.points if place is self.place else [point.on(place) for point in self.points]
        return Course(self.title, place, points, self.others, self.doses, remark, self.tested)


@fixed(kw_only=False, eq=True)
class CourseRequest:
    """What a course is asked for: steps, length, whether the past is shown, and whose doses."""

    monthly: bool = False
    years: int | None = None
    from_history: bool = False
    way: str = ""
    every_way: bool = False


def course(site: Site, asked: CourseRequest) -> tuple[Selection, list[Course]]:
    """Return what is followed, and the courses of every place with a need or a past."""
    return course_of(decide(site, asked.way), asked)


def course_of(said: Selection, asked: CourseRequest) -> tuple[Selection, list[Course]]:
    """Return the same for what is followed already."""
    site = site_followed(said)
    first = min((one.day for one in site.history), default=site.start) if asked.from_history else site.start
    days = days_of(site, asked.monthly, asked.years, min(first, site.start))
    followed = [
        (title, remarks, place, doses.get(place.name, []))
        for title, whole in ((whole.title, whole) for whole in _groups(said, asked))
        for doses, remarks in [(_followed(whole), _remarks(whole))]
        for place in site.places
        if place.name in doses or done(site, place)
    ]
    _check_length(len(followed) * len(days), asked)
    alike: dict[Sort, Course] = {}
    found = []
    for title, remarks, place, doses in followed:
        because = "; ".join(dict.fromkeys(remarks.get(place.name, [])))
        key = (title, *sort_with(site.sorts, place, doses)) if place.total_area else (title, place.name)
        if key not in alike:
            alike[key] = _course(site, title, place, doses, days)
        found.append(alike[key].on(place, because))
    if not found:
        raise CannotMeet(_nothing(said))
    return replace(said, warnings=[*said.warnings, *_beyond(found), *_undated(site)]), found


def site_followed(said: Selection) -> Site:
    """Return the site that courses are of: in its history is what nothing that is followed is for again."""
    site = said.answer.site
    doses = said.whole.together.all_doses
    return site if said.file is None else with_what_nothing_replaces(site, said.file, doses)


def _nothing(said: Selection) -> str:
    """Return why there is no course of any place."""
    if said.whole.together.all_doses:
        return "nothing to follow: all that is put on fills places, and what fills a place is its ground"
    return "nothing is put on any place: no way serves a need, and there is no history"


def _check_length(lines: int, asked: CourseRequest) -> None:
    """Refuse a course longer than anybody reads; the answer would take minutes."""
    most = MOST_LINES if asked.monthly or asked.every_way else MOST_YEARLY_LINES
    if lines <= most:
        return
    ways = [
        *(["one way"] if asked.every_way else []),
        *(["years instead of months"] if asked.monthly else []),
        "fewer years",
    ]
    shorter = f"{', '.join(ways[:-1])} or {ways[-1]}" if len(ways) > 1 else ways[0]
    raise WrongUse(f"this course has {lines:,} lines, more than {most:,}; ask for {shorter}")


def _beyond(found: list[Course]) -> list[str]:
    """Say once where soil organic matter comes to more than the soil, worst place first."""
    points = [point for one in found for point in one.points if point.beyond is not None]
    if not points:
        return []
    worst = max(points, key=lambda point: point.beyond or 0.0)
    more = len({point.place.name for point in points}) - 1
    also = f" (and in {more} more places)" if more > 1 else " (and in one more place)" if more else ""
    return [
        f"{worst.place.name}: soil organic matter comes to {worst.beyond or 0.0:,.0%} on {worst.day}{also},"
        " which cannot be: look at the amounts put on, the area, and the soil's bulk density and stones"
    ]


def _undated(site: Site) -> list[str]:
    """Say once where what was dug in leaves organic matter as it is, because the soil has no date."""
    unseen: dict[str, int] = {}
    for place in site.places:
        known = base(site, place, site.start)
        if known.matter is not None and known.day is None:
            unseen[place.name] = sum(put.dug and put.day <= site.start for put in done(site, place))
    places = [name for name, count in unseen.items() if count]
    if not places:
        return []
    worst = max(places, key=lambda name: unseen[name])
    entries = "1 entry" if unseen[worst] == 1 else f"{unseen[worst]} entries"
    more = f" (and in {len(places) - 1} more)" if len(places) > 1 else ""
    return [
        f"{worst}{more}: the soil has no date, so it is taken as of {site.start} and does not rise by what"
        f" was dug in before ({entries} of the history); give the date of its test under"
        ' "soil:", e.g. tested: 2026-09-10'
    ]


def _groups(said: Selection, asked: CourseRequest) -> list[WholeSite]:
    """Return what is followed, or each way by itself as far as it goes."""
    if not asked.every_way:
        return [said.whole]
    rows = said.answer.options
    names = dict.fromkeys(dose.way for row in rows for dose in row.decision.doses)
    return [of_way(said.answer, name, partial=True) for name in names]


def _followed(whole: WholeSite) -> dict[str, list[Application]]:
    """Return the doses to follow by place: what a place is filled with where it is fed."""
    places: dict[str, list[Application]] = {}
    for dose in whole.together.all_doses:
        if not NEEDS[dose.kind].makes_ground or dose.place.need("feed") is not None:
            places.setdefault(dose.place.name, []).append(dose)
    return {name: sorted(doses, key=lambda dose: dose.day) for name, doses in places.items()}


def _remarks(whole: WholeSite) -> dict[str, list[str]]:
    """Return why needs are not met, by the names of the places they are of."""
    remarks: dict[str, list[str]] = defaultdict(list)
    for (_, name), serving in whole.together.unmet.items():
        remarks[name].append(serving.why_not)
    return remarks


def _course(
    site: Site, title: str, place: Place, applications: list[Application], days: list[date]
) -> Course:
    covering, then = Covering(), Step(months=12 * round(judgement("other_models_ahead"))).after(site.start)
    mass = soil_mass_at(place, followed_depth(place))
    others: dict[str, tuple[date, float]] = {}
    known = base(site, place, site.start)
    if known.matter is not None and any(dose.dug for dose in followed(applications)):
        start = known.matter * kept_since(site, place, known, then).likely
        ours = matter_on(site, place, applications, then)  # covers that are kept up do not count in it
        said = other_models(site, place, applications, then, mass, start)
        others = {name: (then, share) for name, share in said.items() if share <= 1}
        others |= {} if ours is None else {"barrowful": (then, ours)}
    kept_up = covering.kept_up(site, applications, days[-1])
    tested = last_test(site, place, days[-1])
    return Course(title, place, follow(site, place, kept_up, days), others, kept_up, tested=tested)
