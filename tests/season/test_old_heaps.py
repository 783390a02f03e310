"""Compost of a heap that was built before the season goes on without waiting for the next."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

import pytest
import yaml
from season_sites import bed, site_text

from barrowful.jobs.job import Job
from barrowful.jobs.season import Season, season
from barrowful.site.load import load

#: Of the heap of last summer there are about 0.43 m3 of compost from the winter on.
OLD = {"date": "2026-08-15", "way": "heap", "job": "built", "amount": "1.2 m3"}
HEAP = {
    "name": "heap",
    "make": {
        "bays": 2,
        "bay": "1.2 m3",
        "turn_every": "2 weeks",
        "from": [
            {"material": "arborist chip", "weekly": "60 L"},
            {"material": "grass clippings", "weekly": "120 L", "months": [4, 5, 6, 7, 8, 9]},
            {"material": "vegetable scraps", "weekly": "60 L"},
        ],
    },
}


def of(depth: str, *entries: dict[str, str], today: date | None = None, **more: Any) -> Season:
    """Return the season of a bed of 20 m2 dressed with compost of the heap."""
    text = site_text(places=[bed(dress={"depth": depth})], ways=[HEAP], **more)
    plain = {**yaml.safe_load(text), "history": [OLD, *entries]}
    return season(load(yaml.safe_dump(plain, sort_keys=False).encode(), "site.yaml").site, today=today)


def spread(found: Season) -> list[Job]:
    """Return the jobs that put compost on, by the plan's days."""
    return sorted((job for job in found.jobs if job.stuff is not None), key=lambda job: job.day)


def words(jobs: Iterable[Job]) -> set[str]:
    """Return the words of jobs."""
    return {job.job for job in jobs}


def test_what_lies_there_goes_on_at_once_and_the_rest_waits_for_the_next_heap() -> None:
    """0.60 m3 are wanted, 0.43 lie there: these go on at the start, the rest when the next heap is screened."""
    found = of("3 cm")
    first, rest = spread(found)
    assert first.loose == pytest.approx(0.43, abs=0.01)
    assert first.loose + (rest.loose or 0.0) == pytest.approx(0.60, rel=1e-6)
    assert first.after == []
    assert first.on == date(2027, 3, 1)
    assert words(rest.after) == {"screen"}
    assert not found.late


def test_a_line_for_more_than_lies_there_waits_for_the_next_heap() -> None:
    """What goes on in one line after the next heap is ready is of both, and waits for that."""
    line = {"place": "beds", "need": "dress", "way": "heap", "amount": "0.6 m3", "date": "2027-12-01"}
    [put] = spread(of("3 cm", plan=[line]))
    assert words(put.after) == {"screen"}


def test_a_later_dose_of_what_lies_there_waits_for_no_heap() -> None:
    """Two lines of 0.2 m3 are of the old heap though one is for a day on which the next is ready too."""
    lines = [
        {"place": "beds", "need": "dress", "way": "heap", "amount": amount, "date": day}
        for amount, day in (("0.2 m3", "2027-03-01"), ("0.2 m3", "2027-12-01"), ("0.2 m3", "2028-02-01"))
    ]
    found = of("3 cm", plan=lines)
    assert [words(put.after) for put in spread(found)] == [set(), set(), {"screen"}]


def test_old_compost_that_is_put_on_has_turned_no_new_heap() -> None:
    """The new heap, built two days before, is still to be turned and screened."""
    built = {"date": "2027-05-03", "way": "heap", "job": "built"}
    put = {"date": "2027-05-05", "place": "beds", "way": "heap", "amount": "430 L"}
    found = of("3 cm", built, put, today=date(2027, 5, 10))
    assert spread(found)[0].done == date(2027, 5, 5)
    assert all(job.done is None for job in found.jobs if job.job in {"turn", "screen"})
