"""Jobs away from the ground: asking, ordering and taking in, and tests of the soil."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.answers.costs import collecting_hours
from barrowful.answers.order_lines import OrderLine
from barrowful.catalogue.judgements import judged_time
from barrowful.costs.order import Order, quantity_told
from barrowful.jobs.job import Job
from barrowful.needs.decision import Serving
from barrowful.site.job_names import base_of
from barrowful.site.needs import Need
from barrowful.site.records import Site
from barrowful.supplies.placing import PlacedOrder

SOIL_TEST = "soil test"
#: How long before its last day what is asked, tested or ordered may be: the name of a judgement.
AHEAD = {"ask": "ask_ahead", "test": "test_begun", "order": "order_ahead"}


def order_jobs(site: Site, line: OrderLine) -> list[Job]:
    """Return the jobs of an order: what to ask the seller, to order it, and to take it in or collect it."""
    way, start = line.way, site.start
    by = max(start, line.order_by)
    about: dict[str, Any] = {"way": way.name, "material": way.material.name}
    asked = Job(
        **about,
        job="ask",
        day=by,
        first=before(by, AHEAD["ask"], start),
        last=by,
        due=line.order_by,
        what=" ".join(question.text for question in line.questions),
    )
    ordered = Job(
        **about,
        job="order",
        day=by,
        first=before(by, AHEAD["order"], start),
        last=by,
        due=line.order_by,
        after=[asked],
    )
    came = _taking_in(line, about, ordered)
    order_as(ordered, came, line)
    return [asked, ordered, came]


def order_as(ordered: Job, came: Job, line: OrderLine) -> None:
    """Let a job order what a line has, and another take that in: how much, for what, in which hours."""
    ordered.amount = f"{quantity_told(line.order.quantity)} {line.order.unit}"
    ordered.cash = line.order.cash
    hours = collecting_hours([PlacedOrder(line.needed, line.way, line.order)])
    came.loose, came.trips = line.order.volume, line.order.trips
    came.hours = hours if hours.high else None
    came.what = ", ".join(filter(None, (_trips(line.order), line.drop)))


def _taking_in(line: OrderLine, about: Mapping[str, Any], ordered: Job) -> Job:
    """Return the job that takes in what is ordered, or collects it."""
    way, there = line.way, line.earliest or line.needed
    return Job(
        **about,
        job="collect" if way.collected else "delivery",
        day=there,
        first=there,
        last=there + judged_time("heap_waits"),
        due=None if line.earliest is None else line.needed,
        sold_by=way.sold_by,
        after=[ordered],
        gap=(way.lead.after(ordered.day) - ordered.day).days,
    )


def soil_tests(site: Site, served: Iterable[tuple[str, Serving, list[Job]]]) -> list[Job]:
    """Return the soil tests of what places get for kinds of need, with the jobs that put it on."""
    tested: dict[tuple[str, str], list[tuple[Serving, list[Job]]]] = {}
    for kind, serving, puts in served:
        if serving.doses and (not puts or not all(put.dropped for put in puts)):
            tested.setdefault((serving.place.name, kind), []).append((serving, puts))
    found = list[Job]()
    for (_, kind), of_place in tested.items():
        servings = [serving for serving, _ in of_place]
        need = servings[0].place.need(kind)
        if need is not None and need.soil_test:
            together = list(dict.fromkeys(put for _, puts in of_place for put in puts))
            found += _tests_of(site, servings, need, together)
    return found


def _tests_of(site: Site, servings: Sequence[Serving], need: Need, puts: list[Job]) -> list[Job]:
    """Return the soil tests of a need of a place: an old one done anew before, and what came of it.

    The second is one for all that is put on for it, by whatever ways and lines. It waits until the last of
    that no longer misleads, and for the day the need is to be met by; the jobs that put it on come before it.
    """
    place = servings[0].place
    about: dict[str, Any] = {
        "job": SOIL_TEST,
        "place": place.name,
        "need": need.kind,
        "amount": need.soil_test,
    }
    days = [dose.day for serving in servings for dose in serving.doses]
    tested, first, tests = place.soil.tested, min(days), list[Job]()
    if tested is not None and first - tested > judged_time("soil_test_lasts"):
        tests.append(Job(**about, day=site.start, first=site.start, last=max(site.start, first)))
    settles = judged_time("soil_test_settles")
    settled = max((job.first for job in puts), default=max(days)) + settles
    day = max([settled, need.due or settled, *(of.ready_on for of in servings if of.ready_on)])
    if day <= site.end:
        last = day + judged_time("soil_test_waits")
        tests.append(Job(**about, day=day, first=day, last=last, after=puts, gap=settles.days))
    return tests


def lead_tests(site: Site, jobs: Iterable[Job]) -> list[Job]:
    """Return the test of made ground for lead, before anything goes on it: none where one was done already.

    A soil test of no one place in the history was of the whole site, which is this one.
    """
    puts = [job.first for job in jobs if job.place and job.loose]
    before = (of for of in site.history if of.day < site.start and not of.place)
    tested = any(base_of(of.job.casefold()) == SOIL_TEST for of in before)
    if not site.made_ground or not puts or tested:
        return []
    last = max(site.start, min(puts))
    return [Job(job=SOIL_TEST, amount="lead", day=site.start, first=site.start, last=last)]


def _trips(order: Order) -> str:
    return f"{order.trips} trips" if order.trips > 1 else ""


def before(day: date, ahead: str, start: date) -> date:
    """Return the day a judged time before another, but not before a start."""
    return max(start, day - judged_time(ahead))
