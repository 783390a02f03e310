"""A heap that is built smaller or later than planned: its steps and its harvest wait go by what was built."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
import yaml
from season_sites import bed, site_text

from barrowful.jobs.job import Job, steps_of
from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.needs.harvests import wait_of, waited
from barrowful.site.load import load
from barrowful.site.records import Site
from barrowful.supplies.heap.heaps import heaps_of
from barrowful.supplies.registry import supplies

#: Straw and horse manure in bays of a cubic metre: a full one is turned and gets hot.
HEAP = {
    "name": "heap",
    "make": {
        "bays": 2,
        "bay": "1 m3",
        "turn_every": "2 weeks",
        "from": [
            {"material": "straw", "weekly": "80 L"},
            {"material": "horse manure", "weekly": "110 L"},
        ],
    },
}
BEDS = {**bed(dress={"depth": "1 cm"}), "harvest_from": "06-20"}
BUILT = {"job": "build, heap, 1", "way": "heap", "date": "2027-09-20"}
SMALL = {**BUILT, "amount": "0.3 m3"}


def built(*entries: dict[str, str], today: date | None = None, **more: Any) -> tuple[Season, Site]:
    """Return the season of a site with a history, and the site."""
    text = site_text(**{"places": [BEDS], "ways": [HEAP], "horizon": "3 years", **more})
    plain = {**yaml.safe_load(text), "history": list(entries)}
    site = load(yaml.safe_dump(plain, sort_keys=False).encode(), "site.yaml").site
    return season(site, today=today), site


def steps(found: Season) -> dict[str, list[Job]]:
    """Return the later steps of the first heap, by their words."""
    [first] = [job for job in found.jobs if job.name == "build, heap, 1"]
    named: dict[str, list[Job]] = {}
    for job in steps_of(first, found.jobs):
        named.setdefault(job.job, []).append(job)
    return named


def ready(site: Site) -> date:
    """Return the day on which the first heap that was built is compost."""
    [heap] = heaps_of(supplies(site).values())
    return heap.recorded[0].ready[1]


def put_on(found: Season) -> list[Job]:
    """Return the jobs that put compost of the heap on."""
    return [job for job in found.jobs if job.stuff is not None]


def test_a_heap_too_small_to_heat_is_not_turned_and_is_emptied_when_it_is_compost() -> None:
    """0.3 m3 gain nothing by turning: no turns, no readings, and the year that such a heap takes."""
    found, site = built(SMALL, today=date(2027, 9, 21))
    of_heap = steps(found)
    assert set(of_heap) == {"empty"}
    assert of_heap["empty"][0].on == ready(site) > date(2028, 6, 1)
    assert of_heap["empty"][0].slips == 0
    assert set(steps(built()[0])) == {"temperature", "turn", "empty"}


def test_turns_that_were_made_of_a_small_heap_stay() -> None:
    """What is done is done; the turns not made are left out, and the heap is as soon ready as without."""
    turned = {"job": "turned", "way": "heap", "date": "2027-10-04"}
    found, site = built(SMALL, turned, today=date(2027, 10, 5))
    of_heap = steps(found)
    assert [job.done for job in of_heap["turn"]] == [date(2027, 10, 4)]
    assert of_heap["empty"][0].on == ready(site)


def test_a_full_heap_built_late_is_late_in_nothing_after() -> None:
    """Its turns come every two weeks from the day it was built, and the days they are due by go with it."""
    found, site = built({**BUILT, "amount": "1 m3"}, today=date(2027, 9, 21))
    of_heap = steps(found)
    for number, turn in enumerate(of_heap["turn"], 1):
        assert turn.on == date(2027, 9, 20) + timedelta(weeks=2 * number)
    assert of_heap["empty"][0].on == ready(site)
    assert {step.slips for of in of_heap.values() for step in of} == {0}


@pytest.mark.parametrize("today", [date(2027, 9, 21), date(2028, 3, 1), date(2028, 5, 5)])
def test_compost_of_a_small_heap_of_manure_waits_for_the_harvest(today: date) -> None:
    """Nothing says that it gets hot: what is not put on yet of any batch keeps the wait of raw manure."""
    found, site = built(SMALL, today=today)
    puts = put_on(found)
    assert puts
    for job in puts:
        assert job.stuff is not None
        assert job.stuff.has("raw")
        wait = wait_of(site, site.place("beds"), "dress", bool(job.dug), job.stuff)
        assert waited(wait, job.on) == job.on
        assert waited(wait, job.until) == job.until
        assert "raw-manure-wait" in job.cautions
    assert any("waits for a harvest as raw manure does" in line for line in sentences(found))


def test_a_full_heap_of_manure_does_not_wait() -> None:
    """As built in full it is turned and large enough to heat; so it was planned."""
    for entry in (BUILT, {**BUILT, "amount": "1 m3"}):
        found, _ = built(entry, today=date(2027, 9, 21))
        for job in put_on(found):
            assert job.stuff is not None
            assert not job.stuff.has("raw")
            assert "raw-manure-wait" not in job.cautions


def test_the_next_heap_takes_the_bay_that_is_free_first() -> None:
    """A small heap fills its bay for a year; the third goes into the other bay, once that is emptied."""
    needs = {**bed(dress={"depth": "6 cm"}), "harvest_from": "06-20"}
    found, _ = built(SMALL, today=date(2027, 9, 21), places=[needs])
    third = next(job for job in found.jobs if job.name == "build, heap, 3")
    assert third.on < steps(found)["empty"][0].on


def test_of_a_smaller_heap_as_much_less_is_put_on_and_no_more() -> None:
    """Of 0.3 m3 where 1 m3 was to be, a dose of two batches lacks what the first does not bring of it."""
    line = {"place": "beds", "need": "dress", "way": "heap", "amount": "0.8 m3", "date": "2027-12-01"}
    ground = {**bed(dress={"depth": "5 cm"}), "harvest_from": "06-20"}
    more = {"places": [ground], "plan": [line]}
    [whole], [short] = put_on(built(**more)[0]), put_on(built(SMALL, today=date(2027, 9, 21), **more)[0])
    brings = [part.of.brings or 0.0 for part in whole.drawn]
    assert [part.loose for part in whole.drawn] == pytest.approx([brings[0], 0.8 - brings[0]])
    [build] = [job for job in built()[0].jobs if job.name == "build, heap, 1"]
    lacking = brings[0] * (1 - 0.3 / (build.loose or 0.0))
    assert short.loose == pytest.approx(0.8 - lacking)
    assert len(short.drawn) == 2
    assert {job.name for job in short.after} >= {"empty, heap, 1", "empty, heap, 2"}
    assert short.hours is not None
    assert whole.hours is not None
    assert short.hours.likely == pytest.approx(whole.hours.likely * (0.8 - lacking) / 0.8)


def test_a_smaller_heap_that_brings_enough_takes_nothing_off() -> None:
    """A dose of 0.05 m3 has enough of the smaller heap, and is told nothing of it."""
    line = {"place": "beds", "need": "dress", "way": "heap", "amount": "0.05 m3", "date": "2027-12-01"}
    found, _ = built(SMALL, today=date(2027, 9, 21), plan=[line])
    [put] = put_on(found)
    assert put.loose == pytest.approx(0.05)
    assert not any("less" in line for line in put.told)
