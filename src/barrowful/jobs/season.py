"""The season of a site: every job of what is followed, on days that suit it, in weeks that have the hours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import cached_property
from typing import Any

from barrowful.answers.begun_plan import before_start
from barrowful.answers.order_lines import OrderLine
from barrowful.answers.orders import Selection, Sheet, sheet
from barrowful.jobs.cautioned import Cautioned
from barrowful.jobs.chores import Chores
from barrowful.jobs.done import with_done
from barrowful.jobs.errands import lead_tests
from barrowful.jobs.job import Job
from barrowful.jobs.late_layers import top_up_later
from barrowful.jobs.levelling import Week, in_order, level
from barrowful.jobs.missed import done_of
from barrowful.jobs.open_orders import order_what_is_open
from barrowful.jobs.pairs import (
    dig_before_mulch,
    feed_under_mulch,
    mix_as_they_go_in,
    wait_for_done,
)
from barrowful.jobs.parts import tell_parts
from barrowful.jobs.put_on_beside import count_beside
from barrowful.jobs.puts import PutKey
from barrowful.jobs.safe import PutOff, lapse, put_of, without_dropped
from barrowful.jobs.tested import Begun, begun_tests, weedkiller_tests
from barrowful.jobs.trips import bring_in_time, come_together, no_later_than_used, on_one_day
from barrowful.jobs.twelve_months import Apart, too_near
from barrowful.measures.fixed import fixed
from barrowful.needs.decision import Serving
from barrowful.site.records import Site
from barrowful.soil.application import Application
from barrowful.supplies.heap.heaps import heaps_as_built
from barrowful.supplies.supply import Supply


@fixed
class Season:
    """Jobs in the order of their days, the weeks they take, and when all is ready by them."""

    site: Site  #: with all its history
    selection: Selection
    jobs: list[Job]
    weeks: list[Week]
    ready_on: date | None
    put_off: list[tuple[Job, date]]  #: wait until the crop is off, with the last safe day they missed
    apart: list[tuple[Job, Apart]]  #: wait as they would come too near a dose before
    dropped: list[Job]  #: have no safe day left that serves, or are done for such alone
    as_built: Mapping[str, Supply[Any]]  #: heaps of which something was built since the start, by name

    @cached_property
    def _put_on(self) -> dict[PutKey, date]:
        return {put_of(job): job.on for job in self.jobs if job.stuff is not None}

    def put_on(self, dose: Application) -> date | None:
        """Return the day on which a dose is put on with its job; None where it is not done."""
        return self._put_on.get((dose.place.name, dose.kind, dose.way, dose.day))

    @property
    def late(self) -> list[Job]:
        """Return the jobs that will be done after the last day that still does, the latest first."""
        late = (job for job in self.jobs if job.slips and job.done is None)
        return sorted(late, key=lambda job: (-job.slips, job.name))


def season(
    site: Site, way: str = "", partial: bool = False, today: date | None = None, orders: Sheet | None = None
) -> Season:
    """Return the season of what is followed: the plan, one way, or the cheapest for each need.

    It is decided on the start, so that a job that is done since changes no other. What is not done yet
    is to be done from ``today`` on. ``orders`` is the sheet of the same site, where it stands already: it
    serves as long as nothing was done since the start.
    """
    before = before_start(site)
    if orders is None or before is not site:
        orders = sheet(before, way, partial)
    as_built = heaps_as_built(orders.selection.answer.supplies, site)
    cautioned = Cautioned(orders.selection.answer, orders.selection.chosen, as_built)
    found = _safe(orders.selection, orders.lines, cautioned, site, today)
    for job in (*found.jobs, *found.dropped):
        job.cautions = tuple(caution.key for caution in cautioned.of(job))
    return found


def left_of_plan(site: Site, day: date) -> dict[PutKey, float]:
    """Return what is left [m3] of what a plan puts on, where it may still be done on a day and will do."""
    jobs = season(site, today=day).jobs if site.plan else []
    return {
        put_of(job): job.left
        for job in jobs
        if job.stuff is not None and job.place and job.done is None and job.left and job.by >= day
    }


def as_followed(selection: Selection, lines: Sequence[OrderLine]) -> Season:
    """Return the season of what is followed and ordered, with nothing done of it and no cautions of jobs."""
    site = selection.answer.site
    cautioned = Cautioned(selection.answer, selection.chosen)
    return _safe(selection, lines, cautioned, before_start(site), None)


def _safe(
    selection: Selection, lines: Sequence[OrderLine], cautioned: Cautioned, site: Site, today: date | None
) -> Season:
    """Return the season of what is followed, with what the history of a site has done of it.

    What misses its last safe day for want of hours, or of days, is put off, and what comes too near a dose
    before it by a ceiling on twelve months waits: all jobs are made anew. So they are for a test that was
    begun, as what waits for it goes by the day of that.
    """
    put_off, apart, begun = PutOff(), dict[PutKey, Apart](), Begun()
    while True:
        found = _made(selection, lines, cautioned, site, today, put_off, apart, begun)
        logged = begun_tests(found.jobs)
        if logged.keys() - begun.keys():
            begun |= logged
        elif not put_off.takes(found.jobs, site.end):
            near = dict(too_near(found.jobs, selection.answer.site, site))
            if not near:
                return found
            apart |= near


def _made(
    selection: Selection,
    lines: Sequence[OrderLine],
    cautioned: Cautioned,
    site: Site,
    today: date | None,
    put_off: PutOff,
    apart: Mapping[PutKey, Apart],
    begun: Begun,
) -> Season:
    """Return the season of what is followed with some jobs put off, or kept apart."""
    made = Chores(selection.whole, lines, cautioned.as_built, put_off.whole, apart)
    jobs = with_done(_all_of(made, cautioned, site, today, begun), site, made.as_built)
    count_beside(jobs, selection.answer.site, site)
    wait_for_done(jobs, site)
    top_up_later(jobs, today, site.end)
    if today is not None:
        _from(today, jobs, site)
    put_off.rest_waits(jobs, site)
    tell_parts(jobs, site)
    jobs, dropped = without_dropped(jobs)
    jobs = order_what_is_open(made, jobs, dropped, site)
    come_together(jobs)
    no_later_than_used(jobs)
    weeks = level(jobs, site.start, site.labour.hours_per_week)
    on_one_day(jobs)
    mix_as_they_go_in(jobs)
    turn = {id(job): number for number, job in enumerate(in_order(jobs))}
    return Season(
        site=site,
        selection=selection,
        jobs=sorted(jobs, key=lambda job: (job.on, job.until, turn[id(job)])),
        weeks=weeks,
        ready_on=_ready(selection, jobs, dropped),
        put_off=put_off.told(jobs),
        apart=[(job, apart[put_of(job)]) for job in jobs if job.stuff is not None and put_of(job) in apart],
        dropped=dropped,
        as_built=cautioned.as_built,
    )


def _all_of(made: Chores, cautioned: Cautioned, site: Site, today: date | None, begun: Begun) -> list[Job]:
    """Return the jobs of chores as they bear on each other, with those of heaps built beside and tests."""
    made.add_built(site)
    chores = made.jobs
    bring_in_time(chores)
    tests = weedkiller_tests(chores, cautioned, site, today, begun)
    feed_under_mulch(chores, site)
    dig_before_mulch(chores)
    bring_in_time(chores)  # once more, for what a mulch waits with
    return [*chores, *tests, *lead_tests(site, chores)]


def _from(today: date, jobs: Sequence[Job], site: Site) -> None:
    """Let what is not done be done from a day on, but for what that is too late for."""
    lapse(jobs, site, today)
    for job in jobs:
        if job.done is None:
            job.not_before(today)


def _ready(selection: Selection, jobs: Sequence[Job], dropped: Iterable[Job]) -> date | None:
    """Return the day the last need that is met is ready: its own day, and its jobs done.

    What something is ``dropped`` of, or left off, is not met.
    """
    lacking = (*dropped, *(job for job in jobs if job.left_off))
    done, unmet = done_of(jobs), {id(serving) for job in lacking for serving in job.serves}
    servings: list[Serving] = [
        serving
        for part in selection.whole.together.parts
        for serving in part.decision.servings
        if serving.met and serving.ready_on is not None and id(serving) not in unmet
    ]
    days = [done.get(id(of), date.min) for of in servings]
    last = max([*days, selection.whole.ready_on or date.min], default=None) if servings else None
    return None if last == date.max else last
