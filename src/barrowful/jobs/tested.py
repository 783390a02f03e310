"""Tests of stuff for weedkiller: ahead of where it is put on, and of a sample ahead of its order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from barrowful.catalogue.judgements import judged_time
from barrowful.jobs.cautioned import Cautioned
from barrowful.jobs.errands import AHEAD, before
from barrowful.jobs.job import BRINGS, BUILD, Job, steps_of
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Site

TEST = "test"
SAMPLE = "of a sample from the seller"
#: What is said of an order that is placed before the test of a sample is done.
UNTESTED = "There is no time to test a sample first: use none of it before its test has come out well."


#: The tests that the history has as begun, by their way and the day they were to be: the day they were.
Begun = dict[tuple[str, date], date]


def begun_tests(jobs: Iterable[Job]) -> Begun:
    """Return the tests of stuff that a history has as begun, and when each was."""
    logged = (job for job in jobs if job.job == TEST and job.entries)
    return {(job.way, job.day): min(entry.day for entry in job.entries) for job in logged}


def weedkiller_tests(
    jobs: Sequence[Job], cautioned: Cautioned, site: Site, today: date | None, begun: Begun
) -> list[Job]:
    """Return a test of each delivery of stuff that may hold weedkiller, ahead of where it is used first.

    What it is put on for, and the heap it goes into, waits until it is done, where that is still in time:
    counted from the day on which it was begun, where it was.
    """
    puts = [job for job in jobs if job.loose is not None and job.place and not job.dropped]
    together: dict[tuple[str, str, date], list[Job]] = defaultdict(list)
    lots: dict[tuple[str, date], list[Job]] = defaultdict(list)
    for put in puts:
        if NEEDS[put.need].makes_ground:
            together[put.place, put.need, put.day].append(put)
        lots[put.way, put.came or put.day].append(put)
    for built in (job for job in jobs if job.job == BUILD):
        for came in (of for of in built.after if of.job in BRINGS):
            lots[came.way, came.day].append(built)
    tests = []
    for (way, _), of_lot in lots.items():
        first = min(of_lot, key=lambda put: (put.first, put.day))
        test = _test(way, first, cautioned, site.start, begun)
        if test is not None:
            mixed = [job for put in of_lot for job in together[put.place, put.need, put.day]]
            if _wait_for(test, dict.fromkeys([*of_lot, *mixed])):
                tests.append(test)
                if test.what == SAMPLE:
                    days = site.start, today or site.start
                    _order_after(test, brought_by(first, test.way), jobs, days, begun)
                for built in (job for job in of_lot if job.job == BUILD):
                    _build_later(built, jobs)
    return tests


def _test(way: str, put: Job, cautioned: Cautioned, start: date, begun: Begun) -> Job | None:
    """Return the test of a way's stuff ahead of its use, where a caution asks for one: its days go first."""
    brought = brought_by(put, way)
    material = next((came.material for came in brought), put.material)
    test = Job(job=TEST, way=way, material=material, day=put.first, first=put.first, last=put.first)
    test.lag = max((caution.days_before for caution in cautioned.of(test)), default=0)
    if not test.lag:
        return None
    last = put.first - timedelta(days=test.lag)
    test.first = max(start, last - judged_time(AHEAD[TEST]))
    test.last = test.day = max(test.first, last)
    if not put.bought and put.came is not None:  # one's own is tested once it is there
        test.first, test.last = max(test.first, put.came), max(test.last, put.came)
    test.what = SAMPLE if any(came.first > test.last for came in brought) else ""
    if since := begun.get((way, test.day)):
        test.first = test.last = since
    return test


def brought_by(put: Job, way: str) -> list[Job]:
    """Return the jobs that bring what is used of a way."""
    return [job for job in put.after if job.way == way and job.job in BRINGS]


def _order_after(
    test: Job, brought: Iterable[Job], jobs: Sequence[Job], days: tuple[date, date], begun: Begun
) -> None:
    """Let what is tested by a sample be ordered once the result is there, where it comes in time then.

    It is in time where all that is done with it still may be, its test being begun on the later of two days
    at the soonest: the start and today, or the day on which it was ``begun``. Else the order says that it
    comes untested. What the seller brings with it comes with it still.
    """
    start, today = days
    since = begun.get((test.way, test.day))
    came = max(brought, key=lambda job: job.first)
    [ordered], lag = came.after, timedelta(days=test.lag)
    together = [job for job in jobs if job.sold_by == came.sold_by and job.day == came.day]
    asked, last = ordered.after[0], max(start, ordered.last - lag)
    first = since or before(last, AHEAD[TEST], start)
    result = first + lag
    latest = [job.last - timedelta(days=of.gap) for of in together for job in jobs if of in job.after]
    test.after = [asked]
    if max(result, (since or today) + lag) > min(latest):
        ordered.told = (*ordered.told, UNTESTED)
        return
    asked.first, asked.last = before(last, AHEAD[asked.job], start), last
    test.first, test.last = first, since or last
    later = max(timedelta(), *(result - order.last for of in together for order in of.after))
    for of in together:
        [order] = of.after
        order.after = [*order.after, test]
        order.put_off(later)
        of.put_off(later)
        order.first = max(order.first, result)


def _build_later(built: Job, jobs: Sequence[Job]) -> None:
    """Let a heap be built when its stuff is tested and there, and all its later steps be as much later."""
    there = (before.first + timedelta(days=before.lag) for before in built.after)
    later = max(there, default=built.first) - built.first
    if later > timedelta():
        built.first += later
        for step in steps_of(built, jobs):
            step.put_off(later)


def _wait_for(test: Job, puts: Iterable[Job]) -> bool:
    """Let what is put on wait for a test where that is in time, else say it is not; say if any waits."""
    waits, done = False, test.first + timedelta(days=test.lag)
    for put in puts:
        if done <= put.last:
            put.after, waits = [*put.after, test], True
        else:
            asked = ": ask the seller for the result of one" if put.bought or put.job == BUILD else ""
            put.untested = test.lag if put.way == test.way else 0
            of = f" of {test.way}" if put.job == BUILD else ""
            short = f"There is no time for a test{of} of {test.lag} days{asked}."
            put.told = (*put.told, short)
    return waits
