"""Levelling against what is known of such schedules: hours kept to, windows kept to, and no better order."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrowful.costs.labour import Hours
from barrowful.jobs.job import Job
from barrowful.jobs.levelling import in_order, level

START = date(2027, 3, 1)
Plain = tuple[int, int, float]


def job(number: int, first: int, weeks: int, hours: float, after: list[Job] | None = None) -> Job:
    """Return a job whose window is whole weeks."""
    opens = START + timedelta(weeks=first)
    return Job(
        job="spread",
        place=f"place {number}",
        day=opens,
        first=opens,
        last=opens + timedelta(weeks=weeks) - timedelta(days=1),
        hours=Hours(hours, hours, hours) if hours else None,
        after=after or [],
    )


PLAIN = st.lists(
    st.tuples(st.integers(0, 6), st.integers(1, 4), st.sampled_from([0.0, 1.0, 2.5, 4.0, 9.0])), max_size=8
)


def can_be_done(plain: list[Plain], limit: float) -> bool:
    """Say whether some schedule keeps to all windows: no run of weeks may be asked for more than it has."""
    ends = range(12)
    return all(
        sum(hours for first, weeks, hours in plain if first >= a and first + weeks - 1 <= b)
        <= limit * (b - a + 1) + 1e-9
        for a in ends
        for b in ends[a:]
    )


@given(PLAIN, st.sampled_from([2.0, 5.0, 8.0]))
def test_all_is_done_in_time_where_that_can_be(plain: list[Plain], limit: float) -> None:
    """Every job is done in its window if any schedule does that, and no week takes more hours than there are."""
    jobs = [job(number, *each) for number, each in enumerate(plain)]
    weeks = level(jobs, START, limit)
    assert all(week.hours <= limit + 1e-9 for week in weeks)
    assert sum(week.hours for week in weeks) == pytest.approx(sum(hours for _, _, hours in plain))
    assert all(each.first <= each.on <= each.until for each in jobs)
    assert all(each.until <= each.last for each in jobs) == can_be_done(plain, limit)
    assert any(week.lacking for week in weeks) == any(each.slips for each in jobs)


@given(PLAIN, st.integers(0, 3))
def test_nothing_comes_before_what_it_waits_for(plain: list[Plain], lag: int) -> None:
    """In a chain each job begins when the one before it is done and its days have gone by."""
    jobs: list[Job] = []
    for number, each in enumerate(plain):
        jobs.append(job(number, *each, after=jobs[-1:]))
        jobs[-1].lag = lag
    level(jobs, START, 4.0)
    for before, after in pairwise(jobs):
        assert after.on >= before.until + timedelta(days=lag)
    assert in_order(jobs[::-1]) == jobs


@given(PLAIN)
def test_without_a_limit_each_is_done_at_once(plain: list[Plain]) -> None:
    """With hours enough every job is done on the first day it may be."""
    jobs = [job(number, *each) for number, each in enumerate(plain)]
    by_week: dict[date, float] = defaultdict(float)
    for each in jobs:
        by_week[each.first] += each.likely
    weeks = level(jobs, START, None)
    assert all(each.on == each.until == each.first for each in jobs)
    assert {week.first: week.hours for week in weeks} == pytest.approx(
        {day: of for day, of in by_week.items() if of}
    )


def test_the_week_and_the_hours_are_told() -> None:
    """Nine hours of work due within a week of six lack three at its end, and are done in the next."""
    [late] = jobs = [job(0, 0, 1, 9.0)]
    first, second = level(jobs, START, 6.0)
    assert (first.hours, first.lacking, second.hours) == (6.0, 3.0, 3.0)
    assert late.until == date(2027, 3, 11)  # half of the second week is gone with three of six hours
    assert late.slips == 4


def test_no_hours_at_all() -> None:
    """Where there are no hours nothing that takes any is done, and there is an end to looking."""
    idle, work = job(0, 0, 1, 0.0), job(1, 0, 1, 1.0)
    level([idle, work], START, 0.0)
    assert idle.until == START
    assert work.until == date.max


@pytest.mark.parametrize(("hours", "done"), [(0.2, "2027-03-08"), (0.6, "2027-04-12")])
def test_a_small_job_does_not_wait_for_what_is_late_anyhow(hours: float, done: str) -> None:
    """Of five hours a week 30 are late from the second on: what takes up to half an hour is done between."""
    late, small = job(0, 0, 1, 30.0), job(1, 1, 3, hours)
    level([late, small], START, 5.0)
    assert f"{small.on}" == done
    assert late.until >= date(2027, 4, 11)


@pytest.mark.parametrize(("place", "done"), [("", "2027-03-08"), ("plot", "2027-04-12")])
def test_what_a_way_asks_does_not_wait_for_a_mulch_that_is_late_anyhow(place: str, done: str) -> None:
    """Sowing has its days and goes before thirty hours of mulching that are late; a feed goes after them."""
    late, other = job(0, 0, 1, 30.0), job(1, 1, 3, 2.0)
    other.place = place
    level([late, other], START, 5.0)
    assert f"{other.on}" == done


def test_what_is_late_itself_goes_before_nothing() -> None:
    """What a way asks that is late too takes its turn by its last day."""
    late, other = job(0, 0, 1, 30.0), job(1, 0, 2, 14.0)
    other.place = ""
    level([late, other], START, 5.0)
    assert other.on == date(2027, 3, 8)
    assert late.until < other.until


def test_of_jobs_due_on_a_day_those_of_the_first_places_come_first() -> None:
    """Priority 1 goes before 3, and of places of one priority the small job before the large one."""
    many, few, young = job(1, 0, 4, 37.5), job(2, 0, 4, 6.0), job(3, 0, 4, 9.0)
    many.priority = few.priority = 3
    sooner = job(4, 0, 2, 3.0)
    sooner.priority = 3
    level([many, few, young, sooner], START, 1.5)
    assert sorted([many, few, young, sooner], key=lambda each: each.on) == [sooner, young, few, many]
